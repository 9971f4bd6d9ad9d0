package diagnose

import (
	"math/rand/v2"
	"testing"
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
	b.ReportMetric(float64(d.basic), "hypotheses")
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
}

// BenchmarkChoice is the choice of the next reading by itself.
func BenchmarkChoice(b *testing.B) {
	d, _ := read(b, 4)
	d.weigh()
	for b.Loop() {
		d.best()
	}
}
