package legend

import (
	"encoding/csv"
	"os"
	"testing"
)

// A row of a table in testdata, by column.
type row map[string]string

// testdata reads a table; its origin is told in testdata/README.md.
func testdata(t testing.TB, name string) []row {
	t.Helper()
	f, err := os.Open("testdata/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, record := range records[1:] {
		r := row{}
		for i, column := range records[0] {
			r[column] = record[i]
		}
		rows = append(rows, r)
	}
	return rows
}

func rowOf(rows []row, column, value string) row {
	for _, r := range rows {
		if r[column] == value {
			return r
		}
	}
	return nil
}
