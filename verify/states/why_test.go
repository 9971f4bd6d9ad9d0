package states

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"buzzout/netlist"
)

// benchScene is the wiring as built, in a setting told as in a notebook.
func benchScene(t testing.TB, b *netlist.Book, with ...string) *Scene {
	t.Helper()
	s := b.Bench().Setting.With(positionsOf(t, b, with...))
	return NewScene(b.Bench().Built(b.Meanings()[0], s), s)
}

func planScene(t testing.TB, b *netlist.Book, with ...string) *Scene {
	t.Helper()
	s := b.Bench().Setting.With(positionsOf(t, b, with...))
	return NewScene(b.Planned(b.Meanings()[0], s), s)
}

// positionsOf reads "J1 in", or "J1 PL1" for a plug.
func positionsOf(t testing.TB, b *netlist.Book, with ...string) netlist.Setting {
	t.Helper()
	s := netlist.Setting{}
	for _, w := range with {
		name, position, _ := strings.Cut(w, " ")
		ref, control, _ := strings.Cut(name, ".")
		p := b.Part(ref)
		if p == nil {
			t.Fatalf("no part %s", ref)
		}
		found := false
		for i, c := range p.Kind.Controls {
			at := slices.Index(c.Positions, position)
			plug := b.Part(position)
			switch {
			case control != "" && c.Name != control:
			case at >= 0:
				s[netlist.ControlRef{Part: p, Control: i}] = netlist.Position{Index: at, Known: true}
				found = true
			case plug != nil:
				s[netlist.ControlRef{Part: p, Control: i}] = netlist.Position{Index: 1, Known: true, Plug: plug}
				found = true
			}
		}
		if !found {
			t.Fatalf("no position %s", w)
		}
	}
	return s
}

func point(t testing.TB, b *netlist.Book, name string) netlist.TerminalID {
	t.Helper()
	id, problem, _ := b.Terminal(name)
	if id == netlist.NoTerminal {
		t.Fatal(problem)
	}
	return id
}

// pathText tells a path: terminals, and between them the fact or the contact.
func pathText(b *netlist.Book, path []netlist.PathStep) string {
	var text []string
	for _, step := range path {
		if by := step.By; by != nil {
			what := map[netlist.JoinKind]string{netlist.ByContact: "contact", netlist.ByPlug: "plug", netlist.Inside: "inside", netlist.ByColour: "colour"}[by.Kind]
			if by.Fact != nil {
				what = by.Fact.Text()
			}
			text = append(text, "["+what+"]")
		}
		text = append(text, b.Name(step.At))
	}
	return strings.Join(text, " ")
}

// gapText tells what a gap needs, and where it begins and ends.
func gapText(b *netlist.Book, gap []Step) string {
	if gap == nil {
		return "none"
	}
	text := []string{b.Name(gap[0].At)}
	for _, s := range gap[1:] {
		switch {
		case s.Net != netlist.NoNet:
			text = append(text, "[joint of "+b.Nets[s.Net].Name+"]")
		case s.Contact != nil && !s.Closed:
			text = append(text, fmt.Sprintf("[close %s-%s: %s]", b.Name(s.Contact.A), b.Name(s.Contact.B), strings.Join(s.Contact.PositionNames(), " or ")))
		default:
			continue
		}
	}
	return strings.Join(append(text, b.Name(gap[len(gap)-1].At)), " ")
}

const twoJacksBuilt = `
part J1, J2 jack-break
part R1, R2 resistor 68k
part R3     resistor 1M
part V1     triode
part TS1    tagstrip 3
part GND    post
net tip-1  J1.tip R1.1 R3.1 J2.break
net tip-2  J2.tip R2.1
net grid-1 R1.2 R2.2 V1.g
net ground J1.sleeve J1.break J2.sleeve R3.2 GND
spare V1.a V1.k

solder J1.tip R1.1 R3.1
solder J2.tip R2.1
solder TS1.1 R1.2 R2.2
lead green J1.tip J2.break "W1"
lead bare J1.sleeve J1.break
lead black J1.sleeve J2.sleeve GND
lead yellow TS1.1 V1.g
`

// The path tells each joint with the fact that made it, and each contact.
func TestWhyQuotesFacts(t *testing.T) {
	b := read(t, twoJacksBuilt)
	ans := benchScene(t, b).Why(point(t, b, "J2.tip"), point(t, b, "GND"))
	want := `J2.tip [contact] J2.break [lead green J1.tip J2.break "W1"] J1.tip [contact] J1.break [lead bare J1.sleeve J1.break] J1.sleeve [lead black J1.sleeve J2.sleeve GND] J2.sleeve [lead black J1.sleeve J2.sleeve GND] GND`
	if got := pathText(b, ans.Path); !ans.Joined || got != want {
		t.Errorf("joined %v by\n%s\nwant\n%s", ans.Joined, got, want)
	}
	if ans.Gap != nil || ans.Through != nil {
		t.Error("what is joined has no gap and needs no part")
	}
	if got := conditions(&ans.Table); got != "J1 out, J2 out" {
		t.Errorf("joined with %q", got)
	}
}

