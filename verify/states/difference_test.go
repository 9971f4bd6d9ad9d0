package states

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"buzzout/netlist"
)

func contactsText(b *netlist.Book, list []*Contact) string {
	var names []string
	for _, c := range list {
		names = append(names, fmt.Sprintf("%s-%s", b.Name(c.A), b.Name(c.B)))
	}
	return strings.Join(names, " ")
}

func TestDifferenceOfTwoJacks(t *testing.T) {
	b := read(t, twoJacksBuilt)
	for _, c := range []struct {
		before, after []string
		a, b          string
		contacts      string
	}{
		// A plug in J1 takes its tip off ground.
		{nil, []string{"J1 in"}, "J1.tip", "GND", "J1.tip-J1.break"},
		{nil, []string{"J1 in"}, "J2.tip", "GND", "J1.tip-J1.break"},
		{nil, []string{"J2 in"}, "J2.tip", "GND", "J2.tip-J2.break"},
		// With both plugs either contact explains it: one is told.
		{nil, []string{"J1 in", "J2 in"}, "J2.tip", "GND", "J2.tip-J2.break"},
		// Coming back, the way needs both.
		{[]string{"J1 in", "J2 in"}, nil, "J2.tip", "GND", "J2.tip-J2.break J1.tip-J1.break"},
		{[]string{"J1 in"}, []string{"J2 in"}, "J1.tip", "GND", "J1.tip-J1.break"},
		// Nothing changes.
		{nil, []string{"J2 in"}, "J1.tip", "GND", ""},
		{[]string{"J1 in"}, []string{"J1 in", "J2 in"}, "J1.tip", "GND", ""},
	} {
		before, after := benchScene(t, b, c.before...), benchScene(t, b, c.after...)
		d := before.Difference(after, point(t, b, c.a), point(t, b, c.b))
		if got := contactsText(b, d.Contacts); got != c.contacts {
			t.Errorf("%s to %s, %v to %v: %q, want %q", c.a, c.b, c.before, c.after, got, c.contacts)
		}
		if (d.Before != d.After) != (c.contacts != "") || (d.Path == nil) != (d.Before == d.After) {
			t.Errorf("%s to %s, %v to %v: joined %v and %v, path %v", c.a, c.b, c.before, c.after, d.Before, d.After, d.Path)
		}
	}
}

// One plug in place of another: the contact of the plug itself makes the
// difference, and the jack's position does not change at all.
func TestDifferenceOfPlugs(t *testing.T) {
	b := read(t, `
part J1 jack
part PL1, PL2 plug
part A post
net a  A J1.tip
net p1 PL1.tip
net p2 PL2.tip
`)
	one, other, none := planScene(t, b, "J1 PL1"), planScene(t, b, "J1 PL2"), planScene(t, b, "J1 in")
	for _, c := range []struct {
		from, to *Scene
		point    string
		contacts string
	}{
		{one, other, "PL1.tip", "J1.tip-PL1.tip"},
		{one, other, "PL2.tip", "J1.tip-PL2.tip"},
		{one, none, "PL1.tip", "J1.tip-PL1.tip"},
		{none, one, "PL1.tip", "J1.tip-PL1.tip"},
	} {
		d := c.from.Difference(c.to, point(t, b, "A"), point(t, b, c.point))
		if got := contactsText(b, d.Contacts); got != c.contacts || d.Before == d.After {
			t.Errorf("%s: %q, joined %v and %v, want %q", c.point, got, d.Before, d.After, c.contacts)
		}
	}
}

// The path goes over the contacts that are told, not over others that are
// shorter but changed as well.
func TestDifferencePathGoesOverItsContacts(t *testing.T) {
	// Two contacts in a row by S1, or one by S2 and a wire that is a bench's:
	// the way over S2 is longer in joints here, and needs one contact only.
	b := read(t, `
part S1 toggle-2x1
part S2 toggle-1x1
part TS1 tagstrip 5
part A, B post
net a A S1.a1 S2.1
net m S1.a2 S1.b1
net b B S1.b2 S2.2
solder A S1.a1
lead red A S2.1
solder S1.a2 S1.b1
solder S1.b2 B
lead red S2.2 TS1.1
lead red TS1.1 TS1.2
lead red TS1.2 TS1.3
lead red TS1.3 B
`)
	before, after := benchScene(t, b), benchScene(t, b, "S1 on", "S2 on")
	d := before.Difference(after, point(t, b, "A"), point(t, b, "B"))
	if got := contactsText(b, d.Contacts); got != "S2.1-S2.2" {
		t.Fatalf("contacts %q, want that of S2", got)
	}
	if text := pathText(b, d.Path); !strings.Contains(text, "S2.1 [contact] S2.2") || strings.Contains(text, "S1.b") {
		t.Errorf("the path is %s", text)
	}
}

// wires are the contacts of a random web as pairs of nets, with whether each
// is closed in two settings. Found from the kinds, with nothing of the web.
type wire struct {
	part   *netlist.Part
	a, b   netlist.TerminalID
	m, n   netlist.NetID
	before bool
	after  bool
}

