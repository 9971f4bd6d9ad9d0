package compare

import (
	"fmt"
	"testing"
)

// plantMany plants so many mistakes of all kinds.
func plantMany(h *harness, n int) int {
	used := map[int]bool{}
	planted := 0
	for i := 0; planted < n && i < 5*n; i++ {
		if _, ok := h.plant(mistakes[i%len(mistakes)], used); ok {
			planted++
		}
	}
	return planted
}

func BenchmarkAmplifier(b *testing.B) {
	for n := range 4 {
		b.Run(fmt.Sprintf("mistakes=%d", n), func(b *testing.B) {
			var list []*wiring
			for seed := range uint64(20) {
				h := newHarness(seed, 70)
				plantMany(h, n)
				list = append(list, h.wiring)
			}
			for i := 0; b.Loop(); i++ {
				explain(list[i%len(list)])
			}
		})
	}
}

func BenchmarkLarge(b *testing.B) {
	for _, parts := range []int{1000, 3000, 10000} {
		h := newHarness(1, parts)
		plantMany(h, 20)
		b.Run(fmt.Sprintf("parts=%d/joints=%d", parts, len(h.joints)), func(b *testing.B) {
			var v *verdict
			for b.Loop() {
				v = explain(h.wiring)
			}
			b.ReportMetric(float64(v.total()), "findings")
			b.ReportMetric(float64(v.nodes), "states")
		})
	}
}

// Where little is wired yet, the missing joints must not make the search long.
func BenchmarkUnfinished(b *testing.B) {
	for _, parts := range []int{70, 1000, 10000} {
		for _, missing := range []int{10, 50, 90} {
			h := newHarness(1, parts)
			for i := range h.joints {
				if h.r.IntN(100) < missing {
					h.joints[i].ends[1] = h.joints[i].ends[0]
				}
			}
			plantMany(h, min(20, parts/20))
			b.Run(fmt.Sprintf("parts=%d/missing=%d%%", parts, missing), func(b *testing.B) {
				for b.Loop() {
					explain(h.wiring)
				}
			})
		}
	}
}
