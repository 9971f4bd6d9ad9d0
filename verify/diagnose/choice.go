package diagnose

import (
	"cmp"
	"math"
	"slices"

	"buzzout/netlist"
)

const (
	// sure is the weight of a suspect that settles the matter.
	sure = 0.99
	// sureNothing is that of nothing being wrong: a rare fault that no reading
	// has come near to yet is as unlikely as it was, and yet there.
	sureNothing = 0.998
	// leastGain is how many bits a reading must be expected to tell.
	leastGain = 0.01
	// heaviest is how many hypotheses are looked at for the next reading.
	heaviest = 800
)

// A choice is a place and the bits that a reading there is expected to tell.
type choice struct {
	place    int
	gain     float64
	confirms bool
}

// decide says which place to read next, or why none.
func (d *Diagnosis) decide(top class) (choice, Done) {
	enough := sure
	if d.hyps[top.leader].first == none {
		enough = sureNothing
	}
	if top.weight >= enough && d.hyps[top.leader].first != unlisted && len(d.unexplained(d.hyps[top.leader])) < mostUnexplained {
		if at, ok := d.confirmation(top.leader); ok {
			return at, NotDone
		}
		return choice{}, Settled
	}
	at := d.best()
	least := leastGain
	if d.hyps[top.leader].first == none {
		least = leastSought
	}
	if at.place < 0 || at.gain < least {
		return choice{}, NothingMore
	}
	return at, NotDone
}

// plainBins is from how many bins on a reading shows a suspect as plainly as
// any.
const plainBins = 6

// A suspect that is as good as certain by one reading alone may still be a
// second fault's work: before the iron comes out, another reading has to speak
// for it, if there is one that can.
const (
	witnesses = 2   // readings that must speak for a suspect
	speaks    = 3.0 // bits from which a reading does
)

// confirmation is the reading that shows a suspect best, if too few have shown
// it yet.
func (d *Diagnosis) confirmation(h int) (choice, bool) {
	if d.hyps[h].first < 0 {
		return choice{}, false
	}
	n, wanted := 0, witnesses
	if d.hyps[h].second != none {
		wanted = 2 * witnesses
	}
	for i := range d.seen {
		o := &d.seen[i]
		f := o.m.prepareBoth(d, d.hyps[h]).predict(&o.pair)
		if o.weigh(&f)-o.weigh(&o.sound) > speaks*math.Ln2 {
			n++
		}
	}
	if n >= wanted {
		return choice{}, false
	}
	at, most := choice{place: -1, confirms: true}, 0.0
	for _, f := range d.rows[h] {
		p := &d.pairs[f.place]
		if d.asked[p.terminals()] > 0 {
			continue
		}
		if _, taken := d.between[p.conductors()]; taken {
			continue
		}
		apart := min(math.Abs(float64(f.bin-p.sound)), plainBins)
		if apart < binsApart {
			continue
		}
		if worth := apart * (1 - p.toll); worth > most {
			at.place, most = int(f.place), worth
		}
	}
	return at, at.place >= 0
}

// best is the place whose reading is expected to tell most.
func (d *Diagnosis) best() choice {
	list := make([]int, 0, heaviest)
	total := 0.0
	for _, h := range d.belief.order {
		if d.hyps[h].first != unlisted && len(list) < heaviest {
			list = append(list, h)
			total += d.belief.weights[h]
		}
	}
	all, start := d.byPlace(list)
	again := d.worthRepeating()
	// Most of what a reading could tell, if it were the first there; then, the
	// best first, what it tells beside those that were taken.
	worths := make([]float64, len(d.pairs))
	order := make([]int, 0, len(d.pairs))
	var bins histogram
	for i := range d.pairs {
		p := &d.pairs[i]
		if d.asked[p.terminals()] > 0 && !again[p.terminals()] {
			continue // it would say the same again
		}
		if bits := bins.information(all[start[i]:start[i+1]], p.sound, total); bits > 0 {
			worths[i] = bits * (1 - p.toll)
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(worths[b], worths[a]) })
	at, most := choice{place: -1}, 0.0
	for _, i := range order {
		if worths[i] <= most {
			break
		}
		p := &d.pairs[i]
		bits := worths[i] / (1 - p.toll)
		if before, taken := d.between[p.conductors()]; taken && !again[p.terminals()] {
			bits = bins.information(d.beside(i, before, list), p.sound, total)
		}
		if worth := bits * (1 - p.toll); worth > most {
			at, most = choice{place: i, gain: bits}, worth
		}
	}
	return at
}

// worthRepeating are the readings taken once that the likeliest hypothesis
// takes for a slip of the probes.
func (d *Diagnosis) worthRepeating() map[[2]netlist.TerminalID]bool {
	again := map[[2]netlist.TerminalID]bool{}
	h := d.leader()
	for i := range d.seen {
		o := &d.seen[i]
		if key := o.pair.terminals(); d.asked[key] == 1 && o.isWild(d, h) {
			again[key] = true
		}
	}
	return again
}

// byPlace sorts what hypotheses foretell that differ from sound wiring by the
// place: those of place i are all[start[i]:start[i+1]].
func (d *Diagnosis) byPlace(list []int) (all []weighed, start []int32) {
	start = make([]int32, len(d.pairs)+1)
	for _, h := range list {
		for _, f := range d.rows[h] {
			start[f.place+1]++
		}
	}
	for i := range d.pairs {
		start[i+1] += start[i]
	}
	all = make([]weighed, start[len(d.pairs)])
	fill := append([]int32(nil), start[:len(d.pairs)]...)
	for _, h := range list {
		for _, f := range d.rows[h] {
			all[fill[f.place]] = weighed{f.bin, d.belief.weights[h]}
			fill[f.place]++
		}
	}
	return all, start
}

// beside is what hypotheses foretell at a place when a reading between the same
// two conductors is known: the parts between them are what they are, so it is
// the difference that counts. Joints between a terminal and its conductor show
// in it and nothing else does.
func (d *Diagnosis) beside(at, before int, list []int) []weighed {
	var all []weighed
	p, q := &d.pairs[at], &d.pairs[before]
	for _, h := range list {
		bin, y := d.rows[h].at(at, p.sound), d.rows[h].at(before, q.sound)
		if bin < overRange && y < overRange && p.sound < overRange {
			bin = max(0, p.sound+(bin-y))
		}
		if bin != p.sound {
			all = append(all, weighed{bin, d.belief.weights[h]})
		}
	}
	return all
}

// at is what a row foretells at a place.
func (r row) at(place int, sound float32) float32 {
	i, found := slices.BinarySearchFunc(r, place, func(f foretold, place int) int { return int(f.place) - place })
	if found {
		return r[i].bin
	}
	return sound
}
