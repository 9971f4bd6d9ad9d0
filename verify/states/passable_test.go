package states

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"buzzout/netlist"
	"buzzout/verify"
)

// TestPassableAgreesWithPainting holds the search for one way against all
// settings, each painted by itself: a way is found exactly where some setting
// joins the two, with none of the controls held and with each in turn.
func TestPassableAgreesWithPainting(t *testing.T) {
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 3))
		b, w := randomWeb(t, r, 3+r.IntN(4), 1+r.IntN(4))
		posts := postsOf(b)
		at := make([]uint8, len(w.Controls))
		for i := range at {
			at[i] = uint8(r.IntN(w.positions(i)))
		}
		for hold := -1; hold < len(w.Controls); hold++ {
			joined := map[[2]int]bool{}
			everySetting(b, w.Controls, func(s netlist.Setting, _ *netlist.Harness) {
				if hold >= 0 && s.PositionOf(w.Controls[hold]).Index != int(at[hold]) {
					return
				}
				colour := spread(b, s)
				for x, p := range posts {
					for y, q := range posts {
						joined[[2]int{x, y}] = joined[[2]int{x, y}] || colour[p] == colour[q]
					}
				}
			})
			for pair, want := range joined {
				p, q := posts[pair[0]], posts[pair[1]]
				if found, sure := w.passable(w.Conductor(p), w.Conductor(q), at, hold); found != want || !sure {
					t.Fatalf("seed %d, control %d held, posts %d and %d: %t (sure %t), want %t", seed, hold, pair[0], pair[1], found, sure, want)
				}
			}
		}
	}
}

// ladder is a lamp's hallway switching with many places: a change-over switch
// at both ends and reversing switches between them. Each switch changes
// everything, and every setting is one of its own.
func ladder(switches int) string {
	var text strings.Builder
	fmt.Fprintf(&text, "part A, Z post\npart S1..S%d toggle-2x2\nnet begin A S1.a\nspare S1.b S1.b1 S1.b2\n", switches)
	up, down := "S1.a1", "S1.a2"
	for i := 2; i < switches; i++ {
		fmt.Fprintf(&text, "net up-%d %s S%d.a\nnet down-%d %s S%d.b\n", i, up, i, i, down, i)
		up, down = fmt.Sprintf("S%d.a1 S%[1]d.b2", i), fmt.Sprintf("S%d.a2 S%[1]d.b1", i)
	}
	fmt.Fprintf(&text, "net up %s S%d.a1\nnet down %s S%[2]d.a2\nnet end Z S%[2]d.a\nspare S%[2]d.b S%[2]d.b1 S%[2]d.b2\n", up, switches, down)
	return text.String()
}

// TestLadder: half of all settings join the two ends, and no switch of it is
// found idle.
func TestLadder(t *testing.T) {
	for _, n := range []int{3, 8, 20} {
		b := read(t, ladder(n))
		w := NewWeb(b.Planned(b.Meanings()[0], nil), nil)
		table := w.Table(w.Conductor(b.Part("A").Terminals[0]), w.Conductor(b.Part("Z").Terminals[0]), make([]uint8, n))
		if table.Settings != 1<<n || table.Joined != 1<<(n-1) || len(table.Left) > 0 {
			t.Errorf("%d switches: joined in %d of %d settings", n, table.Joined, table.Settings)
		}
	}
	b := read(t, ladder(20))
	found := verify.Run(Rules(), &verify.Case{Bench: b.Bench(), Meaning: b.Meanings()[0]})
	for _, f := range found {
		t.Errorf("%s: %s", f.Rule, f.Message)
	}
}

// BenchmarkRulesOnALadder: all rules of this package where every switch hangs
// on every other.
func BenchmarkRulesOnALadder(b *testing.B) {
	book := read(b, ladder(24))
	bench := book.Bench()
	meaning := book.Meanings()[0]
	for b.Loop() {
		verify.Run(Rules(), &verify.Case{Bench: bench, Meaning: meaning, Setting: bench.Setting})
	}
}
