package diagnose

import (
	"math"
	"testing"
)

// Two inputs with switching jacks share a grid: with both plugs out, R1 and R2
// lie side by side and no reading tells which of them is 56 k. With a plug in
// either jack the one is alone between grid and chassis.
func TestProposalsTellApartWhatOneSettingDoesNot(t *testing.T) {
	b := build(t, `part CH chassis
part J1, J2 jack-break
part R1, R2 resistor 68k 1%
part V1 ecc83
part TB1 tagboard 3
fit R1 TB1.1 TB1.2
fit R2 TB1.3 TB1.2
lead green TB1.2 V1.2
lead white J1.tip TB1.1
lead white J1.tip J2.break
lead white J2.tip TB1.3
lead black J1.sleeve CH.a
lead black J1.break CH.a
lead black J2.sleeve CH.a
reading V1.2 CH.a 30.7k
reading TB1.2 CH.a 30.7k
reading TB1.2 TB1.1 30.7k
`)
	d := diagnosisOf(b)
	d.Read(b.Readings...)
	step := d.WhereNext()
	for n := 0; step.Done == NotDone && n < 20; n++ {
		c := newChassis(d, seeded(uint64(n)), hypothesis{fault(t, d, WrongValue, "R1", 56e3), none, 0})
		d.Read(c.take(step.Red, step.Black))
		step = d.WhereNext()
	}
	if len(step.Top.Explanations) < 2 {
		t.Fatalf("%s is told apart from the other", explained(step.Top.Explanations[0]))
	}
	if len(step.Proposals) == 0 {
		t.Fatal("no other setting is proposed")
	}
	p := step.Proposals[0]
	if ref := p.Control.Part.Ref; ref != "J1" && ref != "J2" {
		t.Errorf("%s is to be turned", p.Control.Name())
	}
	if p.Gain < 0.9 || len(p.Outcomes) != 2 {
		t.Fatalf("%.2f bits, %d outcomes", p.Gain, len(p.Outcomes))
	}
	low, high := math.Min(p.Outcomes[0].Low, p.Outcomes[1].Low), math.Max(p.Outcomes[0].High, p.Outcomes[1].High)
	if math.Abs(low-56e3) > 100 || math.Abs(high-68e3) > 100 {
		t.Errorf("it reads %.0f or %.0f", low, high)
	}
}

// fault finds a fault of the list.
func fault(t *testing.T, d *Diagnosis, k Kind, ref string, value float64) int {
	t.Helper()
	for i, f := range d.faults {
		if f.Kind == k && f.Part != nil && f.Part.Ref == ref && math.Abs(f.Value-value) < 1 {
			return i
		}
	}
	t.Fatalf("no fault of kind %d at %s", k, ref)
	return 0
}
