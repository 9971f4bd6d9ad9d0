package compare

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

// Clean builds: the demo, and the seven published circuits of
// testdata/circuits, whose sources are named in testdata/README.md.
func builds(t testing.TB) map[string]*netlist.Bench {
	t.Helper()
	files, err := filepath.Glob("../../testdata/circuits/*-built.buzzout")
	if err != nil || len(files) != 7 {
		t.Fatalf("%d builds of published circuits, want 7: %v", len(files), err)
	}
	list := map[string]*netlist.Bench{}
	for _, file := range append(files, "../../examples/lantern-built.buzzout") {
		list[strings.TrimSuffix(filepath.Base(file), "-built.buzzout")] = readBench(t, file)
	}
	return list
}

func readBench(t testing.TB, file string) *netlist.Bench {
	t.Helper()
	read := func(path string) (*lang.File, error) {
		text, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		return lang.Parse(diag.NewSource(path, string(text))), nil
	}
	main, err := read(file)
	if err != nil {
		t.Fatal(err)
	}
	b := netlist.Build(main, func(from, path string) (*lang.File, error) { return read(filepath.Join(filepath.Dir(from), path)) })
	for _, m := range b.Mistakes {
		t.Fatalf("%s: %s", m.Place, m.Message)
	}
	return b.Bench()
}

func TestCleanBuildsAreClean(t *testing.T) {
	for name, bench := range builds(t) {
		r := Compare(bench, bench.Book.Meanings()[0])
		for _, f := range r.Findings {
			t.Errorf("%s: %s: %s", name, f.Rule, f.Message)
		}
		if r.Done != r.Wanted || r.Wanted == 0 {
			t.Errorf("%s: %d of %d joints", name, r.Done, r.Wanted)
		}
	}
}

// A slip is a mistake planted at the bench: by what rule and at which
// terminals it should be told.
type slip struct {
	rule   string
	at     []netlist.TerminalID
	joints []netlist.Joint // as they were before
	net    string          // of a missing joint
}

// planter makes slips in a copy of a bench.
type planter struct {
	r      *rand.Rand
	bench  *netlist.Bench
	a      *adapted
	island []int32                 // of the clean bench, by terminal
	net    map[int32]netlist.NetID // by island: its net
	used   map[netlist.TerminalID]bool
}

func newPlanter(clean *netlist.Bench, seed uint64) *planter {
	b := *clean
	b.Joints = slices.Clone(clean.Joints)
	p := &planter{r: rand.New(rand.NewPCG(seed, 21)), bench: &b, used: map[netlist.TerminalID]bool{}}
	p.a = adapt(clean, clean.Book.Meanings()[0])
	s := newSets(len(clean.Book.Terminals))
	for _, f := range p.a.fixed {
		s.join(f[0], f[1])
	}
	for _, j := range clean.Joints {
		s.join(int32(j.A), int32(j.B))
	}
	p.net = map[int32]netlist.NetID{}
	for t := range clean.Book.Terminals {
		p.island = append(p.island, s.find(int32(t)))
		if p.a.class[t] >= 0 {
			p.net[p.island[t]] = netlist.NetID(p.a.class[t])
		}
	}
	return p
}

// netAt is the net that a terminal was joined to before anything was planted.
func (p *planter) netAt(t netlist.TerminalID) (netlist.NetID, bool) {
	n, ok := p.net[p.island[t]]
	return n, ok && len(p.bench.Book.Nets[n].Members) > 1
}

// end picks an end of a joint that could have been put elsewhere.
func (p *planter) end() (joint int, side int, ok bool) {
	i := p.r.IntN(len(p.bench.Joints))
	j := &p.bench.Joints[i]
	side = p.r.IntN(2)
	if j.Kind == netlist.Pad || p.used[j.A] || p.used[j.B] || j.A == j.B {
		return 0, 0, false
	}
	if (j.Kind == netlist.Leg || j.Kind == netlist.Hole) && side == 0 {
		return 0, 0, false
	}
	if j.Kind == netlist.Solder && side == 1 && p.a.brought(j.B) {
		return 0, 0, false
	}
	// A terminal with the same on both sides of it would hide the slip.
	_, known := p.netAt(j.A)
	return i, side, known
}

func (p *planter) ends(i int) *[2]netlist.TerminalID {
	j := &p.bench.Joints[i]
	return &[2]netlist.TerminalID{j.A, j.B}
}

func (p *planter) put(i, side int, to netlist.TerminalID) {
	if side == 0 {
		p.bench.Joints[i].A = to
	} else {
		p.bench.Joints[i].B = to
	}
}

