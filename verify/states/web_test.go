package states

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"buzzout/netlist"
)

// randomWeb writes a book of switches between posts, and builds its web.
func randomWeb(t testing.TB, r *rand.Rand, posts, switches int) (*netlist.Book, *Web) {
	t.Helper()
	var text strings.Builder
	for i := range posts {
		fmt.Fprintf(&text, "part P%d post\n", i)
	}
	nets := make([][]string, posts)
	for i := range switches {
		ends := []string{"1", "2"}
		if r.IntN(3) == 0 {
			fmt.Fprintf(&text, "part S%d toggle-2x3\n", i)
			ends = []string{"a", "a1", "a2", "b", "b1", "b2"}
		} else {
			fmt.Fprintf(&text, "part S%d toggle-1x1\n", i)
		}
		for _, e := range ends {
			n := r.IntN(posts)
			nets[n] = append(nets[n], fmt.Sprintf("S%d.%s", i, e))
		}
	}
	for i, members := range nets {
		fmt.Fprintf(&text, "net P%d P%d %s\n", i, i, strings.Join(members, " "))
	}
	b := read(t, text.String())
	return b, NewWeb(b.Planned(netlist.Meaning{}, nil), nil)
}

// everySetting goes through settings as plainly as can be: a counter, and a
// harness drawn afresh for each. It shares nothing with Walk.
func everySetting(b *netlist.Book, controls []netlist.ControlRef, visit func(netlist.Setting, *netlist.Harness)) {
	at := make([]int, len(controls))
	for {
		s := netlist.Setting{}
		for i, ref := range controls {
			s[ref] = netlist.Position{Index: at[i]}
		}
		visit(s, b.Planned(netlist.Meaning{}, s))
		i := 0
		for ; i < len(at); i++ {
			if at[i]++; at[i] < len(controls[i].Part.Kind.Controls[controls[i].Control].Positions) {
				break
			}
			at[i] = 0
		}
		if i == len(at) {
			return
		}
	}
}

func TestWalkAgreesWithFreshHarnesses(t *testing.T) {
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 2))
		b, w := randomWeb(t, r, 3+r.IntN(5), 1+r.IntN(5))
		joined := map[string]bool{}
		key := func(s netlist.Setting, x, y int) string {
			var k strings.Builder
			for _, ref := range w.Controls {
				fmt.Fprintf(&k, "%d ", s.PositionOf(ref).Index)
			}
			return fmt.Sprintf("%s%d %d", k.String(), x, y)
		}
		posts := postsOf(b)
		everySetting(b, w.Controls, func(s netlist.Setting, h *netlist.Harness) {
			for x, px := range posts {
				for y, py := range posts {
					joined[key(s, x, y)] = h.Joined(px, py)
				}
			}
		})
		all := make([]int, len(w.Controls))
		for i := range all {
			all[i] = i
		}
		seen := 0
		w.Walk(all, make([]uint8, len(all)), func(walk *Walk) bool {
			seen++
			s := netlist.Setting{}
			for i, ref := range w.Controls {
				s[ref] = netlist.Position{Index: int(walk.At[i])}
			}
			for x, px := range posts {
				for y, py := range posts {
					if got, want := walk.Joined(w.Conductor(px), w.Conductor(py)), joined[key(s, x, y)]; got != want {
						t.Fatalf("seed %d, setting %v, posts %d and %d: joined %v, want %v", seed, walk.At, x, y, got, want)
					}
				}
			}
			return true
		})
		if want := w.settings(all, Bound); seen != want {
			t.Fatalf("seed %d: %d settings visited, want %d", seed, seen, want)
		}
	}
}

func postsOf(b *netlist.Book) []netlist.TerminalID {
	var list []netlist.TerminalID
	for _, p := range b.Parts {
		if strings.HasPrefix(p.Ref, "P") {
			list = append(list, p.Terminals[0])
		}
	}
	return list
}

