package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var goesNowhere = verify.Rule{
	Name:   "goes-nowhere",
	Title:  "a lead or conductor on the bench that ends nowhere",
	Judges: verify.Built,
	Look:   lookGoesNowhere,
	Text: `
A lead is soldered at one end to something, and at the other to a tag or bolt
where nothing else is; or a whole conductor of tags and leads reaches nothing
that the plan knows. While you wire, that is work not finished. Afterwards it
is a joint at the wrong tag, or a lead that was left from an earlier try, and
it carries whatever its other end carries.

    part TB1 tagboard 6
    part R1, R2 resistor 68k
    net input R1.1 R2.1
    spare R1.2 R2.2
    fit R1 TB1.1 TB1.2
    fit R2 TB1.3 TB1.4
    lead green TB1.1 TB1.5
    wiring complete

The green lead ends at TB1.5. Compare also finds that R1.1 and R2.1 do not
meet; one lead moved from TB1.5 to TB1.3 mends both.

A transformer's flying lead that is on no net and in no joint is told as
well: it carries its winding's voltage. Insulate its end, and say spare.

To check, look at the tag, and buzz from it to the other end of the lead.
`,
}

func lookGoesNowhere(c *verify.Case, report func(verify.Finding)) {
	b := newBranches(c)
	b.prune(report)
	b.islands(report)
	looseLeads(c, b.nets, report)
}

// branches is the bench as points and the joins at them, to find what hangs
// loose: points of no meaning of their own with one join, pruned again and
// again, the way one cuts dead twigs.
type branches struct {
	bench   *netlist.Bench
	book    *netlist.Book
	harness *netlist.Harness
	built   conductors
	nets    []netlist.NetID // of the plan, by terminal
	has     []netlist.NetID // of the plan on a conductor of the bench, by its first terminal
	start   []int32         // joins at terminal t: at[start[t]:start[t+1]]
	at      []int32
	degree  []int32
	cut     []bool // joins pruned
	twig    []bool // terminals beyond which something was told
}

func newBranches(c *verify.Case) *branches {
	book := c.Book()
	b := &branches{bench: c.Bench, book: book, harness: c.Built()}
	b.built = wired(b.harness)
	b.nets = planNets(wired(c.Planned()), book)
	b.has = make([]netlist.NetID, len(book.Terminals))
	for i := range b.has {
		b.has[i] = netlist.NoNet
	}
	for t, net := range b.nets {
		if root := b.built.of(netlist.TerminalID(t)); net != netlist.NoNet && (b.has[root] == netlist.NoNet || net < b.has[root]) {
			b.has[root] = net
		}
	}
	n := len(book.Terminals)
	b.start, b.degree, b.twig = make([]int32, n+1), make([]int32, n), make([]bool, n)
	b.cut = make([]bool, len(b.harness.Joins))
	b.each(func(_ int, j *netlist.Join) { b.degree[j.A]++; b.degree[j.B]++ })
	for t, d := range b.degree {
		b.start[t+1] = b.start[t] + d
	}
	b.at = make([]int32, b.start[n])
	fill := append([]int32(nil), b.start...)
	b.each(func(i int, j *netlist.Join) {
		for _, t := range [2]netlist.TerminalID{j.A, j.B} {
			b.at[fill[t]] = int32(i)
			fill[t]++
		}
	})
	return b
}

// each gives the joins that hold whatever stands where.
func (b *branches) each(yield func(int, *netlist.Join)) {
	for i := range b.harness.Joins {
		if j := &b.harness.Joins[i]; j.Kind != netlist.ByContact && j.Kind != netlist.ByPlug && j.A != j.B {
			yield(i, j)
		}
	}
}

// held says that a terminal is something by itself, so that a conductor may
// well end there.
func (b *branches) held(t netlist.TerminalID) bool {
	return b.nets[t] != netlist.NoNet || b.book.Spare(t) != nil || !isMeans(&b.book.Terminals[t])
}

func (b *branches) prune(report func(verify.Finding)) {
	var loose []netlist.TerminalID
	for t := range b.degree {
		if b.degree[t] == 1 && !b.held(netlist.TerminalID(t)) {
			loose = append(loose, netlist.TerminalID(t))
		}
	}
	undone := undoneAt(b.bench)
	for len(loose) > 0 {
		t := loose[0]
		loose = loose[1:]
		for _, i := range b.at[b.start[t]:b.start[t+1]] {
			if b.cut[i] {
				continue
			}
			b.cut[i] = true
			j := &b.harness.Joins[i]
			other := j.A + j.B - t
			if isWire(j) && !b.twig[t] {
				b.tell(t, j.Joint, undone[t], report)
				b.twig[t] = true
			}
			b.twig[other] = b.twig[other] || b.twig[t]
			b.degree[t]--
			b.degree[other]--
			if b.degree[other] == 1 && !b.held(other) {
				loose = append(loose, other)
			}
		}
	}
}