func (p *planter) use(ts ...netlist.TerminalID) {
	for _, t := range ts {
		p.used[t] = true
	}
}

// anywhere is a terminal of the bench that is on some net.
func (p *planter) anywhere() (netlist.TerminalID, netlist.NetID, bool) {
	t := netlist.TerminalID(p.r.IntN(len(p.bench.Book.Terminals)))
	n, ok := p.netAt(t)
	term := &p.bench.Book.Terminals[t]
	return t, n, ok && term.Print == nil && !term.Lead && !p.used[t] && p.a.degree[t] > 0
}

var slips = []string{"missing-joint", "misplaced", "exchanged", "ring", "bridged", "reversed", "pins-shifted", "unfitted", "not-on-drawing", "together"}

// plant makes one slip of a kind, so that the wiring differs from the plan;
// false where this bench has no place for it.
func (p *planter) plant(kind string) (slip, bool) {
	for range 400 {
		if s, ok := p.try(kind); ok {
			return s, true
		}
	}
	return slip{}, false
}

func (p *planter) try(kind string) (slip, bool) {
	b := p.bench
	switch kind {
	case "missing-joint":
		i, _, ok := p.end()
		if !ok || !p.needed(i) {
			return slip{}, false
		}
		e := *p.ends(i)
		p.use(e[:]...)
		b.Joints = slices.Delete(b.Joints, i, i+1)
		net, _ := p.netAt(e[0])
		return slip{rule: "missing-joint", at: e[:], net: b.Book.Nets[net].Name}, true
	case "misplaced":
		i, side, ok := p.end()
		to, net, found := p.anywhere()
		if !ok || !found || !p.needed(i) {
			return slip{}, false
		}
		e := *p.ends(i)
		if here, _ := p.netAt(e[0]); here == net {
			return slip{}, false
		}
		p.use(e[0], e[1], to)
		p.put(i, side, to)
		return slip{rule: "misplaced", at: []netlist.TerminalID{to, e[1-side]}, joints: p.bench.Joints[i : i+1]}, true
	case "together":
		return p.together()
	case "exchanged", "ring":
		n := 2
		if kind == "ring" {
			n = 3
		}
		var is, sides []int
		var places []netlist.TerminalID
		nets := map[netlist.NetID]bool{}
		for len(is) < n {
			i, side, ok := p.end()
			if !ok || slices.Contains(is, i) || !p.needed(i) {
				return slip{}, false
			}
			e := *p.ends(i)
			net, _ := p.netAt(e[0])
			nets[net] = true
			is, sides, places = append(is, i), append(sides, side), append(places, e[side])
		}
		if len(nets) < n || p.polarLegs(is) {
			return slip{}, false
		}
		s := slip{rule: "exchanged", at: places}
		for k, i := range is {
			e := *p.ends(i)
			p.use(e[:]...)
			p.put(i, sides[k], places[(k+1)%n])
			s.joints = append(s.joints, b.Joints[i])
		}
		return s, true
	case "bridged":
		x, n, ok := p.anywhere()
		y, m, found := p.anywhere()
		if !ok || !found || n == m {
			return slip{}, false
		}
		p.use(x, y)
		b.Joints = append(b.Joints, netlist.Joint{Kind: netlist.Wire, A: x, B: y, Fact: b.Book.Facts[0], Place: b.Book.Facts[0].Place(), Lead: -1})
		return slip{rule: "bridged", at: []netlist.TerminalID{x, y}}, true
	case "not-on-drawing":
		x, _, ok := p.anywhere()
		y := netlist.TerminalID(p.r.IntN(len(b.Book.Terminals)))
		if !ok || p.a.class[y] != alien || p.used[y] || b.Book.Terminals[y].Lead {
			return slip{}, false
		}
		p.use(x, y)
		b.Joints = append(b.Joints, netlist.Joint{Kind: netlist.Wire, A: x, B: y, Fact: b.Book.Facts[0], Place: b.Book.Facts[0].Place(), Lead: -1})
		return slip{rule: "not-on-drawing", at: []netlist.TerminalID{x, y}}, true
	}
	return p.wholePart(kind)
}

