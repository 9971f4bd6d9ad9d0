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
