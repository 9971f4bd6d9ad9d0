package ohms

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"gonum.org/v1/gonum/mat"
)

// Each benchmark has its reference in the same run, on the same network: the
// figure "times-gonum" is how many times faster than factoring densely with
// gonum for each fault, measured on some of the faults. Run it with
//
//	go test -run '^$' -bench . ./verify/meter/ohms

// faultsOf lists every single fault of a network: each branch open, short, ten
// times, a tenth, one step up and one down in the series of twelve, and a
// bridge between neighbours. The places of the bridges are branches that are
// not there.
func faultsOf(r *rand.Rand, points int) ([]Branch, []Change) {
	branches := connected(r, points, points/2)
	solid := len(branches)
	for p := 1; p < points; p++ {
		branches = append(branches, Branch{int32(p - 1), int32(p), math.Inf(1)})
	}
	var list []Change
	for i, b := range branches {
		values := []float64{0}
		if i < solid {
			values = []float64{0, math.Inf(1), b.Ohms * 10, b.Ohms / 10, b.Ohms * 1.2, b.Ohms / 1.2}
		}
		for _, ohms := range values {
			list = append(list, Change{Values: []Value{{int32(i), ohms}}})
		}
	}
	return branches, list
}

func pairs(r *rand.Rand, points, count int) [][2]int32 {
	list := make([][2]int32, count)
	for i := range list {
		list[i] = [2]int32{int32(r.IntN(points)), int32(r.IntN(points))}
	}
	return list
}

// densely reads the pairs of one faulty network by gonum, and gives the time.
func densely(points int, branches []Branch, ch *Change, asked [][2]int32, into []float64) time.Duration {
	begin := time.Now()
	list := append([]Branch(nil), branches...)
	for _, v := range ch.Values {
		ohms := v.Ohms
		if ohms == 0 {
			ohms = 1e-6 // a dense matrix knows no dead short
		}
		if math.IsInf(ohms, 1) {
			ohms = 1e15
		}
		list[v.Branch].Ohms = ohms
	}
	var chol mat.Cholesky
	if !chol.Factorize(dense(points, list)) {
		return time.Since(begin)
	}
	x, f := mat.NewVecDense(points-1, nil), mat.NewVecDense(points-1, nil)
	for i, pair := range asked {
		f.Zero()
		at := func(p int32, by float64) {
			if p > 0 {
				f.SetVec(int(p)-1, f.AtVec(int(p)-1)+by)
			}
		}
		at(pair[0], 1)
		at(pair[1], -1)
		if err := chol.SolveVecTo(x, f); err != nil && math.IsNaN(x.AtVec(0)) {
			panic(err)
		}
		volt := func(p int32) float64 {
			if p == 0 {
				return 0
			}
			return x.AtVec(int(p) - 1)
		}
		into[i] = volt(pair[0]) - volt(pair[1])
	}
	return time.Since(begin)
}

// BenchmarkEverySingleFault reads 20 pairs (32 at a thousand points) of a
// network under every single fault, factoring and preparing included.
func BenchmarkEverySingleFault(b *testing.B) {
	for _, size := range []struct{ points, readings, sample int }{{300, 20, 40}, {1000, 32, 4}} {
		b.Run(fmt.Sprint(size.points), func(b *testing.B) {
			r := rand.New(rand.NewPCG(41, 42))
			branches, faults := faultsOf(r, size.points)
			asked := pairs(r, size.points, size.readings)
			into := make([]float64, len(faults)*size.readings)
			for b.Loop() {
				every(size.points, branches, faults, asked, into)
			}
			own := float64(b.Elapsed()) / float64(b.N)
			b.ReportMetric(float64(len(faults)), "faults")

			var gonum time.Duration
			worst := 0.0
			want := make([]float64, size.readings)
			for n := range size.sample {
				f := n * len(faults) / size.sample
				gonum += densely(size.points, branches, &faults[f], asked, want)
				for k, w := range want {
					if got := into[f*size.readings+k]; w > 1e-3 && w < 1e9 {
						worst = max(worst, math.Abs(got-w)/w)
					}
				}
			}
			if worst > 1e-4 { // the reference has no true shorts
				b.Fatalf("differs from gonum by %g", worst)
			}
			b.ReportMetric(float64(gonum)/float64(size.sample)*float64(len(faults))/own, "times-gonum")

			begin := time.Now()
			c := New(size.points, branches)
			for n := range size.sample {
				again := c.Changed(&faults[n*len(faults)/size.sample])
				for _, pair := range asked {
					again.Probe(pair[0], pair[1])
				}
			}
			b.ReportMetric(float64(time.Since(begin))/float64(size.sample)*float64(len(faults))/own, "times-anew")
		})
	}
}

func every(points int, branches []Branch, faults []Change, asked [][2]int32, into []float64) {
	c := New(points, branches)
	probes := make([]*Probe, len(asked))
	for k, pair := range asked {
		probes[k] = c.Probe(pair[0], pair[1])
	}
	var u Update
	for f := range faults {
		u.Prepare(c, &faults[f])
		row := into[f*len(asked) : (f+1)*len(asked)]
		for k, pair := range asked {
			row[k] = u.Between(probes[k], pair[0], pair[1])
		}
	}
}

// BenchmarkAllPairs makes the table of all pairs of 300 points from nothing,
// against gonum's factor and inverse.
func BenchmarkAllPairs(b *testing.B) {
	const points = 300
	r := rand.New(rand.NewPCG(43, 44))
	branches := connected(r, points, points/2)
	sum := 0.0
	for b.Loop() {
		t := New(points, branches).Table()
		for p := range int32(points) {
			for q := range p {
				sum += t.Between(p, q)
			}
		}
	}
	own := float64(b.Elapsed()) / float64(b.N)
	begin := time.Now()
	for range 3 {
		var chol mat.Cholesky
		chol.Factorize(dense(points, branches))
		var inverse mat.SymDense
		if err := chol.InverseTo(&inverse); err != nil {
			b.Fatal(err)
		}
		for p := range points - 1 {
			for q := range p {
				sum += inverse.At(p, p) + inverse.At(q, q) - 2*inverse.At(p, q)
			}
		}
	}
	b.ReportMetric(float64(time.Since(begin))/3/own, "times-gonum")
	if sum == 0 {
		b.Fatal("nothing was read")
	}
}

func BenchmarkFactor(b *testing.B) {
	for _, points := range []int{100, 300, 1000} {
		b.Run(fmt.Sprint(points), func(b *testing.B) {
			branches := connected(rand.New(rand.NewPCG(45, 46)), points, points/2)
			c := New(points, branches)
			values := make([]float64, len(branches))
			for i, br := range branches {
				values[i] = br.Ohms
			}
			b.ReportMetric(float64(len(c.below))/float64(points), "entries/point")
			b.Run("new", func(b *testing.B) {
				for b.Loop() {
					New(points, branches)
				}
			})
			b.Run("values", func(b *testing.B) {
				for b.Loop() {
					c.WithOhms(values)
				}
			})
		})
	}
}
