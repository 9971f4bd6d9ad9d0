package rules

import (
	"strings"
	"testing"

	"buzzout/netlist"
	"buzzout/verify/ruletest"
)

// actionOf is the action of the first finding of a rule.
func actionOf(t *testing.T, text, rule string) string {
	t.Helper()
	for _, f := range check(build(t, "book", text)) {
		if f.Rule == rule {
			return f.Action
		}
	}
	t.Errorf("%s finds nothing in\n%s", rule, text)
	return ""
}

// Striking the spare line alone would leave a joint that is not on the
// drawing: what is offered is either undone or drawn.
func TestSpareUsedOffersWhatHelps(t *testing.T) {
	const book = "part J5 jack-break\npart R1 resistor 68k\nnet in J5.tip R1.1\nspare J5.break\nlead red J5.break R1.1\n"
	want := "take it off J5.break; if the drawing has it there, add J5.break to its net and strike the line that says it is spare"
	if got := actionOf(t, book, "spare-used"); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	mended := book + "strike spare J5.break\nnet in J5.break\n"
	for _, f := range check(build(t, "book", mended)) {
		if f.Rule == "spare-used" {
			t.Error("told again when its action was followed")
		}
	}
}

func TestNoBleederSaysWhatToFit(t *testing.T) {
	const alone = `part D1 diode
part C1 electrolytic 47u 450V
part R5 resistor 220k 2W
part AC, GND post
net ac AC D1.a
net ht D1.k C1.+ R5.1
net ground C1.- R5.2 GND
fit D1 a AC k C1.+
lead black C1.- GND
wiring complete
`
	if got, want := actionOf(t, alone, "no-bleeder"), "fit R5: in the plan it is the way"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	two := strings.NewReplacer("part R5 ", "part R5, R6 ", "R5.2 GND", "R6.2 GND", "net ht", "net mid R5.2 R6.1\nnet ht").Replace(alone)
	if got, want := actionOf(t, two, "no-bleeder"), "fit R5 and R6: in the plan they are the way"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	one := strings.Replace(two, "lead black", "fit R6 1 GND 2 GND\nlead black", 1)
	if got, want := actionOf(t, one, "no-bleeder"), "fit R5: the plan has the way through R5 and R6"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := fitThese([]*netlist.Part{{Ref: "R1"}}, ""); !strings.HasPrefix(got, "fit R1: the plan has the way") {
		t.Error(got)
	}
}

// A circuit need not have mains: a charge stays when the power goes.
func TestChargeIsNotOfTheMainsAlone(t *testing.T) {
	for _, r := range []string{noBleeder.Text, noBleederDrawn.Text} {
		if strings.Contains(r, "mains is off") {
			t.Error(r)
		}
	}
	for _, f := range check(build(t, "book", ruletest.Example(noBleederDrawn))) {
		if f.Rule == "no-bleeder-drawn" && !strings.Contains(f.Cause, "after the power is off") {
			t.Error(f.Cause)
		}
	}
}
