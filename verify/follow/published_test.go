package follow

import (
	"slices"
	"testing"
)

// The circuits are published ones, with their sources in testdata/circuits.
// What must come out is derived by hand beside each, from the connections as
// the source tells them.

// A direct-coupled pair from a web tutorial on valves. V1 turns the signal
// over. V2's first half has it at its grid and turns it over again: output 1 is
// upright. Its second half has its grid held by C2 and is moved by the common
// cathodes, which follow V1's anode: output 2 is upside down, as an inverter's
// outputs must be the two ways round.
func TestPublishedTailedPair(t *testing.T) {
	b := open(t, "../../testdata/circuits/inverter-long-tailed-pair-plan.buzzout", nil)
	w := ask(t, b, "TIN")
	expectSteps(t, b, "stem", w.Stem, ">TIN+ V1.g>V1.a-")
	if len(w.Lanes) != 2 || w.Meeting != Apart || len(w.Tail) != 0 {
		t.Fatalf("%s", w.Text(80))
	}
	expectSteps(t, b, "output 1", w.Lanes[0], "V2.g1>V2.a1+ C3.1>C3.2+ TO1+")
	expectSteps(t, b, "output 2", w.Lanes[1], "V2.g1>V2.k1- V2.k2>V2.a2- C4.1>C4.2- TO2-")
	if len(w.Loops) != 0 {
		t.Errorf("%s", w.Text(80))
	}
}

// An ultra-linear amplifier from a university study. V2's system 6 7 8 turns
// the signal over; what it gives goes through R18 to the cathode of the other
// system, which it carries. R6 leads from there back to the input behind R7: it
// brings the signal upside down to where it was upright, so the loop is
// negative, and it stays within that stage: the transformer is not in it. V1
// with a transistor for its tail: anode 6 upright, anode 1 upside down. V4 has
// the upright one and V3 the other. p1 is the first end of the primary, so
// against ct it is turned over to s8 against s0; p2 is not. V3's anode is
// upright and comes out upside down, V4's anode is upside down and stays so:
// they add. The screens on ul1 and ul2 follow their own anodes, and these move
// against the grids: negative too.
func TestPublishedUltraLinear(t *testing.T) {
	b := open(t, "../../testdata/circuits/power-amp-el84-ultralinear-plan.buzzout", nil)
	w := ask(t, b, "SIG1.hot")
	expectSteps(t, b, "stem", w.Stem, ">SIG1.hot+ R7.1>R7.2+ C2.1>C2.2+ R14.1>R14.2+ V2.7>V2.6- R18.2>R18.1- C1.2>C1.1- R8.1>R8.2-")
	if len(w.Lanes) != 2 || w.Meeting != Adding || !w.Over {
		t.Fatalf("%s", w.Text(80))
	}
	expectSteps(t, b, "by V3", w.Lanes[0], "V1.7>V1.8- V1.3>V1.1- C6.2>C6.1- R33.2>R33.1- V3.2>V3.7+ T1.p1>T1.s8-")
	expectSteps(t, b, "by V4", w.Lanes[1], "V1.7>V1.6+ C5.2>C5.1+ R32.2>R32.1+ V4.2>V4.7- T1.p2>T1.s8-")
	if s := w.Lanes[0][1]; s.Kind != Stage || s.Driven != Cathode || s.Taken != Anode {
		t.Errorf("what the first system gives goes up through the second: %+v", s)
	}
	if len(w.Loops) != 2 {
		t.Fatalf("%s", w.Text(80))
	}
	input, screens := w.Loops[0], w.Loops[1]
	passes := func(l Loop, ref string) bool {
		return slices.ContainsFunc(l.Steps, func(s Step) bool { return s.Part.Ref == ref })
	}
	if !input.Negative() || !input.Local || !passes(input, "R6") || len(input.Through) != 0 || b.Name(input.In[0].At) != "V2.7" {
		t.Errorf("by R6: %+v", input)
	}
	if !screens.Negative() || !screens.Local || len(screens.In) != 2 || screens.In[0].Electrode != ScreenGrid {
		t.Errorf("screens: %+v", screens)
	}
}

