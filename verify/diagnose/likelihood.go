package diagnose

import (
	"math"

	"buzzout/verify/meter"
)

// likelihood is the logarithm of how likely all readings are under a
// hypothesis. The parts are what they are in all readings alike: their values
// are unknowns with the spread of their tolerances, and the figures are
// weighed together, with the covariance that the parts give them. What is too
// far off by itself counts as a wild reading.
func (d *Diagnosis) likelihood(h int, t *together) float64 {
	sum := 0.0
	if d.hyps[h].first == unlisted {
		for i := range d.seen {
			o := &d.seen[i]
			sum += o.loose(&o.sound)
		}
		return sum
	}
	t.begin()
	for i := range d.seen {
		o := &d.seen[i]
		at := d.forecast(o, h)
		if !o.plain(at.f) {
			t.leave(i)
			sum += o.weigh(at.f)
		} else if at.f != &o.sound || !t.sound.has[i] {
			t.put(i, o, at.f)
		}
	}
	return sum + t.logarithm()
}

// foreseen is what a hypothesis makes of an observation.
type foreseen struct {
	ohms  float64
	rough float64   // how likely it is with a broad spread, as a logarithm
	f     *forecast // nil until asked for
}

// foresee works out, or remembers, what a hypothesis makes of an observation.
// The influence of a reading that is not as in sound wiring comes later.
func (d *Diagnosis) foresee(o *observation, h int) *foreseen {
	if more := len(d.hyps) - len(o.foreseen); more > 0 {
		o.foreseen = append(o.foreseen, make([]*foreseen, more)...)
	}
	if at := o.foreseen[h]; at != nil {
		return at
	}
	at := &foreseen{ohms: o.m.prepareBoth(d, d.hyps[h]).between(&o.pair)}
	o.foreseen[h] = at
	if same(at.ohms, o.sound.ohms) {
		at.ohms, at.f, at.rough = o.sound.ohms, &o.sound, o.rough
	} else {
		at.rough = o.firstLook(at.ohms)
	}
	return at
}

// forecast is foresee with all that makes it uncertain.
func (d *Diagnosis) forecast(o *observation, h int) *foreseen {
	at := d.foresee(o, h)
	if at.f == nil {
		f := o.m.prepareBoth(d, d.hyps[h]).predict(&o.pair)
		at.f = &f
	}
	return at
}

// same says that a reading is not changed but for rounding.
func same(a, b float64) bool {
	if math.IsInf(a, 1) || math.IsInf(b, 1) {
		return a == b
	}
	return math.Abs(a-b) <= 1e-12*(a+b)
}

// together are figures that are weighed together. Those that a fault does not
// touch are as in sound wiring, and so is what they have in common.
type together struct {
	figures
	sound  figures   // as in sound wiring
	covary []float64 // of those, by observation and observation
	// Figures that have nothing in common stand in blocks of their own.
	block  []int     // by observation
	blocks []float64 // the logarithm of each, in sound wiring
	own    []bool    // by observation: not as in sound wiring
	moved  []int     // those observations, and those that are left out

	redo   []bool // by block; working space
	kept   []int
	factor []float64
	z      []float64
}

// figures are the observations that are figures.
type figures struct {
	has     []bool
	off     []float64 // how far each is from its prediction, in the logarithm
	noise   []float64 // variance of the meter's error
	wildly  []float64 // how likely each is as a wild reading
	scale   []float64 // of the effects: from the logarithm of ohms to levels
	effects [][]meter.Factor
}

func newFigures(n int) figures {
	return figures{make([]bool, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), make([][]meter.Factor, n)}
}

func (f *figures) copy(from *figures) {
	copy(f.has, from.has)
	copy(f.off, from.off)
	copy(f.noise, from.noise)
	copy(f.wildly, from.wildly)
	copy(f.scale, from.scale)
	copy(f.effects, from.effects)
}

// soundTogether weighs the readings as sound wiring has them.
func (d *Diagnosis) soundTogether() *together {
	n := len(d.seen)
	t := &together{figures: newFigures(n), sound: newFigures(n), covary: make([]float64, n*n), own: make([]bool, n),
		block: make([]int, n), redo: make([]bool, n), kept: make([]int, 0, n), factor: make([]float64, n*n), z: make([]float64, n)}
	for i := range d.seen {
		o := &d.seen[i]
		if o.plain(&o.sound) {
			t.put(i, o, &o.sound)
		}
	}
	for i := range n {
		for j := 0; j <= i; j++ {
			if t.has[i] && t.has[j] {
				t.covary[i*n+j] = t.covariance(i, j)
			}
		}
	}
	// What hangs together by what it has in common, by the lowest number.
	for i := range n {
		t.block[i] = i
		for j := range i {
			if t.covary[i*n+j] == 0 || t.block[j] == t.block[i] {
				continue
			}
			low, high := min(t.block[i], t.block[j]), max(t.block[i], t.block[j])
			for k := range i + 1 {
				if t.block[k] == high {
					t.block[k] = low
				}
			}
		}
	}
	clear(t.own)
	t.blocks = make([]float64, n)
	for b := range n {
		t.kept = t.kept[:0]
		for i := range n {
			if t.block[i] == b {
				t.kept = append(t.kept, i)
			}
		}
		t.blocks[b] = t.density(t.kept)
	}
	t.sound.copy(&t.figures)
	return t
}

