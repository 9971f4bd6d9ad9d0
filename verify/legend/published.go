package legend

import (
	"embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"sync"

	"buzzout/lang"
	"buzzout/netlist"
)

// The tables of data/ are copied facts: each row says how sure it is and
// where it was read, by the keys of data/sources.csv.
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
	transformerLeads = table("transformer_leads")
	chassisWire      = table("chassis_wire")
	mainsColours     = table("mains")
	collisions       = table("collisions")
	variations       = table("variations")
	sourceRows       = table("sources")
)

// Published is the name of the published colour codes as a source. It is the
// weakest: it says what a colour meant to those who wrote the code, and
// nothing of the object. It never holds, whoever trusts it.
const Published = "published"

// A CodeEntry is what one published code says of a colour.
type CodeEntry struct {
	Code   string // "transformer code", "chassis wire code", "mains code"
	Says   string // a phrase: "HT winding, centre tap"
	Note   string // a phrase, or ""
	Status string // verified, mixed, common practice, or from memory
	// Origins are the sources that it was read in, titles with their edition;
	// empty where it is from memory or practice.
	Origins []string
	// Ends are the ends of the part that it would be, where the part has any.
	Ends []netlist.TerminalID
}

// A Collision is a colour of which two codes say different things.
type Collision struct {
	Colour  lang.Colour
	Says    [2]string // what each says
	Codes   [2]string // which each is
	Hazard  string    // high, medium or low
	Advice  string    // a phrase, or ""
	Status  string
	Origins []string
}

// A Variation is a point on which makers, or copies of the code, differ.
type Variation struct {
	Item    string
	Says    []string
	Advice  string
	Status  string
	Origins []string
}

func (r row) origins() []string {
	var list []string
	for _, id := range strings.Fields(r["sources"]) {
		for _, s := range sourceRows() {
			if s["id"] == id && id != "NONE" {
				list = append(list, fmt.Sprintf("%s (%s)", s["title"], s["edition"]))
			}
		}
	}
	return list
}

func (r row) colour(base, tracer string) lang.Colour {
	return lang.Colour{Base: r[base], Tracer: r[tracer]}
}

// coder reads the published codes for one part.
type coder struct {
	book *netlist.Book
	part *netlist.Part
	lay  *layout
	uses []purpose
	at   []uint16
}

func newCoder(b *netlist.Book, p *netlist.Part, l *layout) *coder {
	c := &coder{book: b, part: p, lay: l, at: endsAt(b)}
	c.uses = usesOf(b, p, l)
	return c
}

// entries are what the codes say of a colour: of the transformer code first
// what fits a winding of the part.
func (c *coder) entries(colour lang.Colour) []CodeEntry {
	var list []CodeEntry
	for _, r := range transformerLeads() {
		if r.colour("base_colour", "tracer_colour") != colour {
			continue
		}
		e := CodeEntry{Code: "transformer code", Says: fmt.Sprintf("%s, %s: %s", r["transformer"], r["winding"], r["lead"]),
			Note: r["note"], Status: r["status"], Origins: r.origins()}
		if r["use"] != "" {
			e.Ends = c.endsCoded(r["use"])
		}
		list = append(list, e)
	}
	slices.SortStableFunc(list, func(a, b CodeEntry) int { return min(len(b.Ends), 1) - min(len(a.Ends), 1) })
	if colour.Tracer == "" {
		for _, r := range chassisWire() {
			if r["colour"] == colour.Base {
				list = append(list, CodeEntry{Code: "chassis wire code", Says: r["circuit"], Status: r["status"], Origins: r.origins()})
			}
		}
	}
	return append(list, mainsEntries(colour)...)
}

// endsCoded are the ends of the part that fall under an entry of the code.
func (c *coder) endsCoded(use string) []netlist.TerminalID {
	var list []netlist.TerminalID
	for t := range c.part.Kind.Terminals {
		if slices.Contains(codedAs(c.book, c.part, c.lay, c.uses, c.at, t), use) {
			list = append(list, c.part.Terminals[t])
		}
	}
	return list
}

// mainsEntries are what a colour is in mains leads: one entry for each of
// live, neutral and earth, with the regions.
func mainsEntries(colour lang.Colour) []CodeEntry {
	var list []CodeEntry
	for _, column := range [...]struct{ name, says string }{{"line", "live"}, {"neutral", "neutral"}, {"protective_earth", "protective earth"}} {
		var regions, origins []string
		for _, r := range mainsColours() {
			if !hasColour(r[column.name], colour) {
				continue
			}
			regions = append(regions, fmt.Sprintf("%s (%s)", r["region"], r["use"]))
			for _, o := range r.origins() {
				if !slices.Contains(origins, o) {
					origins = append(origins, o)
				}
			}
		}
		if len(regions) > 0 {
			list = append(list, CodeEntry{Code: "mains code", Says: column.says + ": " + strings.Join(regions, "; "), Status: "verified", Origins: origins})
		}
	}
	return list
}

// hasColour says that a phrase of the mains table names a colour outright;
// "any but red" and what stands in brackets do not.
func hasColour(phrase string, colour lang.Colour) bool {
	phrase, _, _ = strings.Cut(phrase, " (")
	if strings.HasPrefix(phrase, "any") {
		return false
	}
	words := strings.FieldsFunc(phrase, func(r rune) bool { return r == ' ' || r == ',' })
	return slices.ContainsFunc(words, func(w string) bool {
		c, ok := lang.ReadColour(w)
		return ok && c == colour
	})
}

// collide gives the collisions of the colours of some leads.
func collide(colours []lang.Colour) []Collision {
	var list []Collision
	for _, r := range collisions() {
		c, _ := lang.ReadColour(r["colour"])
		if slices.Contains(colours, c) {
			list = append(list, Collision{Colour: c, Says: [2]string{r["meaning_a"], r["meaning_b"]}, Codes: [2]string{r["scheme_a"], r["scheme_b"]},
				Hazard: r["hazard"], Advice: r["advice"], Status: r["status"], Origins: r.origins()})
		}
	}
	return list
}

// varies gives the points on which makers differ that touch the part.
func (c *coder) varies() []Variation {
	has := func(use string) bool { return use == "any" || len(c.endsCoded(use)) > 0 }
	var list []Variation
	for _, r := range variations() {
		if !slices.ContainsFunc(strings.Fields(r["uses"]), has) {
			continue
		}
		v := Variation{Item: r["item"], Advice: r["how_to_treat"], Status: r["status"], Origins: r.origins()}
		for _, column := range [...]string{"reading_a", "reading_b", "reading_c"} {
			if r[column] != "" && r[column] != "-" {
				v.Says = append(v.Says, r[column])
			}
		}
		list = append(list, v)
	}
	return list
}
