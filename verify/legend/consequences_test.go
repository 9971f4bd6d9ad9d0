package legend

import (
	"math"
	"strings"
	"testing"

	"buzzout/lang/diag"
	"buzzout/netlist"
)

// wiredOutput is an output stage wired by the sheet, the stickers to disagree.
const wiredOutput = `part T2 output-pp { load anode-a anode-b 8k }
part V1, V2 el84
part S1 post
part S2 post
part S3 post
part HT, GND post
net anode-1 V1.7 T2.anode-a
net anode-2 V2.7 T2.anode-b
net ht HT T2.ht
net gnd GND T2.common
net tap-4 S1 T2.4ohm
net tap-8 S2 T2.8ohm
net tap-16 S3 T2.16ohm
colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, orange 4ohm, white 8ohm, grey 16ohm }
solder V1.7 T2.blue
solder V2.7 T2.brown
solder HT T2.red
solder GND T2.black
solder S1 T2.orange
solder S2 T2.white
solder S3 T2.grey
`

func under(t *testing.T, text, ref, source string, loop Loop) Under {
	t.Helper()
	book := build(t, text)
	for _, u := range Consequences(book, book.Part(ref), loop) {
		if u.Source == source {
			return u
		}
	}
	t.Fatalf("nothing of %s", source)
	return Under{}
}

func effectOf(u Under, kind EffectKind) *Effect {
	for i := range u.Effects {
		if u.Effects[i].Kind == kind {
			return &u.Effects[i]
		}
	}
	return nil
}

func TestRightByOneWrongByTheOther(t *testing.T) {
	text := wiredOutput + "colours T2 stickers { blue anode-a, red ht, brown anode-b, black common, orange 8ohm, white 4ohm, grey 16ohm }\n"
	u := under(t, text, "T2", "sheet", nil)
	if u.Wired != 7 || u.Right != 7 || len(u.Exchanges) != 0 || len(u.Effects) != 0 {
		t.Errorf("by the sheet: %d of %d right, %v %v", u.Right, u.Wired, u.Exchanges, u.Effects)
	}
	u = under(t, text, "T2", "stickers", nil)
	if u.Wired != 7 || u.Right != 5 || len(u.Exchanges) != 1 || u.Exchanges[0].Message != "orange and white are exchanged" {
		t.Errorf("by the stickers: %d of %d right, %+v", u.Right, u.Wired, u.Exchanges)
	}
	// 8000 × 8 / 4 and 8000 × 4 / 8, as in G4-32.
	loads := map[float64]bool{}
	for _, e := range u.Effects {
		if e.Kind == LoadChanged {
			loads[e.Is] = true
			if e.Was != 8000 || e.Then == "" || e.Origin == "" {
				t.Errorf("%+v", e)
			}
		}
	}
	for _, want := range []float64{16000, 4000} {
		found := false
		for is := range loads {
			found = found || near(is, want)
		}
		if !found {
			t.Errorf("no load of %g in %v", want, loads)
		}
	}
}

