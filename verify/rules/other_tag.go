package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var otherTag = verify.Rule{
	Name:   "other-tag",
	Title:  "another tag is used than the layout names",
	Judges: verify.Built,
	Look:   lookOtherTag,
	Text: `
A layout names the tag on which a conductor meets, and on the bench it meets
on another tag of the same board. Electrically it is the same, so this is a
remark; it is told because the next lead that you lay by the layout goes to
the tag of the layout, where nothing is.

    part TB1 tagboard 6
    part R1, R2 resistor 100k
    net input R1.1 R2.1 TB1.1
    spare R1.2 R2.2
    solder TB1.2 R1.1 R2.1

Move the joint, or write the tag that you use into the plan: strike the
layout's tag from the net and add yours.
`,
}

func lookOtherTag(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	var u *usedTags
	for _, net := range book.Nets {
		instead := map[*netlist.Part]netlist.TerminalID{}
		for _, m := range net.Members {
			tag := &book.Terminals[m.Terminal]
			if !isTag(tag) {
				continue
			}
			if u == nil {
				u = newUsedTags(c)
			}
			if u.at[m.Terminal] {
				continue
			}
			used, asked := instead[tag.Part]
			if !asked {
				used = u.instead(net, tag.Part)
				instead[tag.Part] = used
			}
			if used == netlist.NoTerminal {
				continue
			}
			report(verify.Finding{
				Severity:  diag.Remark,
				Message:   fmt.Sprintf("the net %s meets at %s, where the layout has %s", net.Name, book.Name(used), book.Name(m.Terminal)),
				Terminals: []netlist.TerminalID{used, m.Terminal}, Nets: []string{net.Name},
				Evidence: []diag.Note{verify.Quote(m.Fact, m.Place)},
				Action:   fmt.Sprintf("nothing, if you remember it; else move the joints to %s", book.Name(m.Terminal)),
			})
		}
	}
}

// isTag says that a terminal is a tag of a board or strip, not a bolt of a
// chassis, where one bolt is as good as another.
func isTag(t *netlist.Terminal) bool { return t.Tie && t.Part != nil && !t.Part.Kind.JoinedAny }

// usedTags are the tags in use on the bench that no net names.
type usedTags struct {
	at    []bool // terminals with a joint
	built conductors
	tags  map[tagPlace]netlist.TerminalID // the first of each conductor and board
}

type tagPlace struct {
	conductor netlist.TerminalID
	board     *netlist.Part
}

func newUsedTags(c *verify.Case) *usedTags {
	book := c.Book()
	u := &usedTags{at: jointed(c.Bench), built: wired(c.Built()), tags: map[tagPlace]netlist.TerminalID{}}
	for i := range book.Terminals {
		t := netlist.TerminalID(i)
		if term := &book.Terminals[i]; u.at[t] && isTag(term) && book.Net(t) == netlist.NoNet {
			if key := (tagPlace{u.built.of(t), term.Part}); !has(u.tags, key) {
				u.tags[key] = t
			}
		}
	}
	return u
}

// instead finds a tag of the board that holds something of the net.
func (u *usedTags) instead(net *netlist.Net, board *netlist.Part) netlist.TerminalID {
	for _, m := range net.Members {
		if t, ok := u.tags[tagPlace{u.built.of(m.Terminal), board}]; ok {
			return t
		}
	}
	return netlist.NoTerminal
}