func isWire(j *netlist.Join) bool { return j.Joint != nil && j.Joint.Kind == netlist.Wire }

func (b *branches) tell(end netlist.TerminalID, j *netlist.Joint, undone *netlist.Fact, report func(verify.Finding)) {
	net := b.has[b.built.of(end)]
	f := verify.Finding{
		Severity:  diag.Caution,
		ToDo:      !complete(b.bench, net),
		Message:   fmt.Sprintf("%s from %s ends at %s, where nothing else is", leadName(&b.bench.Leads[j.Lead]), b.book.Name(j.A+j.B-end), b.book.Name(end)),
		Terminals: []netlist.TerminalID{end}, Nets: netNames(b.book, net),
		Evidence: []diag.Note{verify.Quote(j.Fact, j.Place)},
		Action:   fmt.Sprintf("solder what belongs at %s, or take the lead off", b.book.Name(end)),
		Check:    fmt.Sprintf("look at %s: the lead alone is there", b.book.Name(end)),
	}
	if undone != nil {
		f.Evidence = append(f.Evidence, verify.Quote(undone, noPlace))
		f.Group = undoneGroup(undone)
	}
	report(f)
}

// islands tells conductors without an end that were not pruned: rings of
// leads that reach nothing of the plan.
func (b *branches) islands(report func(verify.Finding)) {
	held := make([]bool, len(b.book.Terminals))
	for t := range held {
		if b.held(netlist.TerminalID(t)) {
			held[b.built.of(netlist.TerminalID(t))] = true
		}
	}
	b.each(func(i int, j *netlist.Join) {
		root := b.built.of(j.A)
		if b.cut[i] || !isWire(j) || held[root] {
			return
		}
		held[root] = true // once
		report(verify.Finding{
			Severity:  diag.Caution,
			ToDo:      !b.bench.AllComplete(),
			Message:   fmt.Sprintf("%s from %s to %s and what is joined to it reach nothing of the plan", leadName(&b.bench.Leads[j.Joint.Lead]), b.book.Name(j.A), b.book.Name(j.B)),
			Terminals: []netlist.TerminalID{j.A, j.B},
			Evidence:  []diag.Note{verify.Quote(j.Fact, j.Joint.Place)},
			Action:    "solder what belongs there, or take the leads off",
		})
	})
}

// looseLeads tells flying leads of parts that are wired otherwise, which no
// net wants and nothing holds.
func looseLeads(c *verify.Case, nets []netlist.NetID, report func(verify.Finding)) {
	book := c.Book()
	var at []bool
	for _, p := range book.Parts {
		if len(p.Terminals) == len(p.Kind.Terminals) {
			continue
		}
		if at == nil {
			at = jointed(c.Bench)
		}
		used := false
		for _, t := range p.Terminals {
			used = used || at[t]
		}
		for _, t := range p.Terminals[len(p.Kind.Terminals):] {
			end, known := c.Meaning.Ends[t]
			if !used || !book.Terminals[t].Lead || at[t] || nets[t] != netlist.NoNet ||
				book.Spare(t) != nil || known && book.Spare(end) != nil {
				continue
			}
			f := verify.Finding{
				Severity:  diag.Caution,
				ToDo:      !c.Bench.AllComplete(),
				Message:   fmt.Sprintf("%s ends nowhere, and no source says what it is", book.Name(t)),
				Terminals: []netlist.TerminalID{t},
				Evidence:  []diag.Note{quoteKey(book, t)},
				Cause:     "The end of a winding carries that winding's full voltage while the transformer is on, whether it is used or not.",
				Action:    fmt.Sprintf("insulate its end by itself, and say: spare %s", book.Name(t)),
				Check:     "read it cold against the other leads of the part to learn which winding it is on",
			}
			if known {
				f.Message = fmt.Sprintf("%s, the end %s, is in no net and ends nowhere", book.Name(t), book.Terminals[end].Name)
			}
			report(f)
		}
	}
}

// quoteKey is the line of a colour key that names a lead.
func quoteKey(b *netlist.Book, lead netlist.TerminalID) diag.Note {
	for _, k := range b.Keys {
		for _, p := range k.Pairs {
			if p.Lead == lead {
				return verify.Quote(p.Fact, p.Place)
			}
		}
	}
	return verify.QuotePart(b.Terminals[lead].Part)
}