func wiresOf(b *netlist.Book, before, after netlist.Setting) []wire {
	var list []wire
	for _, p := range b.Parts {
		for _, k := range p.Kind.Contacts {
			ref := netlist.ControlRef{Part: p, Control: k.Control}
			w := wire{part: p, a: p.Terminals[k.A], b: p.Terminals[k.B]}
			w.m, w.n = b.Net(w.a), b.Net(w.b)
			w.before = slices.Contains(k.Positions, before[ref].Index)
			w.after = slices.Contains(k.Positions, after[ref].Index)
			list = append(list, w)
		}
	}
	return list
}

// one says that two nets are joined by the wires taken.
func one(wires []wire, x, y netlist.NetID, take func(int) bool) bool {
	reached := map[netlist.NetID]bool{x: true}
	for grew := true; grew; {
		grew = false
		for i, w := range wires {
			if take(i) && reached[w.m] != reached[w.n] {
				reached[w.m], reached[w.n] = true, true
				grew = true
			}
		}
	}
	return reached[y]
}

// fewest is the size of the smallest set of the given wires for which ok
// holds; -1 for none. All sets are tried, small ones first.
func fewest(from []int, ok func(map[int]bool) bool) int {
	for size := 0; size <= len(from); size++ {
		set := map[int]bool{}
		var choose func(at, left int) bool
		choose = func(at, left int) bool {
			if left == 0 {
				return ok(set)
			}
			for i := at; i < len(from); i++ {
				set[from[i]] = true
				if choose(i+1, left-1) {
					return true
				}
				delete(set, from[i])
			}
			return false
		}
		if choose(0, size) {
			return size
		}
	}
	return -1
}

// TestDifferenceIsTheLeast: over random switches and two random settings, the
// contacts told do explain the difference, and no smaller set does.
func TestDifferenceIsTheLeast(t *testing.T) {
	differences := 0
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 11))
		b, w := randomWeb(t, r, 3+r.IntN(4), 2+r.IntN(6))
		posts := postsOf(b)
		x, y := posts[0], posts[1+r.IntN(len(posts)-1)]
		before, after := netlist.Setting{}, netlist.Setting{}
		for _, ref := range w.Controls {
			n := len(ref.Part.Kind.Controls[ref.Control].Positions)
			before[ref] = netlist.Position{Index: r.IntN(n)}
			after[ref] = netlist.Position{Index: r.IntN(n)}
		}
		wires := wiresOf(b, before, after)
		nx, ny := b.Net(x), b.Net(y)
		wasOne := one(wires, nx, ny, func(i int) bool { return wires[i].before })
		isOne := one(wires, nx, ny, func(i int) bool { return wires[i].after })
		sc := NewScene(b.Planned(netlist.Meaning{}, before), before)
		other := NewScene(b.Planned(netlist.Meaning{}, after), after)
		d := sc.Difference(other, x, y)
		if d.Before != wasOne || d.After != isOne {
			t.Fatalf("seed %d: joined %v and %v, want %v and %v", seed, d.Before, d.After, wasOne, isOne)
		}
		if wasOne == isOne {
			if d.Contacts != nil || d.Path != nil {
				t.Errorf("seed %d: nothing changed, and something is told", seed)
			}
			continue
		}
		differences++
		explains := func(set map[int]bool) bool {
			if wasOne { // without these, the two would have been apart before
				return !one(wires, nx, ny, func(i int) bool { return wires[i].before && !set[i] })
			}
			return one(wires, nx, ny, func(i int) bool { return wires[i].before && wires[i].after || set[i] })
		}
		var changed []int
		told := map[int]bool{}
		for i, w := range wires {
			if w.before == wasOne && w.after == isOne {
				changed = append(changed, i)
			}
			if slices.ContainsFunc(d.Contacts, func(c *Contact) bool { return c.A == w.a && c.B == w.b && c.Part == w.part }) {
				told[i] = true
			}
		}
		for i := range told {
			if !slices.Contains(changed, i) {
				t.Errorf("seed %d: a contact is told that did not change so", seed)
			}
		}
		if want := fewest(changed, explains); len(told) != want || len(d.Contacts) != want || !explains(told) {
			t.Errorf("seed %d: %d contacts, %d are enough; they explain it: %v", seed, len(d.Contacts), want, explains(told))
		}
		checkPath(t, seed, d.Path, x, y)
		if !wasOne {
			for _, step := range d.Path {
				if j := step.By; j != nil && j.Kind == netlist.ByContact {
					i := slices.IndexFunc(wires, func(w wire) bool { return w.a == j.A && w.b == j.B && w.part == j.Part })
					if !wires[i].before && !told[i] {
						t.Errorf("seed %d: the path goes over a contact that closed and is not told", seed)
					}
				}
			}
		}
	}
	if differences < 50 {
		t.Errorf("only %d differences were met", differences)
	}
}

// checkPath says that each step is joined to the one before.
func checkPath(t *testing.T, seed uint64, path []netlist.PathStep, x, y netlist.TerminalID) {
	if len(path) == 0 || path[0].At != x || path[len(path)-1].At != y || path[0].By != nil {
		t.Errorf("seed %d: the path does not lead from one to the other", seed)
		return
	}
	for i := 1; i < len(path); i++ {
		j := path[i].By
		if j == nil || !(j.A == path[i-1].At && j.B == path[i].At || j.B == path[i-1].At && j.A == path[i].At) {
			t.Errorf("seed %d: step %d of the path is joined to nothing", seed, i)
		}
	}
}