// together puts two ends that are on one tag or pin onto another, of another net.
func (p *planter) together() (slip, bool) {
	i, side, ok := p.end()
	to, net, found := p.anywhere()
	if !ok || !found || !p.a.place[to] {
		return slip{}, false
	}
	from := p.ends(i)[side]
	if here, _ := p.netAt(from); here == net || !p.a.place[from] {
		return slip{}, false
	}
	for range 50 {
		k, other, ok := p.end()
		if !ok || k == i || p.ends(k)[other] != from || !p.alone(i) || !p.alone(k) {
			continue
		}
		kept := []netlist.TerminalID{p.ends(i)[1-side], p.ends(k)[1-other]}
		p.put(i, side, to)
		p.put(k, other, to)
		r := Compare(p.bench, p.bench.Book.Meanings()[0])
		if len(mistaken(r.Findings)) == 0 { // the two do without one another
			p.put(i, side, from)
			p.put(k, other, from)
			return slip{}, false
		}
		p.use(append(kept, from, to)...)
		return slip{rule: "misplaced", at: append(kept, to), joints: []netlist.Joint{p.bench.Joints[i], p.bench.Joints[k]}}, true
	}
	return slip{}, false
}

// alone says that a joint's fact made no other: a lead that goes on from its place
// takes all its pieces there.
func (p *planter) alone(joint int) bool {
	n := 0
	for i := range p.bench.Joints {
		if j := &p.bench.Joints[i]; j.Fact == p.bench.Joints[joint].Fact && j.Kind != netlist.Leg {
			n++
		}
	}
	return n < 2
}

// wholePart plants what concerns a part as a whole.
func (p *planter) wholePart(kind string) (slip, bool) {
	b := p.bench
	part := b.Book.Parts[p.r.IntN(len(b.Book.Parts))]
	own := part.Terminals[:len(part.Kind.Terminals)]
	var at []int
	nets := map[netlist.NetID]bool{}
	for i := range b.Joints {
		for _, t := range *p.ends(i) {
			if slices.Contains(own, t) {
				if !slices.Contains(at, i) {
					at = append(at, i)
				}
				n, ok := p.netAt(t)
				if !ok || p.used[b.Joints[i].A] || p.used[b.Joints[i].B] {
					return slip{}, false
				}
				nets[n] = true
			}
		}
	}
	if len(nets) < 2 || part.Kind.Any {
		return slip{}, false
	}
	polar := slices.ContainsFunc(part.Kind.Elements, func(e parts.Element) bool {
		return e.Type == parts.Capacitance && e.Polar || e.Type == parts.Diode
	})
	var to []int
	switch kind {
	case "unfitted":
		if len(own) != 2 || len(at) != 2 {
			return slip{}, false
		}
		for n := len(at) - 1; n >= 0; n-- {
			b.Joints = slices.Delete(b.Joints, at[n], at[n]+1)
		}
		p.use(own...)
		return slip{rule: "unfitted", at: own}, true
	case "reversed":
		if len(own) != 2 || !polar {
			return slip{}, false
		}
		to = []int{1, 0}
	case "pins-shifted":
		turns := part.Kind.Turns()
		if len(part.Kind.Rings) == 0 || len(turns) == 0 || len(nets) < 3 {
			return slip{}, false
		}
		to = turns[p.r.IntN(len(turns))].Perm
	}
	moved := map[netlist.TerminalID]netlist.TerminalID{}
	for i, t := range to {
		moved[own[i]] = own[t]
	}
	before := Compare(b, b.Book.Meanings()[0])
	joints := slices.Clone(b.Joints)
	for _, i := range at {
		for side, t := range *p.ends(i) {
			if new, ok := moved[t]; ok {
				p.put(i, side, new)
			}
		}
	}
	if after := Compare(b, b.Book.Meanings()[0]); len(mistaken(after.Findings)) == len(mistaken(before.Findings)) {
		b.Joints = joints // an alike way round: no mistake
		return slip{}, false
	}
	p.use(own...)
	return slip{rule: kind, at: own}, true
}

// needed says that a joint alone holds its net together, so that the wiring
// is different without it.
func (p *planter) needed(without int) bool {
	s := newSets(len(p.bench.Book.Terminals))
	for _, f := range p.a.fixed {
		s.join(f[0], f[1])
	}
	for i, j := range p.bench.Joints {
		if i != without {
			s.join(int32(j.A), int32(j.B))
		}
	}
	e := *p.ends(without)
	side := func(t netlist.TerminalID) bool { // something of the plan is on this side
		for x := range p.a.class {
			if p.a.class[x] >= 0 && s.find(int32(x)) == s.find(int32(t)) {
				return true
			}
		}
		return false
	}
	return s.find(int32(e[0])) != s.find(int32(e[1])) && side(e[0]) && side(e[1])
}

