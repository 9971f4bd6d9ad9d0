package lang

import (
	"slices"
	"strings"
	"testing"
)

func TestColoursOfPublishedTable(t *testing.T) {
	rows := readTable(t, "iec60757_colours.csv")
	if len(rows) != 15 {
		t.Fatalf("%d rows", len(rows))
	}
	names := ColourNames()
	for i, row := range rows {
		name, _, _ := strings.Cut(row["colour"], " (")
		want := Colour{Base: name}
		if row["iec_code"] == "GNYE" {
			want = Colour{"green", "yellow"}
		} else if names[i] != name {
			t.Errorf("colour %d is %s, in the table %s", i+1, names[i], name)
		}
		words := []string{name, row["iec_code"], strings.ToLower(row["iec_code"])} // the 1983 edition lets lower case stand for upper
		for alias := range strings.SplitSeq(row["aliases"], "; ") {
			if alias != "" && alias != "yellow/green" { // base and tracer are kept apart here
				words = append(words, strings.ReplaceAll(alias, " ", "-"))
			}
		}
		for _, w := range words {
			if w == "green-and-yellow" {
				continue // the table's name for it; nobody writes that on a lead
			}
			if got, ok := ReadColour(w); !ok || got != want {
				t.Errorf("%s is read as %q, %t; want %q", w, got, ok, want)
			}
		}
		if got := want.Code(); got != row["iec_code"] {
			t.Errorf("%s has the code %s, in the table %s", want, got, row["iec_code"])
		}
	}
	if !slices.Contains(names, "bare") {
		t.Error("bare is a colour of leads, too")
	}
}

// The two colours of a lead in any order and spelling. That the order is kept
// is our own rule, see ReadColour.
func TestTwoColours(t *testing.T) {
	for text, want := range map[string]Colour{
		"red/yellow": {"red", "yellow"}, "YELLOW/Red": {"yellow", "red"}, "RD/YE": {"red", "yellow"}, "gn/ye": {"green", "yellow"},
		"GNYE": {"green", "yellow"}, "gray/PURPLE": {"grey", "violet"}, "white/BK": {"white", "black"},
	} {
		if got, ok := ReadColour(text); !ok || got != want || got.IsZero() {
			t.Errorf("%s is read as %q, %t", text, got, ok)
		}
	}
	if got := (Colour{"red", "yellow"}).String(); got != "red/yellow" {
		t.Error(got)
	}
	if got := (Colour{"red", "yellow"}).Code(); got != "RD/YE" {
		t.Error(got)
	}
	for _, text := range []string{"", "/", "red/", "/red", "red/red", "bare/red", "red/bare", "red/yellow/blue", "RDYE", "reddish", "rd ye"} {
		if got, ok := ReadColour(text); ok {
			t.Errorf("%q is read as %q", text, got)
		}
	}
}

func TestReadTaped(t *testing.T) {
	for _, c := range []struct {
		text, colour string
		tape         int
	}{
		{"black-2", "black", 2}, {"BK-12", "black", 12}, {"red/yellow-1", "red/yellow", 1}, {"orange", "orange", 0}, {"light-blue", "blue", 0}, {"light-blue-3", "blue", 3},
	} {
		got, tape, ok := ReadTaped(c.text)
		if !ok || got.String() != c.colour || tape != c.tape {
			t.Errorf("%s: %s %d %t", c.text, got, tape, ok)
		}
	}
	for _, text := range []string{"", "-1", "black-", "black-0", "black-x", "black--1", "tip-1", "black-1234", "hv-a"} {
		if got, tape, ok := ReadTaped(text); ok {
			t.Errorf("%q is read as %s %d", text, got, tape)
		}
	}
}
