package meter

import "testing"

func TestContradictions(t *testing.T) {
	const wiring = `part R1 resistor 68k
part P1 pot 1M
part D1 diode
part C1 electrolytic 22u 450V
part TB tagboard 8
fit R1 TB.1 TB.2
fit D1 a TB.3 k TB.4
fit C1 + TB.5 - TB.6
solder P1.wiper TB.1
solder P1.ccw TB.2
`
	for _, c := range []struct {
		name, readings string
		want           int
	}{
		{"the same again", "reading TB.1 TB.2 33k\nreading TB.1 TB.2 33.2k\n", 0},
		{"another figure", "reading TB.1 TB.2 33k\nreading TB.1 TB.2 60k\n", 1},
		{"with the probes exchanged", "reading TB.1 TB.2 33k\nreading TB.2 TB.1 60k\n", 1},
		{"a figure and open", "reading TB.1 TB.2 33k\nreading TB.1 TB.2 open\n", 1},
		{"a figure and more than", "reading TB.1 TB.2 33k\nreading TB.1 TB.2 over 20k\n", 0},
		{"a beep and silence near the edge", "reading TB.1 TB.2 buzz\nreading TB.1 TB.2 silent\n", 0},
		{"a beep and kilohms", "reading TB.1 TB.2 buzz\nreading TB.1 TB.2 33k\n", 1},
		{"three, and one of them out", "reading TB.1 TB.2 33k\nreading TB.1 TB.2 60k\nreading TB.1 TB.2 33k\n", 2},
		{"turned between", "set P1 0%\nreading TB.1 TB.2 0.3\nset P1 100%\nreading TB.1 TB.2 63k\n", 0},
		{"soldered between", "reading TB.1 TB.2 33k\nlead bare TB.1 TB.2\nreading TB.1 TB.2 0.3\n", 0},
		{"through a diode either way", "reading TB.3 TB.4 0.6k\nreading TB.4 TB.3 open\n", 0},
		{"on the way up", "reading TB.5 TB.6 20k\nreading TB.5 TB.6 4M\n", 0},
		{"volts", "reading TB.1 TB.2 3V\nreading TB.1 TB.2 5V\n", 0},
	} {
		b := build(t, wiring+c.readings)
		if got := Contradictions(b, b.Meanings()[0], b.Readings); len(got) != c.want {
			t.Errorf("%s: %d contradictions, want %d", c.name, len(got), c.want)
		}
	}
}
