package parts

import (
	"fmt"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// BenchmarkStart is what the library costs before anything is asked of it.
func BenchmarkStart(b *testing.B) {
	for b.Loop() {
		embedded(groups())
	}
}

// BenchmarkKindCold reads one kind with a fresh library.
func BenchmarkKindCold(b *testing.B) {
	list := groups()
	for b.Loop() {
		if _, ok := embedded(list).Kind("ecc83"); !ok {
			b.Fatal("no ecc83")
		}
	}
}

// BenchmarkKindAll reads every kind of the library.
func BenchmarkKindAll(b *testing.B) {
	list := groups()
	for b.Loop() {
		l := embedded(list)
		for _, e := range l.entries {
			e.read()
		}
	}
}

func BenchmarkKindWarm(b *testing.B) {
	l := Builtin()
	for b.Loop() {
		l.Kind("ECC83")
	}
}

// benchParts are 10,000 part lines of the sorts of an amplifier, one in fifty
// with a block of its own.
func benchParts(b *testing.B) []*lang.Part {
	var text strings.Builder
	for i := range 10_000 {
		switch {
		case i%50 == 0:
			fmt.Fprintf(&text, "part T%d output-pp { load anode-a anode-b 8k; dcr anode-a ht 180; dcr ht anode-b 165 }\n", i)
		case i%50 == 1:
			fmt.Fprintf(&text, "part TB%d tagboard 44\n", i)
		case i%10 == 2:
			fmt.Fprintf(&text, "part V%d 12AX7\n", i)
		case i%10 < 5:
			fmt.Fprintf(&text, "part C%d capacitor 22n 400V film\n", i)
		default:
			fmt.Fprintf(&text, "part R%d resistor 100k 5%% 0.5W\n", i)
		}
	}
	file := lang.Parse(diag.NewSource("bench", text.String()))
	if len(file.Mistakes) > 0 {
		b.Fatal(tell(file.Mistakes[0]))
	}
	var list []*lang.Part
	for _, s := range file.Statements {
		list = append(list, s.(*lang.Part))
	}
	return list
}

// BenchmarkForPart makes the kinds of 10,000 parts.
func BenchmarkForPart(b *testing.B) {
	list := benchParts(b)
	l := Builtin().With()
	b.ReportAllocs()
	for b.Loop() {
		for _, p := range list {
			if in := l.ForPart(p); len(in.Mistakes) > 0 {
				b.Fatal(tell(in.Mistakes[0]))
			}
		}
	}
}

func BenchmarkFind(b *testing.B) {
	k, _ := Builtin().Kind("ecc83")
	for b.Loop() {
		k.Find("2-grid")
	}
}
