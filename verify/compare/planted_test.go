package compare

import (
	"testing"
)

// A harness wired as planned has nothing wrong, whichever way round its parts
// serve.
func TestSoundHarness(t *testing.T) {
	for seed := range uint64(30) {
		h := newHarness(seed, 70)
		v := explain(h.wiring)
		if v.total() != 0 || v.done != v.wanted {
			t.Fatalf("seed %d: %d findings in a sound harness, %d of %d joints", seed, v.total(), v.done, v.wanted)
		}
	}
}

// Every planted mistake is told or listed as another explanation, and what is
// told is never greater than what was planted.
func TestPlantedMistakes(t *testing.T) {
	if testing.Short() {
		t.Skip("counted over many trials")
	}
	for n := 1; n <= 2; n++ {
		tried, listed := 0, 0
		for seed := range uint64(36) {
			for i, first := range mistakes {
				for _, second := range mistakes[:1+(n-1)*(len(mistakes)-1)] {
					if n == 2 && (seed+uint64(i))%6 != 0 {
						continue
					}
					h := newHarness(seed, 70)
					used := map[int]bool{}
					var list []planted
					for _, what := range []string{first, second}[:n] {
						if p, ok := h.plant(what, used); ok {
							list = append(list, p)
						}
					}
					v := explain(h.wiring)
					if v.total() > len(list) {
						t.Errorf("seed %d: %d findings for %v", seed, v.total(), list)
					}
					if v.total() == 0 && len(list) > 0 {
						t.Errorf("seed %d: %v not found", seed, list)
					}
					tried++
					all := true
					for _, p := range list {
						all = all && v.tells(p)
					}
					switch {
					case all || v.total() < len(list):
						listed++
					default:
						t.Logf("seed %d: %v not listed", seed, list)
					}
				}
			}
		}
		t.Logf("%d planted: %d of %d told or listed, or told as fewer", n, listed, tried)
		if listed*100 < tried*99 {
			t.Errorf("%d planted: only %d of %d told or listed", n, listed, tried)
		}
	}
}