// begin begins with the figures of sound wiring.
func (t *together) begin() {
	t.figures.copy(&t.sound)
	clear(t.own)
	t.moved = t.moved[:0]
}

func (t *together) put(i int, o *observation, f *forecast) {
	noise := o.noise(f.ohms)
	t.has[i], t.own[i] = true, true
	t.moved = append(t.moved, i)
	t.off[i] = level(o.ohms) - level(f.ohms)
	t.noise[i] = noise * noise
	t.wildly[i] = o.wildly(f)
	if o.climbs && t.off[i] < 0 {
		t.wildly[i] += early / span
	}
	t.effects[i] = f.factors
	t.scale[i] = f.ohms / (f.ohms + floor)
}

// leave takes a reading out of those that are weighed together.
func (t *together) leave(i int) {
	if t.has[i] {
		t.has[i] = false
		t.moved = append(t.moved, i)
	}
}

// linear is up to which effect on the logarithm a part's value counts as one
// unknown in several readings. What is known by decades only does not act in
// proportion, and counts in each reading by itself.
const linear = 0.25

// covariance is what two readings have in common.
func (t *together) covariance(i, j int) float64 {
	if !t.own[i] && !t.own[j] {
		return t.covary[i*len(t.has)+j]
	}
	sum := 0.0
	for _, x := range t.effects[i] {
		if i == j {
			sum += x.Effect * x.Effect
			continue
		}
		if math.Abs(x.Effect) > linear {
			continue
		}
		for _, y := range t.effects[j] {
			if x.Number == y.Number && math.Abs(y.Effect) <= linear {
				sum += x.Effect * y.Effect
			}
		}
	}
	return sum * t.scale[i] * t.scale[j]
}

// farthest is how many standard deviations a figure may be off by itself
// before it counts as wild.
const farthest = 4.5

// logarithm is that of the density of all figures together. Only blocks that
// a moved figure belongs to, or has something in common with, are worked out
// anew.
func (t *together) logarithm() float64 {
	n := len(t.has)
	clear(t.redo)
	for _, i := range t.moved {
		t.redo[t.block[i]] = true
		if !t.own[i] {
			continue
		}
		for j := range n {
			if t.has[j] && !t.redo[t.block[j]] && t.covariance(max(i, j), min(i, j)) != 0 {
				t.redo[t.block[j]] = true
			}
		}
	}
	sum := 0.0
	t.kept = t.kept[:0]
	for i := range n {
		if t.redo[t.block[i]] {
			t.kept = append(t.kept, i)
		} else if t.block[i] == i {
			sum += t.blocks[i]
		}
	}
	return sum + t.density(t.kept)
}

// density is the logarithm of that of some figures, which may be taken out of
// the list.
func (t *together) density(list []int) float64 {
	sum := 0.0
	kept := list[:0]
	for _, i := range list {
		if !t.has[i] {
			continue
		}
		variance := t.noise[i] + t.covariance(i, i)
		if alone := normal(t.off[i], 0, math.Sqrt(variance)); t.off[i]*t.off[i] > farthest*farthest*variance || alone < t.wildly[i] {
			sum += math.Log(t.wildly[i])
			continue
		}
		kept = append(kept, i)
	}
	n := len(kept)
	// Cholesky's factor of the covariance, row after row.
	c, z := t.factor, t.z
	for a, i := range kept {
		for b := 0; b <= a; b++ {
			x := t.covariance(i, kept[b])
			if a == b {
				x += t.noise[i]
			}
			for k := range b {
				x -= c[a*n+k] * c[b*n+k]
			}
			if a == b {
				c[a*n+a] = math.Sqrt(max(x, 1e-12))
			} else {
				c[a*n+b] = x / c[b*n+b]
			}
		}
		x := t.off[i]
		for k := range a {
			x -= c[a*n+k] * z[k]
		}
		z[a] = x / c[a*n+a]
		sum -= z[a]*z[a]/2 + math.Log(c[a*n+a]) + math.Log(2*math.Pi)/2
	}
	return sum + float64(n)*math.Log(1-wild-2*mistyped)
}
