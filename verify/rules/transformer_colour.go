package rules

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var transformerColour = verify.Rule{
	Name:   "transformer-colour",
	Title:  "a transformer's colours are not those of the published code",
	Judges: verify.Plan,
	Look:   lookTransformerColour,
	Text: `
There is an old published code for the leads of transformers. Power: black
mains, red HT with a red/yellow centre tap, yellow rectifier heater, then
green, brown and grey heaters, each with a yellow tracer on its centre tap.
Output and driver: blue and brown anodes, red HT feed, green grid, black grid
return. Makers follow it, or not: there is no national code for British and
continental valve transformers, and none for several loudspeaker taps.

This is a remark only. A key off the object or a reading always outranks the
code; a colour never proves what a lead is. It is worth a second look all the
same, since a key copied in the wrong order shows here.

    part T1 transformer {
        winding primary p1 p2
        winding hv      hv-a hv-ct hv-b
    }
    part X1 inlet
    part D1, D2 diode
    part HT, GND post
    net live    X1.live T1.p1
    net neutral X1.neutral T1.p2
    net earth   X1.earth GND T1.hv-ct
    net hv-a    T1.hv-a D1.a
    net hv-b    T1.hv-b D2.a
    net ht      D1.k D2.k HT
    colours T1 sheet { black p1, black p2, green hv-a, green hv-b }

To settle it, power off, read the windings cold: mains some ohms to some tens
of ohms, HT some tens to hundreds with the tap in the middle, heaters well
under 1 ohm. (Orders of magnitude from memory: your transformer's sheet
decides.)

The code was read in several secondary copies that agree; each finding names
them. What is only recalled, such as green and black on a loudspeaker
winding, is not used.
`,
}

func lookTransformerColour(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	if len(book.Keys) == 0 {
		return
	}
	uses := windingUses(c.Planned())
	for _, key := range book.Keys {
		var differ []string
		f := verify.Finding{Severity: diag.Remark}
		var code parts.LeadCode
		for _, pair := range key.Pairs {
			use := uses[pair.End]
			if pair.End == netlist.NoTerminal || use == "" {
				continue
			}
			colour, _, ok := lang.ReadTaped(book.Terminals[pair.Lead].Name)
			codes := leadCodes(use)
			if !ok || len(codes) == 0 || hasColour(codes, colour) {
				continue
			}
			differ = append(differ, fmt.Sprintf("%s is %s, where the code has %s",
				book.Terminals[pair.End].Name, colour, codeColours(codes)))
			f.Terminals = append(f.Terminals, pair.Lead)
			f.Evidence = append(f.Evidence, verify.Quote(pair.Fact, pair.Place))
			code = codes[0]
		}
		if len(differ) == 0 {
			continue
		}
		f.Message = fmt.Sprintf("what %s says of %s is not the published code: %s", key.Origin, key.Part.Ref, verify.And(differ))
		f.Cause = fmt.Sprintf("This is the published code %s; makers vary, and a key off the object or a reading outranks it.", code.Cited())
		f.Action = "nothing, if the key was read off the object; else read the windings cold"
		f.Check = "power off: the cold resistance of each winding tells mains, HT and heaters apart"
		report(f)
	}
}

