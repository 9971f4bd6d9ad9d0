package legend

import (
	"strings"
	"testing"

	"buzzout/lang/diag"
)

// A winding of three ends whose middle one is no centre: what its ends give in
// one another's places is told in volts, by subtraction of those of the taps.
func TestTapsOfOneWindingAreToldInVolts(t *testing.T) {
	const common = "part GND post\npart D1 diode\npart V1 ecc83\n"
	heater := common + `part T1 transformer { winding h h0 h5 h6; volts h0 h5 5V; volts h0 h6 6.3V }
net ha V1.4 V1.5 T1.h0
net hb V1.9 T1.h6
net hc GND T1.h5
colours T1 sheet { green h0, grey h5, brown h6 }
colours T1 truth { grey h6, brown h5 }
solder V1.4 V1.5 T1.green
solder GND T1.grey
solder V1.9 T1.brown
`
	supply := func(low, high string) string {
		return common + `part TAG post
part T1 transformer { winding s s0 s1 s2; volts s0 s1 ` + low + `V; volts s0 s2 ` + high + `V }
net gnd GND T1.s0
net first D1.a T1.s1
net second TAG T1.s2
colours T1 sheet { black s0, white s1, yellow s2 }
colours T1 truth { white s2, yellow s1 }
solder GND T1.black
solder D1.a T1.white
solder TAG T1.yellow
`
	}
	turned := func(text string) string {
		return strings.NewReplacer("net first D1.a T1.s1\nnet second TAG T1.s2\n", "net first TAG T1.s1\nnet second D1.a T1.s2\n",
			"solder D1.a T1.white\nsolder TAG T1.yellow\n", "solder TAG T1.white\nsolder D1.a T1.yellow\n").Replace(text)
	}
	for _, c := range []struct {
		name, text string
		kind       EffectKind
		severity   diag.Severity
		was, is    float64
		then       string
	}{
		{"heaters on a lower tap", heater, HeaterVolts, diag.Fault, 6.3, 5, "run cold"},
		{"bias from a higher tap", supply("40", "50"), BiasVolts, diag.Fault, 40, 50, "run cold"},
		{"bias from a lower tap", turned(supply("40", "50")), BiasVolts, diag.Danger, 50, 40, "too much current"},
		{"HT from a higher tap", supply("250", "300"), HTVolts, diag.Danger, 250, 300, "too high"},
		{"HT from a lower tap", turned(supply("250", "300")), HTVolts, diag.Fault, 300, 250, "too low"},
	} {
		u := under(t, c.text, "T1", "truth", nil)
		found := false
		for _, e := range u.Effects {
			found = found || e.Kind == c.kind && e.Severity == c.severity && near(e.Was, c.was) && near(e.Is, c.is) && strings.Contains(e.Then, c.then)
			if e.Kind == CentreForEnd {
				t.Errorf("%s: a tap that is no centre is told as one: %s. %s", c.name, e.Message, e.Then)
			}
		}
		if !found {
			t.Errorf("%s: %+v", c.name, u.Effects)
		}
	}
}

// Two windings for the same volts side by side on the mains: one of them turned
// shorts the other.
func TestAWindingTurnedAgainstAnother(t *testing.T) {
	const text = `part X1 inlet
part T1 transformer { winding p p1 p2; winding q q1 q2; volts p1 p2 115V; volts q1 q2 115V }
net live X1.live T1.p1 T1.q1
net neutral X1.neutral T1.p2 T1.q2
colours T1 sheet { red p1, blue p2, green q1, white q2 }
colours T1 truth { green q2, white q1 }
solder X1.live T1.red T1.green
solder X1.neutral T1.blue T1.white
`
	u := under(t, text, "T1", "truth", nil)
	e := effectOf(u, WindingsOpposed)
	if e == nil || e.Severity != diag.Danger || !strings.Contains(e.Message, "q winding") || !strings.Contains(e.Then, "short each other") {
		t.Errorf("%+v", u.Effects)
	}
}
