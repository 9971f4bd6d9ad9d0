package parts

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strings"
	"sync"

	"buzzout/lang"
)

// The tables of published/ are copied facts: each row says how sure it is and
// where it was read, by the keys of published/sources.csv.
//
//go:embed published/*.csv
var published embed.FS

// A Standing says how sure a published fact is and where it was read.
type Standing struct {
	// Status is verified, derived, mixed, common practice or from memory. What
	// is from memory decides nothing.
	Status  string
	Origins []Citation // empty where no source was seen
}

// A Citation is something that was read.
type Citation struct{ ID, Title, Edition string }

func (c Citation) String() string {
	if c.Edition == "" {
		return c.Title
	}
	return c.Title + " (" + c.Edition + ")"
}

// Cited says in brackets where a fact is from: "(common practice, no
// source)", or the first of the copies that it was read in.
func (s *Standing) Cited() string {
	switch {
	case s.Status == "from memory":
		return "(from memory)"
	case s.Status == "common practice", len(s.Origins) == 0:
		return "(common practice, no source)"
	}
	first := s.Origins[0].Title
	switch n := len(s.Origins) - 1; {
	case s.Status == "derived":
		return "(" + first + ")"
	case n == 1:
		first += ", and one more"
	case n > 1:
		first += fmt.Sprintf(", and %d more", n)
	}
	if s.Status == "mixed" {
		return "(partly from: " + first + ")"
	}
	return "(source: " + first + ")"
}

// A LeadCode is what the published transformer code has for one lead.
type LeadCode struct {
	ID string
	// Use is what the end is for, "hv-centre"; "" for leads that no winding of a
	// valve amplifier has.
	Use                        string
	Transformer, Winding, Lead string // as the code calls them
	Colour                     lang.Colour
	Note                       string // a phrase, or ""
	Standing
}

// A WireCode is what the published code for wire inside a chassis has for one
// colour.
type WireCode struct {
	Use     string // "screen-grid"
	Circuit string // as the code calls it
	Colour  lang.Colour
	Standing
}

// A MainsCode is the colours of a mains lead somewhere. Each is a phrase that
// may name several: "white (or natural grey)"; "-" where the table has none.
type MainsCode struct {
	Region, Use, Line, Neutral, Earth string
	Note                              string
	Standing
}

// A Collision is a colour of which two codes say different things.
type Collision struct {
	Colour lang.Colour
	Says   [2]string // what each says
	Codes  [2]string // which each is
	Hazard string    // high, medium or low
	Advice string    // a phrase, or ""
	Standing
}

// A Variation is a point on which makers, or copies of the code, differ.
type Variation struct {
	ID     string
	Uses   []string // the uses of a LeadCode that it touches; "any" is every transformer
	Item   string
	Says   []string // what one and another says
	Advice string   // a phrase, or ""
	Standing
}

// A Practice is a rule of the trade about safety or wiring.
type Practice struct {
	ID     string
	Says   string // a phrase
	Figure string // with its unit, or ""
	Standing
}

// TransformerLeads is the published code of transformer leads, as far as its
// copies agree. What the tables give is shared, and not to be changed.
func TransformerLeads() []LeadCode { return transformerLeads() }

// ChassisWire is the published code of wire inside a chassis, in the order of
// the resistor digits.
func ChassisWire() []WireCode { return chassisWire() }

// MainsColours are the colours of mains leads by region, old and present.
func MainsColours() []MainsCode { return mainsColours() }

// Collisions are the colours that mean different things in different codes.
func Collisions() []Collision { return collisions() }

// Variations are the points on which makers differ.
func Variations() []Variation { return variations() }

// Practices are rules of the trade.
func Practices() []Practice { return practices() }

// Citations are all that the tables were read in.
func Citations() []Citation { return citations() }

var (
	transformerLeads = tableOf("transformer_leads", func(r columns) LeadCode {
		return LeadCode{r["id"], r["use"], r["transformer"], r["winding"], r["lead"], lang.Colour{Base: r["base_colour"], Tracer: r["tracer_colour"]}, r["note"], r.standing()}
	})
	chassisWire = tableOf("chassis_wire", func(r columns) WireCode {
		return WireCode{r["use"], r["circuit"], lang.Colour{Base: r["colour"]}, r.standing()}
	})
	mainsColours = tableOf("mains", func(r columns) MainsCode {
		return MainsCode{r["region"], r["use"], r["line"], r["neutral"], r["protective_earth"], r["note"], r.standing()}
	})
	collisions = tableOf("collisions", func(r columns) Collision {
		colour, _ := lang.ReadColour(r["colour"])
		return Collision{colour, [2]string{r["meaning_a"], r["meaning_b"]}, [2]string{r["scheme_a"], r["scheme_b"]}, r["hazard"], r["advice"], r.standing()}
	})
	variations = tableOf("variations", func(r columns) Variation {
		v := Variation{ID: r["id"], Uses: strings.Fields(r["uses"]), Item: r["item"], Advice: r["how_to_treat"], Standing: r.standing()}
		for _, name := range [...]string{"reading_a", "reading_b", "reading_c"} {
			if says := r[name]; says != "" && says != "-" {
				v.Says = append(v.Says, says)
			}
		}
		return v
	})
	practices = tableOf("practice", func(r columns) Practice {
		return Practice{r["id"], r["says"], r["figure"], r.standing()}
	})
	citations = tableOf("sources", func(r columns) Citation { return Citation{r["id"], r["title"], r["edition"]} })
)

// columns are the cells of a row, by column.
type columns map[string]string

// noSource is what the tables have in the place of a source where none was seen.
const noSource = "NONE"

func (r columns) standing() Standing {
	s := Standing{Status: r["status"]}
	for _, id := range strings.Fields(r["sources"]) {
		if id == noSource {
			continue
		}
		for _, c := range citations() {
			if c.ID == id {
				s.Origins = append(s.Origins, c)
			}
		}
	}
	return s
}

// tableOf reads one of the tables, once.
func tableOf[T any](name string, read func(columns) T) func() []T {
	return sync.OnceValue(func() []T {
		f, err := published.Open("published/" + name + ".csv")
		if err != nil {
			panic(err)
		}
		defer f.Close()
		records, err := csv.NewReader(f).ReadAll()
		if err != nil {
			panic(fmt.Errorf("published/%s.csv: %w", name, err))
		}
		var rows []T
		for _, record := range records[1:] {
			r := columns{}
			for i, column := range records[0] {
				r[column] = record[i]
			}
			rows = append(rows, read(r))
		}
		return rows
	})
}