// windingUses says what each winding's ends do, in the words of the code's
// table; ends of which that cannot be told for certain are absent.
func windingUses(h *netlist.Harness) map[netlist.TerminalID]string {
	b := h.Book
	direct := wired(h)
	mainsSide := direct.clone().through(h, parts.Fuse).throughContacts(h, nil)
	var entries []netlist.TerminalID
	for _, in := range inlets(b) {
		entries = append(entries, in.live, in.neutral)
	}
	mains := mainsSide.marked(entries)
	at := endsAt(direct, b)

	uses := map[netlist.TerminalID]string{}
	for _, p := range b.Parts {
		primaries := 0
		for _, w := range p.Kind.Windings {
			if mains[mainsSide.of(p.Terminals[w.Ends[0]])] {
				primaries++
			}
		}
		for _, w := range p.Kind.Windings {
			n := len(w.Ends)
			end := func(i int) netlist.TerminalID { return p.Terminals[w.Ends[i]] }
			first, last := end(0), end(n-1)
			either := at[direct.of(first)] | at[direct.of(last)]
			both := func(use string) { uses[first], uses[last] = use, use }
			centre := func(use string) {
				if n == 3 {
					uses[end(1)] = use
				}
			}
			switch {
			case mains[mainsSide.of(first)] || mains[mainsSide.of(last)]:
				if primaries == 1 && n == 2 {
					both("mains")
				} else if primaries == 1 {
					for i := range n {
						uses[end(i)] = "mains-tapped"
					}
				}
			case either&atRectifierHeater != 0 && either&atHeater == 0:
				both("rectifier-heater")
				centre("rectifier-heater-centre")
			case either&atHeater != 0:
				both("heater")
				centre("heater-centre")
			case at[direct.of(first)]&at[direct.of(last)]&atAnode != 0:
				both("anode-pair")
				if n%2 == 1 {
					uses[end(n/2)] = "ht-feed"
				}
			case either&atAnode != 0:
				if n == 2 {
					both("ht-feed")
				}
				for _, t := range [2]netlist.TerminalID{first, last} {
					if at[direct.of(t)]&atAnode != 0 {
						uses[t] = "anode"
					}
				}
			case either&atGrid != 0 && n == 2:
				both("grid-return")
				for _, t := range [2]netlist.TerminalID{first, last} {
					if at[direct.of(t)]&atGrid != 0 {
						uses[t] = "grid"
					}
				}
			case either&atGrid != 0:
				both("grid-pair")
				centre("grid-return")
			case at[direct.of(first)]&at[direct.of(last)]&atDiodeAnode != 0 && !lowVoltage(p, w):
				both("hv")
				centre("hv-centre")
			}
		}
	}
	return uses
}

// What ends on a conductor.
const (
	atAnode = 1 << iota
	atGrid
	atHeater
	atRectifierHeater
	atDiodeAnode
)

// lowVoltage says that the part gives a winding a voltage that is no high
// tension: a bias winding.
func lowVoltage(p *netlist.Part, w parts.Winding) bool {
	volts := 0.0
	for i := range p.Kind.Between {
		between := &p.Kind.Between[i]
		if between.Verb != "volts" || !slices.Contains(w.Ends, between.From) {
			continue
		}
		for _, f := range between.Figures {
			if f.Quantity == lang.Volts {
				volts = max(volts, f.Value)
			}
		}
	}
	return volts > 0 && volts <= touchableVolts
}

func endsAt(c conductors, b *netlist.Book) map[netlist.TerminalID]uint8 {
	at := map[netlist.TerminalID]uint8{}
	for _, p := range b.Parts {
		rectifier := false
		for i := range p.Kind.Elements {
			rectifier = rectifier || p.Kind.Elements[i].Type == parts.Diode
		}
		mark := func(end int, what uint8) { at[c.of(p.Terminals[end])] |= what }
		for i := range p.Kind.Elements {
			e := &p.Kind.Elements[i]
			switch e.Type {
			case parts.Triode, parts.Pentode:
				for n, role := range e.Type.Roles()[:len(e.Ends)] {
					switch role {
					case "anode":
						mark(e.Ends[n], atAnode)
					case "grid":
						mark(e.Ends[n], atGrid)
					}
				}
			case parts.Heater:
				what := uint8(atHeater)
				if rectifier {
					what = atRectifierHeater
				}
				mark(e.Ends[0], what)
				mark(e.Ends[1], what)
			case parts.Diode:
				mark(e.Ends[0], atDiodeAnode)
			}
		}
	}
	return at
}

// pairedUses are the uses of the code's table under which the two outer ends
// of a centre-tapped winding fall: the code tells start and finish apart, and
// the drawing does not.
var pairedUses = map[string][]string{
	"anode-pair": {"anode", "anode-second"},
	"grid-pair":  {"grid", "grid-second"},
}

// leadCodes are the rows of the code for a use. What is only remembered
// decides nothing.
func leadCodes(use string) []parts.LeadCode {
	uses, paired := pairedUses[use]
	if !paired {
		uses = []string{use}
	}
	var list []parts.LeadCode
	for _, code := range parts.TransformerLeads() {
		if slices.Contains(uses, code.Use) && code.Status != "from memory" {
			list = append(list, code)
		}
	}
	return list
}

func hasColour(codes []parts.LeadCode, c lang.Colour) bool {
	return slices.ContainsFunc(codes, func(code parts.LeadCode) bool { return code.Colour == c })
}

func codeColours(codes []parts.LeadCode) string {
	var list []string
	for _, code := range codes {
		list = append(list, code.Colour.String())
	}
	if len(list) == 1 {
		return list[0]
	}
	return strings.Join(list[:len(list)-1], ", ") + " or " + list[len(list)-1]
}
