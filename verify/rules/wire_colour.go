package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var wireColour = verify.Rule{
	Name:   "wire-colour",
	Title:  "leads in other colours than the published chassis-wire code",
	Judges: verify.Built,
	Look:   lookWireColour,
	Text: `
There is an old published code for the colours of hook-up wire in a chassis:
black ground, brown heaters, red HT, orange screen grids, yellow cathodes,
green control grids, blue anodes, violet negative supply, grey mains, white
bias. Nobody has to follow it, and a set of colours of your own is as good as
long as you keep to it. It is a remark only, once for each use and colour.

    part V1  triode
    part R1  resistor 100k
    part R2  resistor 1k5
    part HT, IN, GND post
    net anode   V1.a R1.1
    net ht      R1.2 HT
    net grid    V1.g IN
    net cathode V1.k R2.1
    net ground  R2.2 GND
    lead green V1.a R1.1
    lead green V1.g IN

The lead at the anode is green, where the code has blue. Two leads of one
colour with such different voltages invite a slip of the probe.

Not looked at: mains leads, whose colours are law in each country; cores of
screened leads; leads at rectifiers; bare wire. A lead's colour never proves
what it is on.

The code was read in a training manual and in a quoted handbook, which agree
in all ten colours.
`,
}

func lookWireColour(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	if len(c.Bench.Leads) == 0 {
		return
	}
	planned := wired(c.Planned())
	does := conductorUses(planned, c.Planned())
	leads := newLeadNets(c, planned)
	type sort struct {
		use    use
		colour string
	}
	found := map[sort][]*netlist.Lead{}
	var order []sort
	live := liveLeads(c.Bench)
	for i := range c.Bench.Leads {
		lead := &c.Bench.Leads[i]
		if live[i] == nil || len(lead.Screen) > 0 || lead.Colour.Base == "bare" || isEarthColour(lead.Colour) {
			continue
		}
		net := leads.of(lead)
		if net == netlist.NoNet {
			continue
		}
		on := does[planned.of(book.Nets[net].Members[0].Terminal)]
		if on&^usePerhapsGround == 0 || on&useNotJudged != 0 || codeAllows(on, lead.Colour) {
			continue
		}
		key := sort{on & -on, lead.Colour.String()}
		if found[key] == nil {
			order = append(order, key)
		}
		found[key] = append(found[key], lead)
	}
	for _, key := range order {
		report(tellColour(book, key.use, found[key]))
	}
}

// tellColour is one finding for all leads of one colour in one use.
func tellColour(b *netlist.Book, u use, leads []*netlist.Lead) verify.Finding {
	code, one, more := u.code()
	f := verify.Finding{
		Severity: diag.Remark,
		Cause:    fmt.Sprintf("This is the published code %s; builders vary.", code.Cited()),
		Action:   "nothing, if these are your colours; else mark the leads with sleeves",
	}
	if len(leads) == 1 {
		f.Message = fmt.Sprintf("%s %s is %s, where the published chassis-wire code has %s", leadName(leads[0]), leadEnds(b, leads[0]), one, code.Colour)
	} else {
		f.Message = fmt.Sprintf("%d %s leads are %s, where the published chassis-wire code has %s", len(leads), leads[0].Colour, more, code.Colour)
	}
	for _, lead := range leads {
		f.Evidence = append(f.Evidence, verify.Quote(lead.Fact, noPlace))
		f.Terminals = append(f.Terminals, lead.Points...)
	}
	return f
}

// leadNets says which net of the plan a lead belongs to: the one that its
// points are on, else the only one that its conductor on the bench reaches.
type leadNets struct {
	nets  []netlist.NetID
	built conductors
	only  map[netlist.TerminalID]netlist.NetID // NoNet where there are several
}

func newLeadNets(c *verify.Case, planned conductors) *leadNets {
	l := &leadNets{nets: planNets(planned, c.Book()), built: wired(c.Built()), only: map[netlist.TerminalID]netlist.NetID{}}
	for t, net := range l.nets {
		if net == netlist.NoNet {
			continue
		}
		root := l.built.of(netlist.TerminalID(t))
		if other, ok := l.only[root]; ok && other != net {
			net = netlist.NoNet
		}
		l.only[root] = net
	}
	return l
}

func (l *leadNets) of(lead *netlist.Lead) netlist.NetID {
	net := netlist.NoNet
	for _, t := range lead.Points {
		switch n := l.nets[t]; {
		case n == netlist.NoNet || n == net:
		case net == netlist.NoNet:
			net = n
		default:
			return netlist.NoNet // it joins two nets: comparison tells that
		}
	}
	if net != netlist.NoNet {
		return net
	}
	for _, t := range lead.Points {
		if n, ok := l.only[l.built.of(t)]; ok {
			return n
		}
	}
	return netlist.NoNet
}