func conditions(t *Table) string {
	var list []string
	for _, c := range t.Holds {
		list = append(list, t.Words(c))
	}
	return strings.Join(list, "; ")
}

func TestGapNamesContactAndJoint(t *testing.T) {
	b := read(t, twoJacksBuilt)
	for _, c := range []struct {
		with []string
		a, b string
		gap  string
	}{
		// One contact of the way is open.
		{[]string{"J1 in"}, "J2.tip", "GND", "J2.tip [close J1.tip-J1.break: out] GND"},
		// Both are.
		{[]string{"J1 in", "J2 in"}, "J2.tip", "GND", "J2.tip [close J2.tip-J2.break: out] [close J1.tip-J1.break: out] GND"},
		// A joint of the plan is missing: R3.2 is in the air.
		{nil, "R3.2", "GND", "R3.2 [joint of ground] GND"},
		// Both a joint and a contact.
		{[]string{"J1 in"}, "R3.2", "J1.tip", "R3.2 [joint of ground] [close J1.tip-J1.break: out] J1.tip"},
		// Nothing joins a tip to the grid: resistors are no joints.
		{nil, "J2.tip", "V1.g", "none"},
		{nil, "V1.a", "GND", "none"},
	} {
		ans := benchScene(t, b, c.with...).Why(point(t, b, c.a), point(t, b, c.b))
		if got := gapText(b, ans.Gap); ans.Joined || got != c.gap || ans.GivenUp {
			t.Errorf("%s to %s with %v: joined %v, gap %s, want %s", c.a, c.b, c.with, ans.Joined, got, c.gap)
		}
	}
}

// What asks a control to be in two positions at once is not proposed.
func TestGapWithoutConflict(t *testing.T) {
	for _, c := range []struct{ name, notebook, gap string }{
		{"two ways of one switch in a row", `
part S1 toggle-2x2
part A, B post
net a A S1.a
net m S1.a1 S1.b2
net b B S1.b
`, "none"},
		{"and a longer way round", `
part S1 toggle-2x2
part S2, S3, S4 toggle-1x1
part A, B post
net a A S1.a S2.1
net m S1.a1 S1.b2
net b B S1.b S4.2
net n S2.2 S3.1
net o S3.2 S4.1
`, "A [close S2.1-S2.2: on] [close S3.1-S3.2: on] [close S4.1-S4.2: on] B"},
		{"a contact that would have to open for it", `
part S1 toggle-1x2
part S2 toggle-1x1
part A, B post
net a A S1.a1
net m S1.a
net b B S1.a2 S2.1
net c S2.2
`, "none"},
		{"three contacts, any two of which go together", `
part K1 transformer {
    terminals a b c d e f
    control knob 1..3
    contact a b when knob 1 2
    contact c d when knob 2 3
    contact e f when knob 1 3
}
part S1, S2 toggle-1x1
part A, B post
net a A K1.a S1.1
net m K1.b K1.c S2.2
net n K1.d K1.e
net b B K1.f
net s S1.2 S2.1
`, "A [close S1.1-S1.2: on] [close S2.1-S2.2: on] [close K1.c-K1.d: 2 or 3] B"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := read(t, c.notebook)
			sc := planScene(t, b)
			ans := sc.Why(point(t, b, "A"), point(t, b, "B"))
			if got := gapText(b, ans.Gap); got != c.gap {
				t.Errorf("gap %s, want %s", got, c.gap)
			}
			if (ans.Gap == nil) != ans.Table.Never() {
				t.Error("the gap and the table of settings do not agree")
			}
		})
	}
}

// The gap costs as little as the cheapest way in any setting: over random
// switches, against a search of its own in every setting.
func TestGapIsTheLeast(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 7))
		b, w := randomWeb(t, r, 3+r.IntN(4), 1+r.IntN(5))
		posts := postsOf(b)
		x, y := posts[0], posts[len(posts)-1]
		now := netlist.Setting{}
		for _, ref := range w.Controls {
			now[ref] = netlist.Position{Index: r.IntN(len(ref.Part.Kind.Controls[ref.Control].Positions))}
		}
		want := -1
		everySetting(b, w.Controls, func(s netlist.Setting, _ *netlist.Harness) {
			if c := cheapest(b, s, now, b.Net(x), b.Net(y)); c >= 0 && (want < 0 || c < want) {
				want = c
			}
		})
		sc := NewScene(b.Planned(netlist.Meaning{}, now), now)
		if sc.Harness.Joined(x, y) {
			continue
		}
		ans := sc.Why(x, y)
		got := -1
		if ans.Gap != nil {
			got = cost(ans.Gap) / costOfContact
		}
		if got != want || ans.GivenUp {
			t.Errorf("seed %d: the gap needs %d contacts, want %d", seed, got, want)
		}
	}
}

