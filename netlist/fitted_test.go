package netlist

import "testing"

// What is fitted in place of a planned part goes by its own ends, and by the
// plan's where it has none of its own.
func TestFittedInPlace(t *testing.T) {
	b := expectJoints(t, `
part C1 capacitor 22u
part C2 electrolytic 22u
part J1 jack-break
part IN, OUT post
fit C1 electrolytic 22u 450V + OUT - IN
fit C2 capacitor 47u film IN OUT
fit J1 jack tip IN sleeve OUT
`, `
leg C1.1 OUT
leg C1.2 IN
leg C2.+ IN
leg C2.- OUT
leg J1.tip IN
leg J1.sleeve OUT`)
	bench := b.Bench()
	c1 := bench.Fitted(b.Part("C1"))
	if c1.Kind.Name != "electrolytic" || !c1.Kind.Elements[0].Polar || c1.Values[0].Text != "22u" || len(c1.Figures) != 2 {
		t.Errorf("C1 is %+v", c1)
	}
	c2 := bench.Fitted(b.Part("C2"))
	if c2.Kind.Elements[0].Polar || c2.Values[0].Text != "47u" || len(c2.Words) != 1 {
		t.Errorf("C2 is %+v", c2)
	}
	if as := b.Part("C2").AsPlanned(); as.Values[0].Text != "22u" || !as.Kind.Elements[0].Polar {
		t.Errorf("C2 is planned as %+v", as)
	}
	m := b.Meanings()[0]
	if n := len(bench.Built(m, nil).Joins) - len(bench.Joints); n != 0 {
		t.Errorf("the plain jack has %d contacts", n)
	}
	joins := b.Planned(m, nil).Joins
	if len(joins) != 1 || joins[0].Kind != ByContact {
		t.Errorf("the jack of the plan: %+v", joins)
	}
}

func TestFittedFigures(t *testing.T) {
	b := sound(t, `
part R1 resistor 100k 5% carbon
part P1 pot 1M log
part IN, OUT post
fit R1 91k "from the drawer"
fit R1 IN OUT
fit P1 lin
fit P1 470k
`)
	bench := b.Bench()
	r1 := bench.Fitted(b.Part("R1"))
	if len(r1.Figures) != 2 || r1.Figures[0].Text != "91k" || r1.Figures[1].Text != "5%" || r1.Values[0].Text != "91k" || r1.Words[0] != "carbon" {
		t.Errorf("R1 is %+v", r1)
	}
	if f := bench.Fittings[b.Part("R1")]; f.Reason != "from the drawer" || f.Told != b.Facts[3] || f.Fact != b.Facts[4] {
		t.Errorf("R1: a fact of places alone takes the reason away: %+v", f)
	}
	if p1 := bench.Fitted(b.Part("P1")); p1.Law().String() != "linear" || p1.Values[0].Text != "470k" {
		t.Errorf("P1 is %+v", p1)
	}
}

// A part that is not there joins nothing.
func TestFittedNone(t *testing.T) {
	b := sound(t, `
part J1 jack-break
part V1 kt88
fit J1 none
`)
	m := b.Meanings()[0]
	if joins := b.Bench().Built(m, nil).Joins; len(joins) != 0 {
		t.Errorf("joins %+v", joins)
	}
}