// polarLegs says that the legs of one part would be exchanged: that is
// "reversed", or, where the ends are alike, nothing at all.
func (p *planter) polarLegs(is []int) bool {
	var seen []*netlist.Part
	for _, i := range is {
		for _, t := range *p.ends(i) {
			if part := p.bench.Book.Terminals[t].Part; part != nil && !part.Kind.Any && len(part.Kind.Terminals) < 10 {
				if slices.Contains(seen, part) {
					return true
				}
				seen = append(seen, part)
			}
		}
	}
	return false
}

// tells says that a finding or one of its rivals is about a slip: by its rule
// and the joints it is about (which of its two ends of an exchanged lead is
// named does not matter: the two leads are on each other's places), the net of
// a missing joint, or the terminals.
func tells(found []verify.Finding, s slip, book *netlist.Book) bool {
	for _, f := range found {
		if f.Rule == s.rule {
			about := slices.ContainsFunc(f.Terminals, func(t netlist.TerminalID) bool { return slices.Contains(s.at, t) })
			for _, j := range s.joints {
				about = about || slices.ContainsFunc(f.Evidence, func(n diag.Note) bool { return n.Place == j.Place })
			}
			if about || s.net != "" && slices.Contains(f.Nets, s.net) {
				return true
			}
		}
		for _, r := range f.Rivals {
			for _, t := range s.at {
				if namesIt(r.Message+" "+r.Action, book.Name(t)) {
					return true
				}
			}
		}
	}
	return false
}

// namesIt says that a text has a name as a whole word: TB1.1 is not in TB1.12.
func namesIt(text, name string) bool {
	return slices.Contains(strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;:", r) }), name)
}

// mistaken are the findings that say that something is wrong: like ends used
// the other way round are none.
func mistaken(found []verify.Finding) []verify.Finding {
	return slices.DeleteFunc(slices.Clone(found), func(f verify.Finding) bool { return f.Rule == "ends-exchanged" })
}

// TestPlantedSlips plants one and two slips of every kind in each clean build.
// Every one has to be found, with no more findings than slips, and in 98 of
// 100 cases told as it was planted, or listed as another explanation.
func TestPlantedSlips(t *testing.T) {
	if testing.Short() {
		t.Skip("counted over many trials")
	}
	const seeds uint64 = 6
	list := builds(t)
	var names []string
	for name := range list {
		names = append(names, name)
	}
	slices.Sort(names)
	for n := 1; n <= 2; n++ {
		planted, same := 0, 0
		for _, name := range names {
			for seed := range seeds {
				for k, first := range slips {
					kinds := []string{first, slips[(k+int(seed)+1)%len(slips)]}[:n]
					p := newPlanter(list[name], seed*100+uint64(k))
					var made []slip
					for _, kind := range kinds {
						if s, ok := p.plant(kind); ok {
							made = append(made, s)
						}
					}
					if len(made) < n {
						continue
					}
					r := Compare(p.bench, p.bench.Book.Meanings()[0])
					r.Findings = mistaken(r.Findings)
					where := fmt.Sprintf("%s, seed %d, %v", name, seed, kinds)
					if len(r.Findings) == 0 {
						t.Errorf("%s: not found", where)
					}
					if len(r.Findings) > n {
						t.Errorf("%s: %d findings for %d slips: %s", where, len(r.Findings), n, p.describe(made, r))
					}
					for _, s := range made {
						planted++
						if tells(r.Findings, s, p.bench.Book) || len(r.Findings) < n {
							same++
						} else {
							t.Logf("%s: told otherwise: %s", where, p.describe(made, r))
						}
					}
				}
			}
		}
		t.Logf("%d slips at a time: %d planted, %d told as planted or listed (%.1f %%)", n, planted, same, 100*float64(same)/float64(planted))
		if same*100 < planted*98 {
			t.Errorf("%d slips at a time: only %d of %d told as planted or listed", n, same, planted)
		}
	}
}

func (p *planter) describe(made []slip, r *Result) string {
	var text strings.Builder
	for _, s := range made {
		fmt.Fprintf(&text, "\n  planted %s at", s.rule)
		for _, t := range s.at {
			text.WriteString(" " + p.bench.Book.Name(t))
		}
	}
	for _, f := range r.Findings {
		fmt.Fprintf(&text, "\n  told %s: %s", f.Rule, f.Message)
		for _, rival := range f.Rivals {
			fmt.Fprintf(&text, "\n    or %s", rival.Message)
		}
	}
	return text.String()
}