// cheapest is the fewest contacts, closed in a setting and open now, on a way
// from net x to net y over contacts that are closed in it; -1 for none. It
// shares nothing with the search for gaps.
func cheapest(b *netlist.Book, s, now netlist.Setting, x, y netlist.NetID) int {
	const far = 1 << 20
	price := make([]int, len(b.Nets))
	for i := range price {
		price[i] = far
	}
	price[x] = 0
	for range b.Nets {
		for _, p := range b.Parts {
			for _, k := range p.Kind.Contacts {
				ref := netlist.ControlRef{Part: p, Control: k.Control}
				if !slices.Contains(k.Positions, s[ref].Index) {
					continue
				}
				toll := 1
				if slices.Contains(k.Positions, now[ref].Index) {
					toll = 0
				}
				m, n := b.Net(p.Terminals[k.A]), b.Net(p.Terminals[k.B])
				price[m], price[n] = min(price[m], price[n]+toll), min(price[n], price[m]+toll)
			}
		}
	}
	if price[y] >= far {
		return -1
	}
	return price[y]
}

func throughText(b *netlist.Book, way []Pass) string {
	var list []string
	for _, p := range way {
		if p.Part != nil {
			list = append(list, fmt.Sprintf("%s>%s", b.Name(p.In), b.Name(p.Out)))
		}
	}
	return strings.Join(list, " ")
}

func TestThroughPassesParts(t *testing.T) {
	b := example(t, "lantern-plan.buzzout")
	for _, c := range []struct{ with, a, b, way string }{
		// The question of the lesson: the grid's resistor, and no other.
		{"J1 in", "V1.2", "J1.tip", "R1.2>R1.1"},
		{"J2 in", "V1.2", "J2.tip", "R2.2>R2.1"},
		// Volume: the coupling capacitor, the upper part of the track, the stopper.
		{"J1 in", "V1.1", "V1.7", "C2.1>C2.2 P1.cw>P1.wiper R6.1>R6.2"},
		// The secondary is a winding; the load is on the tap by S3.
		{"S3 8ohm", "T2.16ohm", "T2.4ohm", "T2.16ohm>T2.8ohm T2.8ohm>T2.4ohm"},
		// From the input to the second grid there is no way but by ground: V1
		// itself lets nothing through.
		{"J1 in", "J1.tip", "V1.3", "R3.1>R3.2 R4.2>R4.1"},
	} {
		sc := planScene(t, b, c.with)
		ans := sc.Why(point(t, b, c.a), point(t, b, c.b))
		if got := throughText(b, ans.Through); got != c.way {
			t.Errorf("%s to %s: through %q, want %q", c.a, c.b, got, c.way)
		}
		last := ans.Through[len(ans.Through)-1]
		if last.Part != nil || last.Copper[len(last.Copper)-1].At != point(t, b, c.b) {
			t.Errorf("%s to %s: the way does not end there", c.a, c.b)
		}
		for _, pass := range ans.Through[:len(ans.Through)-1] {
			if pass.Copper[0].At != pass.At || pass.Copper[len(pass.Copper)-1].At != pass.In {
				t.Errorf("%s to %s: the copper before %s does not lead there", c.a, c.b, b.Name(pass.In))
			}
		}
	}
}

// A way by ground may have fewer parts; it is not taken while there is another.
func TestThroughAvoidsGround(t *testing.T) {
	b := read(t, `
part J1, J2 jack
part R1..R6 resistor 100k
net in     J1.tip R1.1 R5.1
net m      R1.2 R2.1
net n      R2.2 R3.1
net out    R3.2 J2.tip R6.1
net ground J1.sleeve J2.sleeve R5.2 R6.2 R4.1
net loose  R4.2
`)
	sc := planScene(t, b)
	if got, want := throughText(b, sc.Through(point(t, b, "J1.tip"), point(t, b, "J2.tip"))), "R1.1>R1.2 R2.1>R2.2 R3.1>R3.2"; got != want {
		t.Errorf("through %s, want %s", got, want)
	}
	if got, want := throughText(b, sc.Through(point(t, b, "J1.tip"), point(t, b, "R4.2"))), "R5.1>R5.2 R4.1>R4.2"; got != want {
		t.Errorf("through %s, want %s", got, want)
	}
}

// Of two ways that need as much, that over contacts comes before that with a
// joint to make, which takes a soldering iron.
func TestGapTurnsBeforeItSolders(t *testing.T) {
	b := read(t, `
part A, Z post
part S1 rotary-1x3
part S2 toggle-1x1
part S3 toggle-1x1
net a A S1.a
net b S1.a1 S2.1
net c S2.2 Z
net d S1.a2 S3.1
net e S3.2 Z2
part Z2 post
spare S1.a3
lead red A S1.a
lead red S1.a1 S2.1
lead red S1.a2 S3.1
lead red S3.2 Z2
lead red Z2 Z
`)
	scene := benchScene(t, b)
	gap, _ := scene.Gap(b.Part("A").Terminals[0], b.Part("Z").Terminals[0])
	if got := gapText(b, gap); strings.Contains(got, "joint") || !strings.Contains(got, "S3") {
		t.Errorf("%s", got)
	}
}
