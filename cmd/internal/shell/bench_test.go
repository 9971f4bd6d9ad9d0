package shell

import (
	"context"
	"testing"

	"buzzout/examples"
)

func demoText(t testing.TB, name string) string {
	t.Helper()
	text, err := examples.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Parse, build, compare and all rules on the demo, its used books read from
// the disk each time.
func BenchmarkVerdictOnTheDemo(b *testing.B) {
	text := demoText(b, examples.Demo)
	const folder = "../../../examples"
	for b.Loop() {
		s := FromText(folder+"/"+examples.Demo, text, folder)
		if len(s.Mistakes()) > 0 {
			b.Fatal(s.Mistakes())
		}
		if len(s.verdict().findings) == 0 {
			b.Fatal("nothing found")
		}
	}
}

// A fact typed at the demo's prompt, without the disk: what a person waits for.
func BenchmarkFactOnTheDemo(b *testing.B) {
	const folder = "../../../examples"
	s := FromText(folder+"/"+examples.Demo, demoText(b, examples.Demo), folder)
	ctx := context.Background()
	for b.Loop() {
		if r := s.Exec(ctx, "try unsolder J1.tip R1.1"); r[0].Status > Bad {
			b.Fatal(r[0].Mistakes)
		}
	}
}