// TestTableAgreesWithFreshHarnesses checks that the controls which Between
// leaves out change nothing, and that the conditions cover each setting in
// which the two are joined once, and no other.
func TestTableAgreesWithFreshHarnesses(t *testing.T) {
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 3))
		b, w := randomWeb(t, r, 3+r.IntN(5), 1+r.IntN(5))
		posts := postsOf(b)
		x, y := posts[r.IntN(len(posts))], posts[r.IntN(len(posts))]
		table := w.Table(w.Conductor(x), w.Conductor(y), make([]uint8, len(w.Controls)))
		everySetting(b, w.Controls, func(s netlist.Setting, h *netlist.Harness) {
			covered := 0
			for _, c := range table.Holds {
				in := true
				for i, ref := range table.Controls {
					in = in && c[i]>>s.PositionOf(ref).Index&1 != 0
				}
				if in {
					covered++
				}
			}
			want := 0
			if h.Joined(x, y) {
				want = 1
			}
			if covered != want {
				t.Fatalf("seed %d: setting covered by %d conditions, want %d", seed, covered, want)
			}
		})
		if !slices.IsSortedFunc(table.Holds, slices.Compare) {
			t.Errorf("seed %d: conditions are not in order", seed)
		}
	}
}

// A ring of posts with a switch in each gap, and one switch to a post outside:
// only the ring's switches lie between two posts of the ring.
func TestBetweenLeavesOutWhatHangsAside(t *testing.T) {
	b := read(t, `
part A, B, C, D post
part S1, S2, S3, S4 toggle-1x1
net A S1.1 S3.2
net B S1.2 S2.1
net C S2.2 S3.1 S4.1
net D S4.2
`)
	w := NewWeb(b.Planned(netlist.Meaning{}, nil), nil)
	posts := func(ref string) int32 { return w.Conductor(b.Part(ref).Terminals[0]) }
	var names []string
	for _, c := range w.Between(posts("A"), posts("B")) {
		names = append(names, w.Controls[c].Name())
	}
	if want := []string{"S1", "S2", "S3"}; !slices.Equal(names, want) {
		t.Errorf("between A and B: %v, want %v", names, want)
	}
	table := w.Table(posts("A"), posts("B"), make([]uint8, len(w.Controls)))
	if table.Settings != 8 || table.Joined != 5 {
		t.Errorf("joined in %d of %d settings, want 5 of 8", table.Joined, table.Settings)
	}
	if w.Between(posts("A"), posts("A")) != nil {
		t.Error("something decides whether A is joined to A")
	}
}

// TestTwentyControlsAreExact: a chain of twenty on-off switches joins its ends
// in one of its 1,048,576 settings.
func TestTwentyControlsAreExact(t *testing.T) {
	var text strings.Builder
	text.WriteString("part A, Z post\npart S1..S20 toggle-1x1\nnet A S1.1\nnet Z S20.2\n")
	for i := 1; i < 20; i++ {
		fmt.Fprintf(&text, "net n%d S%d.2 S%d.1\n", i, i, i+1)
	}
	b := read(t, text.String())
	w := NewWeb(b.Planned(netlist.Meaning{}, nil), nil)
	table := w.Table(w.Conductor(b.Part("A").Terminals[0]), w.Conductor(b.Part("Z").Terminals[0]), make([]uint8, 20))
	if table.Settings != 1<<20 || table.Joined != 1 || len(table.Holds) != 1 || len(table.Left) != 0 {
		t.Errorf("joined in %d of %d settings, by %d conditions", table.Joined, table.Settings, len(table.Holds))
	}
}

// Beyond the bound, what was not moved is said.
func TestBeyondTheBoundIsSaid(t *testing.T) {
	var text strings.Builder
	text.WriteString("part A, Z post\npart S1..S26 toggle-1x1\nnet A S1..S26.1\nnet Z S1..S26.2\n")
	b := read(t, text.String())
	w := NewWeb(b.Planned(netlist.Meaning{}, nil), nil)
	table := w.Table(w.Conductor(b.Part("A").Terminals[0]), w.Conductor(b.Part("Z").Terminals[0]), make([]uint8, 26))
	if table.Settings != Bound || len(table.Left) != 4 {
		t.Errorf("%d settings looked at, %d controls left; want %d and 4", table.Settings, len(table.Left), Bound)
	}
}

