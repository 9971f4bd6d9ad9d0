package compare

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"
)

// mends does at the bench what a verdict tells, and says what is then wrong.
func (v *verdict) mends() error {
	ends := append([][2]int32(nil), v.ends...)
	label := append([]int32(nil), v.label...)
	for i := range v.knots {
		for _, r := range v.knots[i].remedies {
			if r.suspect != nil {
				before := append([]int32(nil), label...)
				for n, x := range r.suspect.conductors {
					label[x] = before[r.suspect.from[n]]
				}
			}
			for _, m := range r.moves {
				if m.to < 0 {
					ends[m.joint] = [2]int32{0, 0}
				} else {
					ends[m.joint][m.side] = m.to
				}
			}
		}
	}
	s := newSets(len(label))
	for _, e := range ends {
		s.join(e[0], e[1])
	}
	for i := range v.missing {
		g := &v.missing[i]
		if label[g.a.lumps[0]] != g.label || label[g.b.lumps[0]] != g.label {
			return fmt.Errorf("joint missing on %d joins something else", g.label)
		}
		s.join(g.a.lumps[0], g.b.lumps[0])
	}
	netOf := map[int32]int32{}
	pieceOf := map[int32]int32{}
	for x, net := range label {
		if net == means {
			continue
		}
		piece := s.find(int32(x))
		if other, met := netOf[piece]; met && other != net {
			return fmt.Errorf("nets %d and %d are still joined", net, other)
		}
		if other, met := pieceOf[net]; met && other != piece {
			return fmt.Errorf("net %d is still in pieces", net)
		}
		netOf[piece], pieceOf[net] = net, piece
	}
	return nil
}

// What is told mends the wiring, whatever is wrong with it, and is told alike
// each time.
func TestWhatIsToldMends(t *testing.T) {
	if testing.Short() {
		t.Skip("counted over many trials")
	}
	r := rand.New(rand.NewPCG(1, 1))
	for seed := range uint64(60) {
		h := newHarness(seed, 40)
		for i := range h.joints {
			if r.IntN(100) < int(seed)%4*15 {
				h.joints[i].ends[1] = h.joints[i].ends[0] // not made yet
			}
		}
		plantMany(h, int(seed)%7)
		v := explain(h.wiring)
		if err := v.mends(); err != nil && !v.hasChains() {
			t.Errorf("seed %d: %v", seed, err)
		}
		if v.wanted < v.done || v.done < 0 {
			t.Errorf("seed %d: %d of %d joints", seed, v.done, v.wanted)
		}
		u := explain(h.wiring)
		if !reflect.DeepEqual(v.missing, u.missing) || !reflect.DeepEqual(v.chosen, u.chosen) || len(v.knots) != len(u.knots) {
			t.Fatalf("seed %d: told otherwise the second time", seed)
		}
		for i := range v.knots {
			if !reflect.DeepEqual(v.knots[i].remedies, u.knots[i].remedies) || !reflect.DeepEqual(v.knots[i].rivals, u.knots[i].rivals) {
				t.Fatalf("seed %d: knot %d told otherwise the second time", seed, i)
			}
		}
	}
}

// hasChains reports whether a joint is changed by more than one action: then
// doing them one by one in their order is not what is meant.
func (v *verdict) hasChains() bool {
	met := map[int32]bool{}
	for i := range v.knots {
		for _, r := range v.knots[i].remedies {
			for _, m := range r.moves {
				if met[m.joint] {
					return true
				}
				met[m.joint] = true
			}
		}
	}
	return false
}

// randomWiring is a wiring that nobody would build.
func randomWiring(r *rand.Rand, points, nets, joints int) *wiring {
	w := &wiring{nets: nets}
	for range points {
		w.class = append(w.class, int32(r.IntN(nets+2)-2)) // alien and means among them
		w.part = append(w.part, -1)
	}
	for at := 0; at+1 < points; {
		n := min(1+r.IntN(4), points-at)
		p := wiredPart{shape: int32(n), whole: r.IntN(2) == 0}
		turned := turn{}
		for i := range n {
			w.part[at+i] = int32(len(w.parts))
			p.points = append(p.points, int32(at+i))
			turned.to = append(turned.to, int16(n-1-i))
		}
		switch r.IntN(3) {
		case 0:
			p.alike = []turn{turned}
		case 1:
			p.wrong = []turn{turned}
		}
		w.parts = append(w.parts, p)
		at += n
	}
	any := func() int32 { return int32(r.IntN(points)) }
	for range r.IntN(3) {
		w.fixed = append(w.fixed, [2]int32{any(), any()})
	}
	for range joints {
		j := joint{ends: [2]int32{any(), any()}, stuck: [2]bool{r.IntN(2) == 0, r.IntN(2) == 0}}
		if r.IntN(2) == 0 {
			j.landing[0] = j.ends[0] + 1
		}
		w.joints = append(w.joints, j)
	}
	return w
}

// Any wiring at all is explained, and the explanation mends it.
func TestAnyWiringIsExplained(t *testing.T) {
	if testing.Short() {
		t.Skip("counted over many trials")
	}
	check := func(seed uint64, w *wiring) {
		v := explain(w)
		if err := v.mends(); err != nil && !v.hasChains() {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
	for seed := range uint64(600) {
		r := rand.New(rand.NewPCG(seed, 5))
		check(seed, randomWiring(r, 3+r.IntN(8), 1+r.IntN(4), r.IntN(14)))
	}
	for seed := range uint64(2) { // far beyond what can be searched
		r := rand.New(rand.NewPCG(seed, 6))
		check(seed, randomWiring(r, 400, 60, 600<<seed))
	}
}
