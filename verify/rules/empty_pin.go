package rules

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var emptyPin = verify.Rule{
	Name:   "empty-pin",
	Title:  "a joint at a terminal where nothing may be soldered",
	Judges: verify.Built,
	Look:   lookEmptyPin,
	Text: `
Some pins of a valve are joined to something inside the bottle, and the maker
forbids using their tags, even as a resting place for a leg. It looks right
with the valve out and every reading agrees, since the joint inside comes with
the valve.

    part V1  el84
    part R1  resistor 1k
    part GND post
    net grid   V1.2 R1.1
    net ground R1.2 GND
    spare V1.3..5 V1.7 V1.9
    lead green V1.2 V1.1
    fit R1 V1.1 GND

Move the joint to a tag of a strip beside the socket. To check, count the
pins from the gap, seen from the tags, and look that the pin's tag is bare.
`,
}

func lookEmptyPin(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	found := map[*netlist.Part]*verify.Finding{}
	var order []*netlist.Part
	for i := range c.Bench.Joints {
		j := &c.Bench.Joints[i]
		for _, t := range [2]netlist.TerminalID{j.A, j.B} {
			why := emptyPinWhy(book, t)
			if why == "" {
				continue
			}
			part := book.Terminals[t].Part
			f := found[part]
			if f == nil {
				f = &verify.Finding{Severity: diag.Fault, Cause: emptyCause(why)}
				found[part] = f
				order = append(order, part)
			}
			if !slices.Contains(f.Terminals, t) {
				f.Terminals = append(f.Terminals, t)
				f.Evidence = append(f.Evidence, verify.Quote(j.Fact, j.Place))
			}
		}
	}
	for _, part := range order { // one for a part: counting from the wrong gap hits several pins
		f := found[part]
		at := verify.And(names(book, f.Terminals))
		f.Message = fmt.Sprintf("something is soldered at %s, where nothing may be", at)
		f.Evidence = append(f.Evidence, verify.QuotePart(part))
		f.Action = fmt.Sprintf("take off what is at %s and use a free tag instead", at)
		f.Check = "count the pins from the gap or key, seen from the tags"
		report(*f)
	}
}

// emptyCause makes a sentence of the reason that a kind gives.
func emptyCause(why string) string {
	return "The part says of this terminal: " + strings.TrimSuffix(why, ".") + "."
}
