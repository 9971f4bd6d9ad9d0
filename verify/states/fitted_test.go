package states

import (
	"math"
	"testing"

	"buzzout/netlist"
)

func built(b *netlist.Book) func(netlist.Setting) *netlist.Harness {
	bench := b.Bench()
	return func(s netlist.Setting) *netlist.Harness { return bench.Built(b.Meanings()[0], s) }
}

// wired is the two-jack input soldered as planned.
func wired(fits string) string {
	plan := twoJacks + usual
	return plan + `
solder R1.2 R2.2 V1.2
solder J1.sleeve J2.sleeve R3.2 J1.break
solder J1.tip R1.1 R3.1 J2.break
solder J2.tip R2.1
` + fits
}

// TestMutesAsFitted works levels out by what is fitted. The levels are by the
// rule of the divider, as in table 7c of the reference: with x for R1 and 68k
// for R2, J2 alone has x/(x + 68k) while the break contact grounds J1's tip.
func TestMutesAsFitted(t *testing.T) {
	for _, c := range []struct {
		fits string
		want float64 // J2 alone
	}{
		{"", 0.5},
		{"fit R1 91k", 91.0 / 159},
		{"fit R1 91k \"from the drawer\"\nfit R1", 0.5},
		{"fit J1 jack", 1068.0 / 1136},    // no break contact to ground the tip: R1 and R3 alone load it
		{"fit R1 none", 1},                // nothing joins the grounded tip to the grid
		{"fit R1 capacitor 1n", 0.919694}, // |Zc/(Zc + 68k)|, Zc = 1/(2 pi 1 kHz 1 nF) = 159.155k
	} {
		b := read(t, wired(c.fits))
		rows := Mutes(built(b), b.Bench().Setting, netlist.NoTerminal)[0].Rows
		got := rows[2].At[1].Level
		if math.Abs(got-c.want) > 5e-4 {
			t.Errorf("%q: J2 alone has %.4f, want %.4f", c.fits, got, c.want)
		}
		if got := Mutes(planned(b), nil, netlist.NoTerminal)[0].Rows[2].At[1].Level; math.Abs(got-0.5) > 1e-6 {
			t.Errorf("%q: as planned, J2 alone has %.4f, want half", c.fits, got)
		}
	}
}

// A jack that is not there is no input on the bench.
func TestInputLeftOut(t *testing.T) {
	b := read(t, wired("fit J2 none"))
	list := Mutes(built(b), nil, netlist.NoTerminal)
	if len(list) != 1 || len(list[0].Inputs) != 1 || list[0].Inputs[0].Jack.Ref != "J1" {
		t.Fatalf("inputs %+v", list)
	}
}

func TestWiperAtItsStop(t *testing.T) {
	b := read(t, `
part P1 pot 1M
part R1 resistor 10k
part IN, OUT post
net in   IN P1.cw
net mid  P1.wiper R1.1
net out  R1.2 OUT
spare P1.ccw
set P1 100%
`)
	at := func(name string) netlist.TerminalID {
		id, problem, _ := b.Terminal(name)
		if problem != "" {
			t.Fatal(problem)
		}
		return id
	}
	for _, c := range []struct {
		turn     float64
		from, to string
		want     bool
	}{
		{1, "IN", "P1.wiper", true},
		{1, "IN", "R1.1", true},
		{1, "IN", "OUT", false},
		{1, "P1.ccw", "P1.wiper", false},
		{0, "P1.ccw", "P1.wiper", true},
		{0.5, "IN", "P1.wiper", false},
	} {
		s := netlist.Setting{netlist.ControlRef{Part: b.Part("P1")}: {Turn: c.turn, Known: true}}
		way := NewScene(planned(b)(s), s).Through(at(c.from), at(c.to))
		if len(way) == 0 || AtStops(way) != c.want {
			t.Errorf("at %g, %s to %s: %+v, want stops %v", c.turn, c.from, c.to, way, c.want)
		}
	}
}
