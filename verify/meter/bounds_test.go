package meter

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"buzzout/netlist"
	"buzzout/verify/meter/ohms"
)

// Controls that are left out of the bounds change nothing wherever they stand:
// the network is factored anew with each of them at either end.
func TestControlsLeftOutChangeNothing(t *testing.T) {
	left, taken := 0, 0
	for _, path := range []string{"../../examples/lantern-built.buzzout", "../../testdata/circuits/guitar-preamp-board-built.buzzout"} {
		b := open(t, path)
		n := Built(b.Bench(), b.Meanings()[0], nil)
		ground := n.Conductor(n.Ground())
		for _, c := range n.Conductors() {
			if c.Number == ground {
				continue
			}
			parts := map[int]bool{}
			for _, control := range n.openBetween(c.Number, ground) {
				parts[control] = true
				taken++
			}
			for control, open := range n.atExtremes().open {
				if parts[control] {
					continue
				}
				left++
				for end := range 2 {
					var ch ohms.Change
					for _, k := range open.tracks {
						track := &n.Tracks[k]
						share := track.ShareLow + float64(end)*(track.ShareHigh-track.ShareLow)
						ch.Values = append(ch.Values, ohms.Value{Branch: int32(track.Below), Ohms: share * track.Low},
							ohms.Value{Branch: int32(track.Above), Ohms: (1 - share) * track.Low})
					}
					low := n.atExtremes().low
					if before, after := low.Between(c.Number, ground), low.Changed(&ch).Between(c.Number, ground); differ(before, after) {
						t.Errorf("%s to ground: %v, and %v with control %d at end %d", b.Name(c.Probe), before, after, control, end)
					}
				}
			}
		}
	}
	if left < 20 || taken < 20 {
		t.Errorf("%d left out and %d taken: too few to tell", left, taken)
	}
}

// stages is an amplifier of many like stages, each with two pots that nobody
// has set, on one supply.
func stages(b testing.TB, count int) *netlist.Book {
	var text strings.Builder
	text.WriteString("part CH chassis\npart HT post\npart RB resistor 220k\nsolder HT RB.1\nsolder CH.star RB.2\n")
	for i := range count {
		fmt.Fprintf(&text, `part RA%[1]d resistor 100k
part RK%[1]d resistor 1k5
part RG%[1]d resistor 470k
part CA%[1]d capacitor 22n
part VOL%[1]d pot 1M log
part TONE%[1]d pot 500k log
part CK%[1]d electrolytic 22u 25V
solder RA%[1]d.1 HT
solder RA%[1]d.2 CA%[1]d.1
solder CA%[1]d.2 VOL%[1]d.cw TONE%[1]d.cw
solder VOL%[1]d.wiper RG%[1]d.1
solder RG%[1]d.2 VOL%[1]d.ccw TONE%[1]d.wiper RK%[1]d.2 CK%[1]d.- CH.star
solder RK%[1]d.1 CK%[1]d.+
`, i)
	}
	return build(b, text.String())
}

// BenchmarkSheet lists the test sheet of amplifiers of many stages with two
// pots each that nobody has set. The reference in the same run is the plain way to
// the bounds alone: "times-plain" is how many times faster the whole sheet is.
func BenchmarkSheet(b *testing.B) {
	for _, count := range []int{6, 60} {
		b.Run(fmt.Sprint(count), func(b *testing.B) {
			book := stages(b, count)
			rows := 0
			for b.Loop() {
				rows = len(Built(book.Bench(), book.Meanings()[0], nil).Sheet(netlist.NoTerminal).Rows)
			}
			own := b.Elapsed() / time.Duration(b.N)
			n := Built(book.Bench(), book.Meanings()[0], nil)
			b.ReportMetric(float64(rows), "readings")
			b.ReportMetric(float64(turnAll(n))/float64(own), "times-plain")
		})
	}
}

// turnAll is how long the bounds of a sheet take by the plain way: the network
// is factored anew for every open control at every step, and every reading
// looked up in each.
func turnAll(n *Network) time.Duration {
	begin := time.Now()
	ground := n.Conductor(n.Ground())
	x := n.atExtremes()
	values := make([]float64, len(n.Pieces))
	for _, open := range x.open {
		for step := range wiperSteps + 1 {
			for _, end := range []*ohms.Circuit{x.low, x.high} {
				for i := range values {
					values[i] = end.Branches[i].Ohms
				}
				for _, k := range open.tracks {
					t := &n.Tracks[k]
					whole := values[t.Below] + values[t.Above]
					values[t.Below] = whole * float64(step) / wiperSteps
					values[t.Above] = whole - values[t.Below]
				}
				table := end.WithOhms(values).Table()
				for _, c := range n.Conductors() {
					table.Between(c.Number, ground)
				}
			}
		}
	}
	return time.Since(begin)
}
