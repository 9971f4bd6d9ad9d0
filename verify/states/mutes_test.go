package states

import (
	"math"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// read builds a book that must be free of mistakes.
func read(t testing.TB, text string) *netlist.Book {
	t.Helper()
	b := netlist.Build(lang.Parse(diag.NewSource("lesson.buzzout", text)), nil)
	for _, m := range b.Mistakes {
		t.Fatalf("%s: %s: %s", m.Place, m.Rule, m.Message)
	}
	return b
}

func planned(b *netlist.Book) func(netlist.Setting) *netlist.Harness {
	return func(s netlist.Setting) *netlist.Harness { return b.Planned(b.Meanings()[0], s) }
}

// twoJacks is the usual two-jack input of reference table 7c: R1 = R2 = 68 k
// from tip to grid, 1 M from tip 1 to ground, the valve's grid itself open.
const twoJacks = `
part J1, J2 jack-break
part R1, R2 resistor 68k
part R3 resistor 1M
part V1 ecc83
net grid R1.2 R2.2 V1.2
net ground J1.sleeve J2.sleeve R3.2
`

const usual = `
net tip-1 J1.tip R1.1 R3.1 J2.break
net tip-2 J2.tip R2.1
net ground J1.break
`

// TestTwoJackTruth checks the levels against table 7c, two-jack input, of the
// reference (rows derived there by hand; the arrangement is described by its
// source TWOJACK, a technician's article on input jacks).
func TestTwoJackTruth(t *testing.T) {
	for _, c := range []struct {
		name  string
		nets  string
		plugs int // bit 0: J1, bit 1: J2
		reach [2]Reach
		level [2]float64
	}{
		{"open plug in J1 only", usual, 1, [2]Reach{Full, Unplugged}, [2]float64{1, 0}},
		{"open plug in J2 only", usual, 2, [2]Reach{Unplugged, Reduced}, [2]float64{0, 0.5}}, // half, -6.02 dB
		{"open plugs in both", usual, 3, [2]Reach{Reduced, Reduced}, [2]float64{0.5, 0.5}},
		{"J2 normal wrongly to ground, J1 only", `
net tip-1 J1.tip R1.1 R3.1
net tip-2 J2.tip R2.1
net ground J1.break J2.break
`, 1, [2]Reach{Reduced, Unplugged}, [2]float64{0.5, 0}},
		{"no normals fitted, J1 only", `
net tip-1 J1.tip R1.1 R3.1
net tip-2 J2.tip R2.1
spare J1.break J2.break
`, 1, [2]Reach{Full, Unplugged}, [2]float64{1, 0}},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := read(t, twoJacks+c.nets)
			list := Mutes(planned(b), nil, netlist.NoTerminal)
			if len(list) != 1 || len(list[0].Inputs) != 2 || len(list[0].Rows) != 4 {
				t.Fatalf("%d groups of inputs: %+v", len(list), list)
			}
			row := list[0].Rows[c.plugs]
			for i := range row.At {
				if got := row.At[i]; got.Reach != c.reach[i] || math.Abs(got.Level-c.level[i]) > 0.002 {
					t.Errorf("input %d: reach %d, level %.3f; want %d, %.3f", i+1, got.Reach, got.Level, c.reach[i], c.level[i])
				}
			}
		})
	}
	t.Run("68 k parts missing, J2 normal to ground, J1 only", func(t *testing.T) {
		b := read(t, `
part J1, J2 jack-break
part R3 resistor 1M
part V1 ecc83
net grid J1.tip J2.tip V1.2 R3.1
net ground J1.sleeve J2.sleeve R3.2 J1.break J2.break
`)
		fate := Mutes(planned(b), nil, netlist.NoTerminal)[0].Rows[1].At[0]
		if fate.Reach != Shorted || fate.Cause == nil || fate.Cause.Part.Ref != "J2" || !fate.Opens {
			t.Errorf("fate %+v, want the break contact of J2 to short J1's tip", fate)
		}
	})
}

func TestWhatTakesTheLevel(t *testing.T) {
	b := read(t, twoJacks+usual)
	rows := Mutes(planned(b), nil, netlist.NoTerminal)[0].Rows
	if f := rows[2].At[1]; f.Cause == nil || f.Cause.Part.Ref != "J1" || !f.Opens {
		t.Errorf("J2 alone: %+v, want the break contact of the empty J1 as the cause", f)
	}
	if f := rows[3].At[0]; f.Other == nil || f.Other.Jack.Ref != "J2" {
		t.Errorf("J1 with both in: %+v, want the plug in J2 as the cause", f)
	}
	pair := Mutes(planned(b), nil, netlist.NoTerminal)[0].Pairs[0]
	if !pair.Both || pair.OnlyA != nil || !pair.Verified {
		t.Errorf("pair %+v, want both heard, no selection, and a switch that would select", pair)
	}
	if b.Name(pair.LegA) != "R1.2" || b.Name(pair.LegB) != "R2.2" {
		t.Errorf("legs %s and %s, want R1.2 and R2.2", b.Name(pair.LegA), b.Name(pair.LegB))
	}
}