// BenchmarkSettings: all settings of 16 two-way switches over 1,000 terminals,
// against a walk begun afresh for each setting, over the same network in the
// same run.
func BenchmarkSettings(b *testing.B) {
	var text strings.Builder
	text.WriteString("part S1..S16 toggle-2x2\n")
	for i := 1; i <= 400; i++ {
		fmt.Fprintf(&text, "part R%d resistor 1k\npart X%d post\n", i, i)
	}
	r := rand.New(rand.NewPCG(5, 5))
	nets := make([][]string, 60)
	for i := 1; i <= 400; i++ {
		for _, m := range []string{fmt.Sprintf("R%d.1", i), fmt.Sprintf("R%d.2", i), fmt.Sprintf("X%d", i)} {
			n := r.IntN(len(nets))
			nets[n] = append(nets[n], m)
		}
	}
	for i := 1; i <= 16; i++ {
		for _, e := range []string{"a", "a1", "a2", "b", "b1", "b2"} {
			n := r.IntN(len(nets))
			nets[n] = append(nets[n], fmt.Sprintf("S%d.%s", i, e))
		}
	}
	for i, members := range nets {
		fmt.Fprintf(&text, "net n%d %s\n", i, strings.Join(members, " "))
	}
	book := read(b, text.String())
	h := book.Planned(netlist.Meaning{}, nil)
	w := NewWeb(h, nil)
	all := make([]int, len(w.Controls))
	for i := range all {
		all[i] = i
	}
	at := make([]uint8, len(all))
	x, y := w.Conductor(book.Part("X1").Terminals[0]), w.Conductor(book.Part("X2").Terminals[0])
	b.Run("undone", func(b *testing.B) {
		for b.Loop() {
			n := 0
			w.Walk(all, at, func(walk *Walk) bool {
				if walk.Joined(x, y) {
					n++
				}
				return true
			})
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/65536, "ns/setting")
	})
	b.Run("afresh", func(b *testing.B) {
		for b.Loop() {
			h := book.Planned(netlist.Meaning{}, netlist.Setting{})
			h.Joined(book.Part("X1").Terminals[0], book.Part("X2").Terminals[0])
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N), "ns/setting")
	})
	b.Run("afresh-sets", func(b *testing.B) { // a fresh union-find over all terminals, the plainest fast way
		for b.Loop() {
			s := newSets(len(book.Terminals))
			for i := range h.Joins {
				s.join(int32(h.Joins[i].A), int32(h.Joins[i].B))
			}
			s.find(int32(book.Part("X1").Terminals[0]))
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N), "ns/setting")
	})
}

// Of more settings than are looked at, nothing is called certain.
func TestNothingIsCertainBeyondTheBound(t *testing.T) {
	var text strings.Builder
	text.WriteString("part A, Z post\npart S1..S23 toggle-1x1\nnet A S1.1\nnet Z S23.2\n")
	for i := 1; i < 23; i++ {
		fmt.Fprintf(&text, "net n%d S%d.2 S%d.1\n", i, i, i+1)
	}
	b := read(t, text.String())
	w := NewWeb(b.Planned(netlist.Meaning{}, nil), nil)
	a, z := w.Conductor(b.Part("A").Terminals[0]), w.Conductor(b.Part("Z").Terminals[0])
	at := make([]uint8, len(w.Controls))
	if w.never(a, z, at, -1) {
		t.Error("called certain, though S23 was not moved, with which on they can be joined")
	}
	if !w.never(a, z, at, 22) {
		t.Error("with S23 held off it is certain that they are never joined")
	}
}
