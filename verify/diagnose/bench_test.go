package diagnose

import (
	"math/rand/v2"
	"testing"
	"time"
)

// The demo has 323 terminals. Each step is measured as it comes at the bench:
// a reading is given, and what follows from it is asked.
//
//	go test -run '^$' -bench . ./verify/diagnose

// read gives a diagnosis of the demo with so many readings of a faulty build.
func read(b *testing.B, readings int) (*Diagnosis, *chassis) {
	d := diagnosisOf(open(b, "../../examples/lantern-built.buzzout", "set P1..P6 50%\n"))
	c := newChassis(d, rand.New(rand.NewPCG(1, 2)), d.hyps[2+len(d.hyps)/2])
	r := rand.New(rand.NewPCG(3, 4))
	for range readings {
		p := &d.pairs[r.IntN(len(d.pairs))]
		d.Read(c.take(p.red, p.black))
	}
	return d, c
}

// BenchmarkNew lists all faults of the demo and what each makes of every
// reading that may be proposed.
func BenchmarkNew(b *testing.B) {
	book := open(b, "../../examples/lantern-built.buzzout", "set P1..P6 50%\n")
	var d *Diagnosis
	for b.Loop() {
		d = diagnosisOf(book)
	}
	b.ReportMetric(float64(len(d.faults)), "faults")
	b.ReportMetric(float64(len(d.pairs)), "places")
}

// BenchmarkSuspect weighs all single faults by 20 readings, from the readings
// on: nothing is remembered of the step before.
func BenchmarkSuspect(b *testing.B) {
	d, _ := read(b, 20)
	for b.Loop() {
		d.belief = belief{}
		for i := range d.seen {
			d.seen[i].foreseen = nil
		}
		d.hyps, d.rows = d.hyps[:d.basic], d.rows[:d.basic]
		d.weighAll()
	}
	own := b.Elapsed() / time.Duration(b.N)
	b.ReportMetric(float64(d.basic), "hypotheses")
	var read []pair
	for i := range d.seen {
		read = append(read, d.seen[i].pair)
	}
	b.ReportMetric(float64(anew(d, read))/float64(own), "times-anew")
}

// anew is how long it takes to read pairs under every single fault with the
// network factored anew for each, measured on some of the faults: the
// reference of the benchmarks that need what every fault foretells.
func anew(d *Diagnosis, pairs []pair) time.Duration {
	const sample = 20
	m := d.now
	begin := time.Now()
	for k := range sample {
		p := m.prepareBoth(d, d.hyps[2+k*(d.basic-2)/sample])
		faulty := m.c.Changed(&p.change)
		if len(pairs) > m.c.Points {
			faulty.Table()
		}
		for i := range pairs {
			faulty.Between(p.point(pairs[i].red), p.point(pairs[i].black))
		}
	}
	return time.Since(begin) / sample * time.Duration(d.basic-2)
}

// BenchmarkWhereNext is one step of the search: the eleventh reading is given,
// and the next one is asked for.
func BenchmarkWhereNext(b *testing.B) {
	d, c := read(b, 10)
	p := &d.pairs[len(d.pairs)/3]
	last := c.take(p.red, p.black)
	d.weigh()
	seen := len(d.seen)
	for b.Loop() {
		d.seen, d.belief = d.seen[:seen], belief{}
		d.hyps, d.rows = d.hyps[:d.basic], d.rows[:d.basic]
		delete(d.asked, p.terminals())
		d.Read(last)
		d.weigh()
		d.decide(d.classes()[0])
	}
	own := b.Elapsed() / time.Duration(b.N)
	var all []pair
	for i := range d.pairs {
		all = append(all, d.pairs[i].pair)
	}
	b.ReportMetric(float64(anew(d, all))/float64(own), "times-anew")
}

// BenchmarkProposals looks for other settings once nothing more can be learnt.
func BenchmarkProposals(b *testing.B) {
	d, _ := read(b, 10)
	d.weigh()
	top := d.classes()[0]
	for b.Loop() {
		d.proposals(top)
	}
}

// BenchmarkSecond looks for a second fault beside a first one.
func BenchmarkSecond(b *testing.B) {
	d, _ := read(b, 10)
	d.weigh()
	h := d.belief.order[0]
	for d.hyps[h].first < 0 || d.hyps[h].second != none {
		h++
	}
	for b.Loop() {
		d.seek(h)
	}
}

// BenchmarkChoice is the choice of the next reading by itself.
func BenchmarkChoice(b *testing.B) {
	d, _ := read(b, 4)
	d.weigh()
	for b.Loop() {
		d.best()
	}
}
