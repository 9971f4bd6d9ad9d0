package compare

import (
	"math/rand/v2"
	"testing"
)

// against compares the fast way with trying everything, on small wirings that
// make makes. The fast way may not find fewer actions than where all is
// allowed, and where it finds more than trying the strict ones does, that is
// counted.
func against(t *testing.T, cases int, make func() slowWiring) (checked, more int) {
	t.Helper()
	for n := range cases {
		w := make()
		all, exact := w.fewestEitherWay(2)
		if !exact {
			continue
		}
		checked++
		v := explain(w.wiring())
		if err := v.mends(); err != nil {
			t.Fatalf("case %d: %v\n%+v", n, err, w)
		}
		got := v.total()
		if got == all {
			continue
		}
		if got < all {
			t.Fatalf("case %d: %d actions, fewer than the %d of trying all\n%+v", n, got, all, w)
		}
		w.strict = true
		if strict, _ := w.fewestEitherWay(2); got > strict {
			more++
			t.Logf("case %d: %d actions, trying all gives %d\n%+v", n, got, strict, w)
		}
	}
	return checked, more
}

type size struct{ points, nets, joints, cases int }

func TestFewestAgainstTryingAll(t *testing.T) {
	for seed, z := range []size{
		{4, 2, 3, 400}, {5, 2, 4, 400}, {6, 3, 4, 300}, {7, 3, 4, 200}, {6, 2, 5, 60}, {8, 4, 5, 40},
	} {
		r := rand.New(rand.NewPCG(uint64(seed), 7))
		checked, more := against(t, z.cases, func() slowWiring { return randomTree(r, z.points, z.nets, z.joints) })
		if more > 0 || checked < z.cases/8 {
			t.Errorf("%+v: %d of %d cases took more actions than trying all", z, more, checked)
		}
	}
}

func TestFewestWhereJointsCloseRings(t *testing.T) {
	for seed, z := range []size{{4, 2, 4, 300}, {5, 2, 4, 300}, {6, 3, 4, 200}} {
		r := rand.New(rand.NewPCG(uint64(seed), 8))
		checked, more := against(t, z.cases, func() slowWiring {
			w := randomTree(r, z.points, z.nets, 0)
			for len(w.joints) < z.joints {
				if a, b := r.IntN(z.points), r.IntN(z.points); a != b {
					w.joints = append(w.joints, slowJoint{ends: [2]int{a, b}})
				}
			}
			return w
		})
		if more > 0 || checked < z.cases/4 {
			t.Errorf("%+v: %d of %d cases took more actions than trying all", z, more, checked)
		}
	}
}

// Where much of a wiring is taken together before the search, no more than one
// case in 200 takes more actions for it.
func TestFewestAfterDividingAll(t *testing.T) {
	defer func(n int) { smallRegion = n }(smallRegion)
	smallRegion = 0
	r := rand.New(rand.NewPCG(3, 9))
	checked, more := against(t, 1000, func() slowWiring { return randomTree(r, 5, 2, 4) })
	if more*200 > checked {
		t.Errorf("%d of %d cases took more actions than trying all", more, checked)
	}
}

// Wirings at random are far more muddled than what anybody builds, and there
// the way round in which several parts serve is not always found.
func TestFewestWithParts(t *testing.T) {
	if testing.Short() {
		t.Skip("counted over many trials")
	}
	for _, c := range []struct {
		name         string
		wrong, alike int // parts that may sit wrongly, parts that serve either way
		oneIn        int // at most one case in so many may take more actions
	}{{"wrong", 2, 0, 100}, {"alike", 0, 2, 15}, {"both", 1, 1, 40}} {
		t.Run(c.name, func(t *testing.T) {
			for seed, z := range []size{{4, 2, 3, 150}, {5, 2, 4, 150}, {6, 3, 4, 100}, {7, 3, 4, 60}} {
				r := rand.New(rand.NewPCG(uint64(seed), 10))
				checked, more := against(t, z.cases, func() slowWiring {
					w := randomTree(r, z.points, z.nets, z.joints)
					order := r.Perm(z.points)
					for n := range min(c.wrong+c.alike, z.points/2) {
						a, b := order[2*n], order[2*n+1]
						switch {
						case w.net[a] < 0 || w.net[b] < 0 || w.net[a] == w.net[b]:
						case n < c.wrong:
							turn := make([]int, z.points)
							for i := range turn {
								turn[i] = i
							}
							turn[a], turn[b] = b, a
							w.turns = append(w.turns, turn)
						default:
							w.alike = append(w.alike, [2]int{a, b})
						}
					}
					return w
				})
				if more*c.oneIn > checked+c.oneIn {
					t.Errorf("%+v: %d of %d cases took more actions than trying all", z, more, checked)
				}
			}
		})
	}
}