// Each sort of exchange is named for what it does.
func TestEffectsAreNamed(t *testing.T) {
	mains := wiredMains
	mains = strings.Replace(mains, "net hc T1.h-ct GND\n", "net gnd T1.h-ct\n", 1)
	mains = strings.Replace(mains, "part T1 mains-transformer-ct\n", `part T1 mains-transformer-ct { volts hv-a hv-ct 280V
volts hv-ct hv-b 280V }
`, 1)
	mains += `colours T1 sheet { black mains-0, white mains-230, red hv-a, blue hv-b, violet hv-ct, green h-a, brown h-b, orange h-ct }
solder X1.neutral T1.black
solder X1.live T1.white
solder D1.a T1.red
solder D2.a T1.blue
solder GND T1.violet T1.orange
solder V1.4 V1.5 T1.green
solder V1.9 T1.brown
`
	taps := `part X1 inlet
part T1 mains-transformer-tapped
net live X1.live T1.230
net neutral X1.neutral T1.0
colours T1 sheet { black 0, white 220, red 230, blue 240 }
solder X1.neutral T1.black
solder X1.live T1.red
`
	rectified := `part T1 mains-transformer-5v
part V1 ecc83
part V2 gz34
part HT post
net ha T1.h-a V1.4 V1.5
net hb T1.h-b V1.9
net ra T1.r-a V2.2
net rb T1.r-b V2.8 HT
colours T1 sheet { green h-a, grey h-b, yellow r-a, white r-b }
solder V1.4 V1.5 T1.green
solder V1.9 T1.grey
solder V2.2 T1.yellow
solder V2.8 T1.white
`
	cord := `part X1 inlet
part F1, F2 fuse 1A
part CH chassis
net live X1.live F1.1
net neutral X1.neutral F2.1
net earth X1.earth CH.earth
colours X1 cord { brown live, blue neutral, green/yellow earth }
solder F1.1 X1.brown
solder F2.1 X1.blue
bolt CH.earth X1.green/yellow
`
	ul := strings.Replace(wiredOutput, "output-pp {", "output-pp-taps {", 1) + `net screen-1 V1.9 T2.screen-a
net screen-2 V2.9 T2.screen-b
colours T2 sheet { pink screen-a, violet screen-b }
solder V1.9 T2.pink
solder V2.9 T2.violet
`
	for _, c := range []struct {
		name, text, ref, truth string
		kind                   EffectKind
		severity               diag.Severity
		was, is                float64
	}{
		{"HT for heaters", mains, "T1", "green hv-a, brown hv-b, red h-a, blue h-b", HTForHeaters, diag.Danger, 6.3, 560},
		{"heaters for HT", mains, "T1", "green hv-a, brown hv-b, red h-a, blue h-b", HeatersForHT, diag.Fault, 560, 6.3},
		{"centre tap for an end", mains, "T1", "red hv-ct, violet hv-a, blue hv-b", CentreForEnd, diag.Danger, 280, 560},
		{"mains on a heater winding", mains, "T1", "black h-a, white h-b, green mains-0, brown mains-230", MainsElsewhere, diag.Danger, 6.3, 230},
		{"another tap of the primary", taps, "T1", "black 0, white 230, red 220, blue 240", MainsTap, diag.Fault, 220, 230},
		{"a rectifier's heater for the heaters", rectified, "T1", "green r-a, yellow h-a", HTForHeaters, diag.Danger, 0, 0},
		{"live for neutral", cord, "X1", "brown neutral, blue live", MainsCrossed, diag.Danger, 0, 0},
		{"live for earth", cord, "X1", "brown earth, green/yellow live", MainsCrossed, diag.Danger, 0, 0},
		{"screens crossed", ul, "T2", "pink screen-b, violet screen-a", ScreenCrossed, diag.Fault, 0, 0},
		{"whole primary turned", ul, "T2", "blue anode-b, brown anode-a, pink screen-b, violet screen-a", PhaseTurned, diag.Caution, 0, 0},
		{"centre tap of the output transformer", wiredOutput, "T2", "blue ht, red anode-a", CentreForEnd, diag.Fault, 0, 0},
		{"common for a tap", wiredOutput, "T2", "black 16ohm, grey common", LoadChanged, diag.Fault, 8000, 8000 * 8 / math.Pow(math.Sqrt(16)-math.Sqrt(8), 2)},
		{"a tap in the primary", wiredOutput, "T2", "orange anode-a, blue 4ohm", NothingBetween, diag.Fault, 0, 0},
		{"a tap among the anodes", wiredOutput, "T2", "orange anode-a, blue 4ohm", OtherWinding, diag.Fault, 0, 0},
		{"an anode end in the secondary", wiredOutput, "T2", "orange anode-a, blue 4ohm", OtherWinding, diag.Danger, 0, 0},
		{"one HT end for a heater's", mains, "T1", "red h-a, green hv-a", HTForHeaters, diag.Danger, 0, 0},
	} {
		u := under(t, c.text+"colours "+c.ref+" truth { "+c.truth+" }\n", c.ref, "truth", nil)
		found := false
		for _, e := range u.Effects {
			if e.Kind != c.kind {
				continue
			}
			if e.Message == "" || e.Then == "" && e.Kind != OtherWinding || strings.HasPrefix(e.Then, ";") || len(e.Leads) == 0 {
				t.Errorf("%s: %+v", c.name, e)
			}
			if e.Severity == c.severity && (c.is == 0 || near(e.Is, c.is) && near(e.Was, c.was)) {
				found = true
			}
		}
		if !found {
			t.Errorf("%s: no %s in %+v", c.name, c.kind, u.Effects)
		}
	}
}

