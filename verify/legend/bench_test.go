package legend

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"buzzout/netlist"
)

// fourteen is a notebook with a mains transformer of 14 leads, on which some
// readings have been taken as they were asked for.
func fourteen(b testing.TB, readings int) *netlist.Book {
	b.Helper()
	for seed := uint64(0); ; seed++ {
		r := rand.New(rand.NewPCG(7, seed))
		in := invent(b, r, 14)
		w := newWorkbench(in, r, goodContacts)
		for len(w.taken) < readings {
			a, more := look(14, in.lay, append([]measure(nil), w.taken...), w.meter).next(nil)
			if !more {
				break
			}
			w.take(a)
		}
		if in.name == "mains" && len(w.taken) == readings {
			return build(b, notebook(in, w))
		}
	}
}

// The aim is 20 ms for 14 leads with 30 readings.
func BenchmarkIdentify(b *testing.B) {
	for _, readings := range []int{0, 10, 20, 30} {
		book := fourteen(b, readings)
		part := book.Part("T1")
		b.Run(fmt.Sprintf("14-leads-%d-readings", readings), func(b *testing.B) {
			for b.Loop() {
				Identify(book, part, Cheap)
			}
		})
	}
}

func BenchmarkSettle(b *testing.B) {
	book := example(b, "lantern-built.buzzout")
	part := book.Part("T2")
	for b.Loop() {
		Settle(book, part, Cheap)
	}
}

func BenchmarkSources(b *testing.B) {
	book := example(b, "lantern-built.buzzout")
	part := book.Part("T2")
	for b.Loop() {
		Sources(book, part, Cheap)
	}
}

func BenchmarkDisputes(b *testing.B) {
	book := example(b, "lantern-built.buzzout")
	for b.Loop() {
		Disputes(book, Cheap)
	}
}
