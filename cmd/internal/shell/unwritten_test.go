package shell

import (
	"strings"
	"testing"
)

// A person whose fact is refused is told that nothing of it is kept; a question
// writes nothing anyway.
func TestRefusedFactIsSaidToBeUnwritten(t *testing.T) {
	const said = "Nothing of it was written down."
	for _, c := range []struct {
		line string
		want bool
	}{
		{"net wiper P1.cw", true},
		{"LEAD grean J1.tip P1.5", true},
		{"about nobody", false},
		{"lead red P1.wiper J2.tip", false},
	} {
		s, path := onDisk(t, smallBook)
		var out strings.Builder
		screen := &Screen{Out: &out, Err: &out, Width: func() int { return 200 }, Quiet: true}
		s.Converse(&typing{[]string{c.line}, func(int) {}}, screen)
		if got := strings.Contains(out.String(), said); got != c.want {
			t.Errorf("%s: %s", c.line, out.String())
		}
		if c.want && content(t, path) != smallBook {
			t.Errorf("%s was written", c.line)
		}
	}
}

// What is only remarked on is no mistake where a notebook is opened.
func TestRemarksAreNoMistakes(t *testing.T) {
	s, _ := onDisk(t, smallBook+"part CH chassis\nbolt J1.sleeve CH.once\n")
	if text := s.Banner(); strings.Contains(text, "mistake") {
		t.Error(text)
	}
}