// An exchange that makes no difference has no effect.
func TestHarmlessExchangesHaveNoEffect(t *testing.T) {
	text := strings.Replace(wiredMains, "net hc T1.h-ct GND\n", "net gnd T1.h-ct\n", 1) + `colours T1 sheet { red hv-a, blue hv-b, violet hv-ct, green h-a, brown h-b }
colours T1 truth { red hv-b, blue hv-a, violet hv-ct, green h-b, brown h-a }
solder D1.a T1.red
solder D2.a T1.blue
solder GND T1.violet
solder V1.4 V1.5 T1.green
solder V1.9 T1.brown
`
	u := under(t, text, "T1", "truth", nil)
	if len(u.Effects) != 0 || len(u.Exchanges) != 2 || u.Exchanges[0].Weight != NoMatter {
		t.Errorf("%+v %+v", u.Exchanges, u.Effects)
	}
}

// What exchanged primary ends do hangs on the feedback, which somebody else
// follows.
func TestFeedbackDecidesWhatPhaseDoes(t *testing.T) {
	text := wiredOutput + "colours T2 truth { blue anode-b, brown anode-a }\n"
	for _, c := range []struct {
		sense    Feedback
		kind     EffectKind
		severity diag.Severity
	}{
		{NotAsked, PhaseTurned, diag.Caution},
		{Untold, PhaseTurned, diag.Caution},
		{NoLoop, PhaseTurned, diag.Remark},
		{Negative, PhaseTurned, diag.Remark},
		{Positive, FeedbackTurned, diag.Fault},
	} {
		var asked netlist.Meaning
		u := under(t, text, "T2", "truth", func(m netlist.Meaning) Feedback { asked = m; return c.sense })
		e := effectOf(u, c.kind)
		if len(u.Effects) != 1 || e == nil || e.Severity != c.severity || u.Loop != c.sense {
			t.Errorf("%d: %+v", c.sense, u.Effects)
		}
		book := build(t, text)
		blue, _, _ := book.Terminal("T2.blue")
		if end := asked.Ends[blue]; book.Terminals[end].Name != "anode-b" {
			t.Errorf("the loop was asked with blue as %s", book.Terminals[end].Name)
		}
	}
	// And with a primary that sits right, a loop that adds is told all the same.
	u := under(t, wiredOutput, "T2", "sheet", func(netlist.Meaning) Feedback { return Positive })
	if effectOf(u, FeedbackTurned) == nil {
		t.Errorf("%+v", u.Effects)
	}
}

// What a wrong place does is told before the rest is wired, and two taps on each
// other's places are no winding turned over.
func TestEffectsOfHalfAWiring(t *testing.T) {
	text := strings.NewReplacer("solder GND T2.black\n", "", "solder S3 T2.grey\n", "").Replace(wiredOutput) + "colours T2 stickers { orange 8ohm, white 4ohm }\n"
	u := under(t, text, "T2", "stickers", nil)
	if e := effectOf(u, LoadChanged); u.Wired != 5 || e == nil || len(u.Effects) != 2 {
		t.Errorf("%d wired, %+v", u.Wired, u.Effects)
	}
}

// Without the load of the primary the change is told as a factor.
func TestLoadBeyondWhatIsKnown(t *testing.T) {
	text := strings.Replace(wiredOutput, "output-pp { load anode-a anode-b 8k }", "output-pp", 1) +
		"colours T2 stickers { orange 8ohm, white 4ohm }\n"
	u := under(t, text, "T2", "stickers", nil)
	e := effectOf(u, LoadChanged)
	if e == nil || e.Was != 0 || !strings.Contains(e.Message, "the load that the primary is wound for") {
		t.Errorf("%+v", u.Effects)
	}
}
