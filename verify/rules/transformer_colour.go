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
