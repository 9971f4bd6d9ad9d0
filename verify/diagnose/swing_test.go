package diagnose

import (
	"fmt"
	"math"
	"testing"
)

// volume is a volume control with a grid leak on its wiper.
const volume = `part CH chassis
part P1 pot 1M lin
part R1 resistor 470k 1%
part V1 ecc83
part TB1 tagboard 2
solder P1.ccw CH.a
solder R1.1 V1.2
lead white P1.wiper V1.2
solder R1.2 CH.b
lead green P1.cw TB1.1
`

// volumeNotebook has the readings of the volume control with so much of the
// track below the wiper, by the rules of series and parallel connection.
func volumeNotebook(setting string, share float64) string {
	const track, leak = 1e6, 470e3
	wiper := 1 / (1/(share*track) + 1/leak)
	top := (1 - share) * track
	return volume + setting + fmt.Sprintf("reading V1.2 CH.a %.0f ohm\nreading TB1.1 V1.2 %.0f ohm\nreading TB1.1 CH.a %.0f ohm\nreading P1.wiper CH.a %.0f ohm\n",
		wiper, top, top+wiper, wiper)
}

// Where nobody has set a pot, no reading that a turn of it explains accuses
// anything, however often it is taken.
func TestUnsetPotsAccuseNothing(t *testing.T) {
	before := diagnosisOf(build(t, volume)).Suspect()
	for _, share := range []float64{0.005, 0.03, 0.1, 0.3, 0.7, 0.97} {
		b := build(t, volumeNotebook("", share))
		d := diagnosisOf(b)
		d.Read(b.Readings...)
		if step := d.WhereNext(); step.Done == Settled {
			t.Errorf("with %.0f %% of the track below the wiper: settled on %s", share*100, explained(step.Top.Explanations[0]))
		}
		if was, is := nothingWrong(before), nothingWrong(d.Suspect()); is < was {
			t.Errorf("with %.0f %% of the track below the wiper: nothing is wrong by %.3f, and by %.3f before any reading", share*100, is, was)
		}
	}
}

// nothingWrong is how likely it is that nothing is wrong.
func nothingWrong(s Suspicion) float64 {
	for _, x := range s.Suspects {
		for _, e := range x.Explanations {
			if len(e.Faults) == 0 {
				return e.Probability
			}
		}
	}
	return 0
}

// What no turn explains is no excuse: with the lead off the wiper the grid leak
// reads alone, more than any turn allows.
func TestNoTurnExplainsAll(t *testing.T) {
	b := build(t, volume+"reading V1.2 CH.a 469k\nreading P1.wiper CH.a 350k\nreading V1.2 P1.wiper 825k\n")
	d := diagnosisOf(b)
	d.Read(b.Readings...)
	if got := first(d.Suspect()); got != "dry" {
		t.Errorf("%s, want the lead to the wiper", got)
	}
}

// A pot that stands elsewhere than told is found, and how far it is turned.
func TestPotElsewhere(t *testing.T) {
	for _, share := range []float64{0.2, 0.75, 0.9} {
		b := build(t, volumeNotebook("set P1 50%\n", share))
		d := diagnosisOf(b)
		d.Read(b.Readings...)
		s := d.Suspect()
		if got := first(s); got != "setting P1" {
			t.Errorf("%s with %.0f %% below the wiper", got, share*100)
			continue
		}
		f := s.Suspects[0].Explanations[0].Faults[0]
		if f.Slip != Elsewhere || math.Abs(f.Share-share) > 0.05 {
			t.Errorf("%.0f %% below the wiper is told as slip %d, %.0f %%", share*100, f.Slip, f.Share*100)
		}
	}
}

// A fault that leaves readings unexplained does not settle the matter, however
// much likelier than the others it is.
func TestUnexplainedReadingsDoNotSettle(t *testing.T) {
	_, d := lantern(t, "reading TB1.4 CH.star 15.1k\nreading V1.8 CH.star 15k\nreading TB1.4 TB1.26 15k\n")
	if step := d.WhereNext(); step.Done != Settled {
		t.Fatalf("three readings of R7: done is %d", step.Done)
	}
	_, d = lantern(t, "reading TB1.4 CH.star 15.1k\nreading V1.8 CH.star 15k\nreading TB1.4 TB1.26 15k\n"+
		"reading V1.3 CH.star 41k\nreading V2.3 V2.8 333k\nreading R16.1 R16.2 7.7k\nreading V1.2 CH.star 0.9M\n")
	if step := d.WhereNext(); step.Done == Settled && len(step.Top.Explanations[0].Faults) < 2 {
		t.Errorf("settled on %s though other readings are far off", explained(step.Top.Explanations[0]))
	}
}
