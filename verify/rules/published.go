package rules

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strings"
	"sync"
)

// The tables of data/ are copied facts: each row says how sure it is and
// where it was read. A row from memory decides nothing.
//
//go:embed data/*.csv
var data embed.FS

// A row of a table, by column.
type row map[string]string

// table reads one of the tables, once.
func table(name string) func() []row {
	return sync.OnceValue(func() []row {
		f, err := data.Open("data/" + name + ".csv")
		if err != nil {
			panic(err)
		}
		defer f.Close()
		records, err := csv.NewReader(f).ReadAll()
		if err != nil {
			panic(fmt.Errorf("data/%s.csv: %w", name, err))
		}
		rows := make([]row, 0, len(records)-1)
		for _, record := range records[1:] {
			r := row{}
			for i, column := range records[0] {
				r[column] = record[i]
			}
			rows = append(rows, r)
		}
		return rows
	})
}

var (
	chassisWire      = table("chassis_wire")
	transformerLeads = table("transformer_leads")
	practice         = table("practice")
	sources          = table("sources")
)

// find gives the row with a value in a column.
func find(rows []row, column, value string) row {
	for _, r := range rows {
		if r[column] == value {
			return r
		}
	}
	panic("no row with " + column + " " + value)
}

// origin says in brackets where a row is from: "(common practice, no
// source)", or the first of the copies that it was read in.
func (r row) origin() string {
	if r["status"] == "common practice" {
		return "(common practice, no source)"
	}
	if r["status"] == "from memory" {
		return "(from memory)"
	}
	ids := strings.Fields(r["sources"])
	first := find(sources(), "id", ids[0])["title"]
	switch n := len(ids) - 1; {
	case r["status"] == "derived":
		return "(" + first + ")"
	case n == 1:
		first += ", and one more"
	case n > 1:
		first += fmt.Sprintf(", and %d more", n)
	}
	if r["status"] == "mixed" {
		return "(partly from: " + first + ")"
	}
	return "(source: " + first + ")"
}

// practiceSays gives a row of the practice table as a sentence with its origin.
func practiceSays(id string) string {
	r := find(practice(), "id", id)
	says := r["says"]
	if r["figure"] != "" {
		says += ": " + r["figure"]
	}
	return strings.ToUpper(says[:1]) + says[1:] + " " + r.origin() + "."
}
