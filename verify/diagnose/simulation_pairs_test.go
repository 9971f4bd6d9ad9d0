package diagnose

import (
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"testing"
)

// simulatePair finds two faults one after the other: what is found is mended,
// and the search begins again. right counts runs in which both were found and
// nothing else was accused; sureWrong those in which something else was, and
// held as good as certain.
func simulatePair(d *Diagnosis, h hypothesis, r *rand.Rand) (tally, string) {
	c := newChassis(d, r, h)
	t := tally{runs: 1}
	found := 0
	for _, f := range []int{h.first, h.second} {
		n, ok := c.partByPart(d.faults[f])
		t.reference = max(t.reference, n)
		found += ok
	}
	t.refRight = found / 2
	left := []int{h.first, h.second}
	for len(left) > 0 {
		d.forget()
		both := hypothesis{left[0], none, 0}
		if len(left) == 2 {
			both.second = left[1]
		}
		c.put(both)
		top := c.pursue()
		t.readings = c.taken
		var still []int
		if d.hyps[top.leader].first != unlisted && d.seenAs(d.rows[top.leader], d.foretell(both)) {
			still = nil
		} else {
			for _, f := range left {
				if !d.holds(top, f) {
					still = append(still, f)
				}
			}
		}
		if len(still) == len(left) {
			if top.weight >= sure {
				t.sureWrong = 1
			}
			return t, named(d, top.leader)
		}
		left = still
	}
	t.right = 1
	return t, ""
}

// simulatePairAtOnce finds two faults together. right counts runs in which both
// rank first, or what cannot be told from them; sureWrong those in which
// something else than one or both was held as good as certain.
func simulatePairAtOnce(d *Diagnosis, h hypothesis, r *rand.Rand) (tally, string) {
	c := newChassis(d, r, h)
	t := tally{runs: 1}
	for _, f := range []int{h.first, h.second} {
		n, ok := c.partByPart(d.faults[f])
		t.reference = max(t.reference, n)
		t.refRight += ok
	}
	t.refRight /= 2
	top := c.pursue()
	for {
		at, more := d.seek(top.leader)
		if top.weight < likelyCompany || !more || c.taken >= mostReadings {
			break
		}
		p := &d.pairs[at.place]
		d.Read(c.take(p.red, p.black))
		top = c.pursue()
	}
	t.readings = c.taken
	switch {
	case d.hyps[top.leader].first != unlisted && d.seenAs(d.rows[top.leader], d.foretell(h)):
		t.right = 1
	case d.hyps[top.leader].first != unlisted && top.weight >= sure && !d.holds(top, h.first) && !d.holds(top, h.second):
		t.sureWrong = 1
	}
	return t, fmt.Sprintf("%s, %.3f,", named(d, top.leader), top.weight)
}

// simulatePairs simulates pairs of faults of every amplifier, drawn at random
// with a fixed seed.
func simulatePairs(t *testing.T, seed uint64, simulate func(*Diagnosis, hypothesis, *rand.Rand) (tally, string)) {
	if testing.Short() {
		t.Skip("counted over many trials")
	}
	var all tally
	r := rand.New(rand.NewPCG(seed, seed+1))
	for _, a := range amplifiers {
		d := diagnosisOf(open(t, a.path, a.more))
		runs := 1
		if *everyFault {
			runs = 60
		}
		var sum tally
		for range runs {
			d.forget()
			f, g := d.hyps[2+r.IntN(d.basic-2)].first, d.hyps[2+r.IntN(d.basic-2)].first
			if f == g || !d.compatible(f, g) {
				continue
			}
			what := d.faults[f].log(d.Book) + " and " + d.faults[g].log(d.Book)
			one, taken := simulate(d, hypothesis{f, g, 0}, rand.New(rand.NewPCG(seed, uint64(f)<<32|uint64(g))))
			sum.add(one)
			if one.right == 0 {
				t.Logf("%s: %s: taken for %s after %d readings", filepath.Base(a.path), what, taken, one.readings)
			}
		}
		t.Logf("%s: pairs: %s", filepath.Base(a.path), sum)
		all.add(sum)
	}
	t.Logf("all pairs: %s", all)
	if all.right*10 < all.runs*9 && (*everyFault || all.runs-all.right > 2) {
		t.Errorf("both found in %d of %d", all.right, all.runs)
	}
}

// Two faults found one after the other, the first mended before the second is
// looked for.
func TestSimulatedPairsMendedBetween(t *testing.T) { simulatePairs(t, 5, simulatePair) }

// Two faults found together, nothing mended: reading goes on after the first is
// as good as certain, until a second is unlikely or none more can be seen.
func TestSimulatedPairsAtOnce(t *testing.T) { simulatePairs(t, 7, simulatePairAtOnce) }
