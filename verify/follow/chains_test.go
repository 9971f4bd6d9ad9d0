package follow

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// A piece of a chain takes the signal from one conductor to the next. turns
// is what the trade says of it: turned over or not; stages is how many valves
// the way goes through.
type piece struct {
	name   string
	turns  bool
	stages int
	text   string // IN, OUT and # for a number of its own
}

var pieces = []piece{
	{"common cathode", true, 1, `
part V# triode
part Ra# resistor 100k
part Rk# resistor 1k5
part Rg# resistor 1M
part C# capacitor 22n
part Ck# electrolytic 25u
net IN V#.g Rg#.1
net a# V#.a Ra#.1 C#.1
net k# V#.k Rk#.1 Ck#.+
net OUT C#.2
net ht Ra#.2
net GND Rk#.2 Rg#.2 Ck#.-
`},
	{"common cathode without a bypass", true, 1, `
part V# triode
part Ra# resistor 220k
part Rk# resistor 2k2
part Rg# resistor 1M
part C# capacitor 47n
net IN V#.g Rg#.1
net a# V#.a Ra#.1 C#.1
net k# V#.k Rk#.1
net OUT C#.2
net ht Ra#.2
net GND Rk#.2 Rg#.2
`},
	{"pentode", true, 1, `
part V# output-pentode
part Ra# resistor 4k7
part Rk# resistor 150
part Rs# resistor 1k
part Cs# electrolytic 10u
part Rg# resistor 470k
part C# capacitor 100n
net IN V#.g1 Rg#.1
net a# V#.a Ra#.1 C#.1
net k# V#.k Rk#.1
net s# V#.g2 Rs#.1 Cs#.+
net OUT C#.2
net ht Ra#.2 Rs#.2
net GND Rk#.2 Rg#.2 Cs#.-
`},
	{"follower", false, 1, `
part V# triode
part Rk# resistor 47k
part Rg# resistor 1M
part C# capacitor 1u
net IN V#.g Rg#.1
net ht V#.a
net k# V#.k Rk#.1 C#.1
net OUT C#.2
net GND Rk#.2 Rg#.2
`},
	{"follower straight on an anode", true, 2, `
part V# triode-double
part Ra# resistor 100k
part Rk# resistor 1k5
part Rf# resistor 100k
part Rg# resistor 1M
part C# capacitor 100n
net IN V#.g1 Rg#.1
net a# V#.a1 Ra#.1 V#.g2
net k# V#.k1 Rk#.1
net f# V#.k2 Rf#.1 C#.1
net OUT C#.2
net ht Ra#.2 V#.a2
net GND Rk#.2 Rf#.2 Rg#.2
`},
	{"grounded grid", false, 1, `
part V# triode
part Ra# resistor 100k
part Rk# resistor 10k
part C#, D# capacitor 1u
net IN D#.1
net k# D#.2 V#.k Rk#.1
net a# V#.a Ra#.1 C#.1
net OUT C#.2
net ht Ra#.2
net GND V#.g Rk#.2
`},
	{"cathode-coupled pair, second anode", false, 2, `
part V# triode-double
part Ra# resistor 100k
part Rk# resistor 10k
part Rg# resistor 1M
part C# capacitor 22n
net IN V#.g1 Rg#.1
net k# V#.k1 V#.k2 Rk#.1
net a# V#.a2 Ra#.1 C#.1
net OUT C#.2
net ht V#.a1 Ra#.2
net GND V#.g2 Rk#.2 Rg#.2
`},
	{"cathode-coupled pair, first anode", true, 1, `
part V# triode-double
part Ra#, Rb# resistor 100k
part Rk# resistor 22k
part Rg# resistor 1M
part C# capacitor 22n
net IN V#.g1 Rg#.1
net k# V#.k1 V#.k2 Rk#.1
net a# V#.a1 Ra#.1 C#.1
net b# V#.a2 Rb#.1
net OUT C#.2
net ht Ra#.2 Rb#.2
net GND V#.g2 Rk#.2 Rg#.2
`},
	{"divider", false, 0, `
part Ra#, Rb# resistor 220k
net IN Ra#.1
net OUT Ra#.2 Rb#.1
net GND Rb#.2
`},
	{"volume", false, 0, `
part P# pot 500k log
net IN P#.cw
net OUT P#.wiper
net GND P#.ccw
set P# 70%
`},
	{"transformer", false, 0, `
part T# transformer { winding p p1 p2; winding s s1 s2; load p1 p2 100k; load s1 s2 100k }
net IN T#.p2
net OUT T#.s2
net GND T#.p1 T#.s1
`},
	{"transformer, one winding turned", true, 0, `
part T# transformer { winding p p1 p2; winding s s1 s2; load p1 p2 100k; load s1 s2 50k }
net IN T#.p1
net OUT T#.s2
net GND T#.p2 T#.s1
`},
	{"anode into a transformer", true, 1, `
part V# triode
part Rk# resistor 1k5
part Rg# resistor 1M
part Ck# electrolytic 25u
part T# interstage-se
net IN V#.g Rg#.1
net k# V#.k Rk#.1 Ck#.+
net a# V#.a T#.anode
net OUT T#.grid
net ht T#.ht
net GND Rk#.2 Rg#.2 Ck#.- T#.return
`},
}

// TestChains strings pieces together at random: the signal arrives as often
// turned over as the trade says, through as many valves, and nothing is told to
// be fed back. "interstage-se" lists anode before ht and grid before return.
func TestChains(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for round := range 300 {
		var text strings.Builder
		text.WriteString("part IN, OUT, GND point\npart PS1 dc-supply\nnet n0 IN\nnet ht PS1.+\nnet GND PS1.-\n")
		over, stages := false, 0
		var names []string
		length := 1 + r.IntN(6)
		for i := range length {
			p := pieces[r.IntN(len(pieces))]
			if round < len(pieces) {
				length, p = 1, pieces[round]
			}
			names = append(names, p.name)
			over = over != p.turns
			stages += p.stages
			line := strings.NewReplacer("#", fmt.Sprint(i), "IN", fmt.Sprintf("n%d", i), "OUT", fmt.Sprintf("n%d", i+1)).Replace(p.text)
			text.WriteString(line)
			if round < len(pieces) {
				break
			}
		}
		fmt.Fprintf(&text, "net n%d OUT\n", length)
		b := read(t, text.String())
		m := b.Meanings()[0]
		w := Signal(Question{Book: b, Setting: b.Bench().Setting, From: terminal(t, b, "IN"), To: terminal(t, b, "OUT"),
			Draw: drawn(b, m)})
		passed := 0
		for _, s := range w.Stem {
			if s.Kind == Stage {
				passed++
			}
		}
		if !w.Arrives || w.Over != over || passed != stages || len(w.Lanes) > 0 || len(w.Loops) > 0 {
			t.Fatalf("%s: over %v, want %v; %d stages, want %d\n%s", strings.Join(names, ", "), w.Over, over, passed, stages, w.Text(80))
		}
	}
}