// A build of it does the same as its drawing. In the faulty one the holder of
// V2 is wired from the wrong side: what is left comes through R6, past the valve,
// and is the other way up.
func TestPublishedBuild(t *testing.T) {
	const circuit = "../../testdata/circuits/power-amp-el84-ultralinear"
	plan := ask(t, open(t, circuit+"-plan.buzzout", nil), "SIG1.hot")
	b := open(t, circuit+"-built.buzzout", nil)
	w := askBuilt(t, b, "SIG1.hot", nil)
	if !w.Arrives || w.Meeting != Adding || w.Over != plan.Over || len(w.Loops) != len(plan.Loops) {
		t.Errorf("%s", w.Text(80))
	}
	drawn := ask(t, b, "SIG1.hot")
	if got, want := told(b, w.Steps()), told(b, drawn.Steps()); !slices.Equal(got, want) {
		t.Errorf("built\n%v\ndrawn\n%v", got, want)
	}
}

func TestPublishedFaulty(t *testing.T) {
	b := open(t, "../../testdata/circuits/power-amp-el84-ultralinear-faulty.buzzout", nil)
	w := askBuilt(t, b, "SIG1.hot", nil)
	if !w.Arrives || w.Over || len(w.Stops) != 1 || !w.Stops[0].Half || w.Stops[0].Why != NotJoined || b.Name(w.Stops[0].Next) != "V2.7" {
		t.Errorf("%s", w.Text(80))
	}
}

// Two stages of a preamplifier turn the signal over twice.
func TestPublishedPreamplifier(t *testing.T) {
	for _, name := range []string{"plan", "built"} {
		b := open(t, "../../testdata/circuits/guitar-preamp-board-"+name+".buzzout", nil)
		w := ask(t, b, "In1")
		if name == "built" {
			w = askBuilt(t, b, "In1", nil)
		}
		last := w.Stem[len(w.Stem)-1]
		if !w.Arrives || w.Over || b.Name(last.In) != "Out1" {
			t.Errorf("%s:\n%s", name, w.Text(80))
		}
		var stages []string
		for _, s := range w.Stem {
			if s.Kind == Stage {
				stages = append(stages, b.Name(s.In))
			}
		}
		if !slices.Equal(stages, []string{"U1.7", "U1.2"}) {
			t.Errorf("%s: stages %v", name, stages)
		}
	}
}

// A tone control: a follower, the network, one stage, a follower.
func TestPublishedToneControl(t *testing.T) {
	b := open(t, "../../testdata/circuits/tone-control-three-band-plan.buzzout", nil)
	w := ask(t, b, "TIN")
	var stages []string
	for _, s := range w.Stem {
		if s.Kind == Stage {
			stages = append(stages, b.Name(s.In)+">"+b.Name(s.Out))
		}
	}
	if !slices.Equal(stages, []string{"V1.2>V1.3", "V2.2>V2.1", "V2.7>V2.8"}) || !w.Over {
		t.Errorf("%v\n%s", stages, w.Text(80))
	}
}

// An output stage with a second transformer in the cathodes: the cathodes lie
// on it crosswise, which is the negative way round, or the circuit would howl.
func TestPublishedCathodeFeedback(t *testing.T) {
	b := open(t, "../../testdata/circuits/output-stage-cathode-feedback-plan.buzzout", nil)
	w := ask(t, b, "TI1")
	l := oneLoop(t, w)
	if !l.Local || !l.Negative() || l.In[0].Electrode != Cathode || len(l.Through) != 1 || l.Through[0].Ref != "T1" {
		t.Errorf("%+v\n%s", l, w.Text(80))
	}
}
