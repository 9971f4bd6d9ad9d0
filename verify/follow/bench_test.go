package follow

import (
	"strings"
	"testing"
)

// The whole question on the demo as built: draw, solve, order, compare with
// the drawing, loops.
func BenchmarkSignal(b *testing.B) {
	book := open(b, "../../examples/lantern-built.buzzout", nil)
	for b.Loop() {
		if w := askBuilt(b, book, "J1.tip", nil); !w.Arrives || len(w.Loops) != 1 {
			b.Fatal(w.Text(80))
		}
	}
}

// The same where it stops, and positions are tried to say why.
func BenchmarkStop(b *testing.B) {
	book := open(b, "../../examples/lantern-built.buzzout", func(text string) string {
		return strings.Replace(text, "fit C2  TB1.2 TB1.3\n", "", 1) + "set J3 in\n"
	})
	for b.Loop() {
		if w := askBuilt(b, book, "J1.tip", nil); w.Arrives || len(w.Stops) == 0 {
			b.Fatal(w.Text(80))
		}
	}
}

func BenchmarkText(b *testing.B) {
	book := open(b, "../../examples/lantern-built.buzzout", nil)
	w := askBuilt(b, book, "J1.tip", nil)
	for b.Loop() {
		if w.Text(80) == "" {
			b.Fatal("nothing")
		}
	}
}
