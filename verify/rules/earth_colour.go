package rules

import (
	"fmt"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var earthColour = verify.Rule{
	Name:   "earth-colour",
	Title:  "green-and-yellow that is not protective earth, or the other way about",
	Judges: verify.Built,
	Look:   lookEarthColour,
	Text: `
Green-and-yellow means protective earth and nothing else, so that whoever
opens the amplifier later may trust it. A green-and-yellow lead on any other
conductor is a fault, whatever the voltage. Told as well: the lead from the
mains inlet's earth to the chassis in a colour other than green-and-yellow
(plain green and bare wire pass), and a plain green lead on the live or the
neutral side, since green is the earth of mains leads in some countries.

    part V1  triode
    part R1  resistor 68k
    part CH  chassis
    part X1  inlet
    net grid  V1.g R1.1
    net earth X1.earth CH.earth
    lead green/yellow R1.1 V1.g
    lead green/yellow X1.earth CH.earth

The published transformer code gives green with a yellow tracer to the centre
tap of the heater winding: the same two colours. That is told each time.
Sleeve the lead in another colour at both visible ends and write a colour key
of your own, so that nobody takes it for an earth.

To check, mains plug out, read from the inlet's earth contact to the lead: on
protective earth it is 0.2 ohm or less with the probes' own reading taken off.

That green-and-yellow is reserved to the protective conductor was read in
excerpts of IEC 60445 (2010; since 2021 a requirement) and EN 60204-1. The
0.2 ohm is common practice, no source.
`,
}

func lookEarthColour(c *verify.Case, report func(verify.Finding)) {
	e := newEarthing(c)
	e.leads(report)
	e.flyingLeads(report)
	e.wayToChassis(report)
}

// earthing knows which conductors are protective earth, by plan and on the
// bench, and which are certainly something else.
type earthing struct {
	c              *verify.Case
	book           *netlist.Book
	planned, built conductors
	nets           *leadNets
	earthPlan      map[netlist.TerminalID]bool
	earthBuilt     map[netlist.TerminalID]bool
	signal         map[netlist.TerminalID]bool // planned conductors with an electrode, a heater or mains
	mains          map[netlist.TerminalID]bool // of the bench, through fuses and switches
	mainsSide      conductors
}

func newEarthing(c *verify.Case) *earthing {
	book := c.Book()
	e := &earthing{c: c, book: book, planned: wired(c.Planned()), built: wired(c.Built())}
	e.nets = newLeadNets(c, e.planned)
	e.earthPlan, e.earthBuilt = e.planned.marked(earths(book)), e.built.marked(earths(book))
	var entries, others []netlist.TerminalID
	for _, in := range book.Inlets() {
		entries = append(entries, in.Live, in.Neutral)
	}
	others = append(others, entries...)
	eachElectrode(book, func(el electrode) {
		if el.role != "cathode" && el.role != "suppressor" {
			others = append(others, el.at)
		}
	})
	e.signal = e.planned.marked(others)
	e.mainsSide = e.built.clone().through(c.Built(), parts.Fuse).throughContacts(c.Built(), onOff)
	e.mains = e.mainsSide.marked(entries)
	return e
}

// verdict says whether a terminal is on protective earth; certain is false
// where the notebook does not say enough.
func (e *earthing) verdict(t netlist.TerminalID, net netlist.NetID) (earth, certain bool) {
	if e.earthBuilt[e.built.of(t)] {
		return true, true
	}
	if net == netlist.NoNet {
		return false, false
	}
	root := e.planned.of(e.book.Nets[net].Members[0].Terminal)
	if e.earthPlan[root] {
		return true, true
	}
	// Without an earth or a chassis in the notebook, ground cannot be known.
	return false, e.signal[root] || len(e.earthPlan) > 0
}

func (e *earthing) leads(report func(verify.Finding)) {
	live := liveLeads(e.c.Bench)
	for i := range e.c.Bench.Leads {
		lead := &e.c.Bench.Leads[i]
		if live[i] == nil {
			continue
		}
		net := e.nets.of(lead)
		f := verify.Finding{
			Terminals: lead.Points, Nets: netNames(e.book, net),
			Evidence: []diag.Note{verify.Quote(lead.Fact, live[i].Place)},
		}
		if len(lead.Points) > 0 && net != netlist.NoNet {
			f.Evidence = append(f.Evidence, quotePlan(e.book, e.book.Nets[net].Members[0].Terminal))
		}
		switch {
		case isEarthColour(lead.Colour):
			earth, certain := e.verdict(live[i].A, net)
			if earth || !certain {
				continue
			}
			f.Severity = diag.Fault
			f.Message = fmt.Sprintf("%s %s is not on protective earth", leadName(lead), leadEnds(e.book, lead))
			f.Cause = practiceSays("green-yellow")
			f.Action = "replace it by a lead of another colour"
		case lead.Colour == lang.Colour{Base: "green"} && e.mains[e.mainsSide.of(live[i].A)]:
			f.Severity = diag.Caution
			f.Message = fmt.Sprintf("%s %s carries mains, and green is the earth of mains leads in some countries", leadName(lead), leadEnds(e.book, lead))
			f.Cause = practiceSays("green-earth")
			f.Action = "replace it by a lead in the colours of mains in your country"
		default:
			continue
		}
		report(f)
	}
}

// flyingLeads tells green-and-yellow leads of parts: the published code gives
// these colours to the centre tap of a heater winding.
func (e *earthing) flyingLeads(report func(verify.Finding)) {
	for i := range e.book.Terminals {
		term := &e.book.Terminals[i]
		if !term.Lead {
			continue
		}
		colour, _, ok := lang.ReadTaped(term.Name)
		if !ok || !isEarthColour(colour) {
			continue
		}
		lead := netlist.TerminalID(i)
		end, known := e.c.Meaning.Ends[lead]
		earth, certain := e.verdict(lead, e.nets.nets[lead])
		winding := known && isWindingEnd(e.book, end)
		if !winding && (earth || !certain) {
			continue // a screen or a core that the maker wants earthed
		}
		f := verify.Finding{
			Severity:  diag.Caution,
			Message:   fmt.Sprintf("%s has the colours of protective earth and is not one", e.book.Name(lead)),
			Terminals: []netlist.TerminalID{lead},
			Evidence:  []diag.Note{quoteKey(e.book, lead)},
			Cause:     practiceSays("heater-centre-collision"),
			Action:    "sleeve it in another colour at both visible ends, and add a colour key of your own",
		}
		if winding {
			f.Message = fmt.Sprintf("%s is the end %s of a winding and has the colours of protective earth", e.book.Name(lead), e.book.Terminals[end].Name)
		}
		report(f)
	}
}

func isWindingEnd(b *netlist.Book, t netlist.TerminalID) bool {
	term := &b.Terminals[t]
	for _, w := range term.Part.Kind.Windings {
		for _, end := range w.Ends {
			if end == term.Index {
				return true
			}
		}
	}
	return false
}

// wayToChassis tells leads of another colour on the way from the inlet's
// earth to the chassis.
func (e *earthing) wayToChassis(report func(verify.Finding)) {
	var t *trails
	told := map[int]bool{}
	for _, in := range e.book.Inlets() {
		for _, metal := range chassis(e.book) {
			if in.Earth == netlist.NoTerminal || e.built.of(in.Earth) != e.built.of(metal) {
				continue
			}
			if t == nil {
				t = newTrails(e.c.Built(), nil)
			}
			for _, h := range t.way(in.Earth, metal) {
				if h.join == nil || !isWire(h.join) || told[h.join.Joint.Lead] {
					continue
				}
				j := h.join.Joint
				if isEarthColour(j.Colour) || j.Colour.Tracer == "" && (j.Colour.Base == "green" || j.Colour.Base == "bare") {
					continue
				}
				told[j.Lead] = true
				report(verify.Finding{
					Severity:  diag.Caution,
					Message:   fmt.Sprintf("%s from %s to %s is protective earth, and it is not green-and-yellow", leadName(&e.c.Bench.Leads[j.Lead]), e.book.Name(j.A), e.book.Name(j.B)),
					Terminals: []netlist.TerminalID{j.A, j.B},
					Evidence:  []diag.Note{verify.Quote(j.Fact, j.Place)},
					Cause:     practiceSays("green-yellow") + " " + practiceSays("green-yellow-2021"),
					Action:    "replace it by a green-and-yellow lead",
				})
			}
		}
	}
}
