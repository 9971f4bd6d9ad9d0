package meter

import (
	"math"
	"testing"

	"buzzout/netlist"
)

// Whatever end it says to lift, with that end lifted the part reads alone: the
// bench with the joints undone is asked, in every notebook.
func TestWhatIsLiftedReadsAlone(t *testing.T) {
	lifted, hopeless := 0, 0
	for _, path := range notebooks(t) {
		b := open(t, path)
		m := b.Meanings()[0]
		n := Built(b.Bench(), m, nil)
		if len(n.Bench.Joints) == 0 {
			continue
		}
		for i := range n.Pieces {
			p := &n.Pieces[i]
			if p.Out {
				continue
			}
			for _, beside := range n.Expect(p.A, p.B).Besides {
				if beside.Part != p.Part || beside.A != p.A || beside.B != p.B {
					continue
				}
				if beside.Lift.End == netlist.NoTerminal {
					hopeless++
					continue
				}
				lifted++
				bench := *n.Bench
				bench.Joints = nil
				for _, j := range n.Bench.Joints {
					if j.A != beside.Lift.End && j.B != beside.Lift.End {
						bench.Joints = append(bench.Joints, j)
					}
				}
				off := Built(&bench, m, nil)
				if reads := off.circuit.Between(off.Conductor(p.A), off.Conductor(p.B)); math.Abs(reads-p.Ohms) > 0.02*p.Ohms {
					t.Errorf("%s: %s is %g and reads %g with %s lifted", path, p.Part.Ref, p.Ohms, reads, b.Name(beside.Lift.End))
				}
			}
		}
	}
	if lifted < 50 || hopeless == lifted {
		t.Errorf("%d lifted, %d hopeless", lifted, hopeless)
	}
}

// Both halves of a heater end at one pin, so that lifting it reads the two side
// by side: the end that reads one half alone is the other.
func TestLiftOfHalfAHeater(t *testing.T) {
	n := bench(t, `
part V1, V2 ecc83
part TB tagboard 4
lead brown TB.1 V1.4
lead brown V1.4 V1.5
lead brown TB.1 V2.4 V2.5
lead brown TB.2 V1.9 V2.9
set V1 in, V2 in
`)
	e := expect(t, n, "V1.4", "V1.9")
	for _, b := range e.Besides {
		if b.A == at(t, n.Book, "V1.4") && b.Lift.End != at(t, n.Book, "V1.4") {
			t.Errorf("lift %s", n.Book.Name(b.Lift.End))
		}
	}
	if len(e.Besides) != 4 {
		t.Errorf("%d besides", len(e.Besides))
	}
}
