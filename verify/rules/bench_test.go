package rules

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

// stages writes a notebook of so many like stages, each of ten parts and some
// thirty joints, one of them in a hundred with a mistake, behind one supply.
func stages(n int) string {
	var b strings.Builder
	b.WriteString(`
part X1 inlet
part F1 fuse 1A
part CH chassis
part T1 transformer {
    winding primary p1 p2
    winding hv      hv-a hv-ct hv-b
    winding heater  h-a h-b
}
part D1, D2 diode
part RB resistor 220k 2W
net live    X1.live F1.end
net fused   F1.side T1.p1
net neutral X1.neutral T1.p2
net hv-a    T1.hv-a D1.a
net hv-b    T1.hv-b D2.a
net ht      D1.k D2.k RB.1
net ground  X1.earth CH.earth T1.hv-ct RB.2
net h-a     T1.h-a
net h-b     T1.h-b
lead green/yellow X1.earth CH.earth
`)
	for i := range n {
		fmt.Fprintf(&b, `
part V%[1]d       ecc83
part TB%[1]d      tagboard 20
part R%[1]d1, R%[1]d2 resistor 100k 1W
part R%[1]d3, R%[1]d4 resistor 1k5
part R%[1]d5, R%[1]d6 resistor 1M
part C%[1]d1      capacitor 22n 400V
part C%[1]d2      electrolytic 22u 25V
net a%[1]d   V%[1]d.1 R%[1]d1.1 C%[1]d1.1
net g%[1]d   V%[1]d.2 R%[1]d5.1
net k%[1]d   V%[1]d.3 R%[1]d3.1 C%[1]d2.+
net b%[1]d   V%[1]d.6 R%[1]d2.1
net m%[1]d   C%[1]d1.2 V%[1]d.7 R%[1]d6.1
net l%[1]d   V%[1]d.8 R%[1]d4.1
net ht       R%[1]d1.2 R%[1]d2.2
net h-a      V%[1]d.4 V%[1]d.5
net h-b      V%[1]d.9
net ground   R%[1]d3.2 R%[1]d4.2 R%[1]d5.2 R%[1]d6.2 C%[1]d2.-
fit R%[1]d1 TB%[1]d.1 TB%[1]d.2
fit R%[1]d2 TB%[1]d.3 TB%[1]d.2
fit R%[1]d3 TB%[1]d.4 TB%[1]d.5
fit R%[1]d4 TB%[1]d.6 TB%[1]d.5
fit R%[1]d5 TB%[1]d.7 TB%[1]d.5
fit R%[1]d6 TB%[1]d.8 TB%[1]d.5
fit C%[1]d1 TB%[1]d.1 TB%[1]d.8
fit C%[1]d2 + TB%[1]d.4 - TB%[1]d.5
lead blue   TB%[1]d.1 V%[1]d.1
lead green  TB%[1]d.7 V%[1]d.2
lead yellow TB%[1]d.4 V%[1]d.3
lead blue   TB%[1]d.3 V%[1]d.6
lead green  TB%[1]d.8 V%[1]d.7
lead yellow TB%[1]d.6 V%[1]d.8
lead red    TB%[1]d.2 D1.k
lead black  TB%[1]d.5 CH.star
lead brown  V%[1]d.4 V%[1]d.5
lead brown  V%[1]d.4 TB%[1]d.20 TB%[1]d.19
lead brown  V%[1]d.9 TB%[1]d.18
`, i+1)
		if i%100 == 0 {
			fmt.Fprintf(&b, "lead green/yellow TB%[1]d.1 TB%[1]d.17\nsolder R%[1]d1.2 R%[1]d2.2\n", i+1)
		}
	}
	b.WriteString("wiring complete\n")
	return b.String()
}

func BenchmarkRulesOnStages(b *testing.B) {
	for _, n := range []int{100, 1000} {
		book := build(b, "stages", stages(n))
		if len(book.Mistakes) > 0 {
			b.Fatal(book.Mistakes[0].Message)
		}
		bench := book.Bench()
		meaning := book.Meanings()[0]
		b.Run(fmt.Sprintf("parts=%d/joints=%d", len(book.Parts), len(bench.Joints)), func(b *testing.B) {
			for b.Loop() {
				c := &verify.Case{Bench: bench, Meaning: meaning, Setting: bench.Setting}
				verify.Run(All(), c)
			}
		})
		c := &verify.Case{Bench: bench, Meaning: meaning, Setting: bench.Setting}
		c.Planned()
		c.Built()
		if n < 1000 {
			continue
		}
		for _, r := range All() {
			if r.Look != nil {
				b.Run("rule="+r.Name, func(b *testing.B) {
					for b.Loop() {
						r.Look(c, func(verify.Finding) {})
					}
				})
			}
		}
	}
}

func BenchmarkRulesOnTheDemo(b *testing.B) {
	book := demo(b, "lantern-faults.buzzout")
	bench := book.Bench()
	meaning := book.Meanings()[0]
	for b.Loop() {
		verify.Run(All(), &verify.Case{Bench: bench, Meaning: meaning, Setting: bench.Setting})
	}
}

// demo builds a notebook of the examples.
func demo(t testing.TB, name string) *netlist.Book {
	t.Helper()
	return buildFrom(t, "../../examples", name)
}

// buildFrom builds a notebook of a folder, with the books that it uses.
func buildFrom(t testing.TB, dir, name string) *netlist.Book {
	t.Helper()
	read := func(name string) (*lang.File, error) {
		text, err := os.ReadFile(dir + "/" + name)
		if err != nil {
			return nil, err
		}
		return lang.Parse(diag.NewSource(name, string(text))), nil
	}
	file, err := read(name)
	if err != nil {
		t.Fatal(err)
	}
	return netlist.Build(file, func(_, path string) (*lang.File, error) { return read(path) })
}
