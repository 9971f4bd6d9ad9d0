package shell

import (
	"io"
	"os"
	"strings"
	"testing"
)

// A notebook whose file is removed under the shell is not an empty one: what
// was known stays, and a fact does not begin a new file.
func TestAFileThatIsGone(t *testing.T) {
	s, path := onDisk(t, smallBook)
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	got, status := say(t, s, "nets hot")
	if !strings.Contains(got, "box.buzzout is gone") || !strings.Contains(got, "8 facts") || !strings.Contains(got, "P1.cw") || status > Bad {
		t.Errorf("status %d\n%s", status, got)
	}
	if got, _ := say(t, s, "nets hot"); strings.Contains(got, "gone") {
		t.Errorf("told again with each question:\n%s", got)
	}
	for _, line := range []string{"lead red P1.wiper J2.tip", "# a thought", "undo", "reload"} {
		got, status := say(t, s, line)
		if status != NotUnderstood || !strings.Contains(got, "gone") && !strings.Contains(got, "was removed or renamed") {
			t.Errorf("%s: status %d\n%s", line, status, got)
		}
		if _, err := os.Stat(path); err == nil {
			t.Fatalf("%s made a new file", line)
		}
	}
	if got, _ := say(t, s, "history"); !strings.Contains(got, "lead red P1.wiper J2.tip") {
		t.Errorf("the line is lost:\n%s", got)
	}
	if got, status := say(t, s, "save"); status != Sound || !strings.Contains(got, "again: 8 facts") {
		t.Errorf("status %d\n%s", status, got)
	}
	if got := content(t, path); got != smallBook {
		t.Errorf("saved was\n%s", got)
	}
	if got, status := say(t, s, "lead red P1.wiper J2.tip"); status > Bad || !strings.Contains(got, "wiper is whole now") {
		t.Errorf("status %d\n%s", status, got)
	}
	if got, status := say(t, s, "save"); status != Sound || !strings.Contains(got, "nothing to save") {
		t.Errorf("status %d\n%s", status, got)
	}
}

func TestAFileThatComesBack(t *testing.T) {
	s, path := onDisk(t, smallBook)
	if err := os.Rename(path, path+"~"); err != nil {
		t.Fatal(err)
	}
	say(t, s, "nets hot")
	if err := os.Rename(path+"~", path); err != nil {
		t.Fatal(err)
	}
	if got, _ := say(t, s, "nets hot"); !strings.Contains(got, "is back, and says what it said before") {
		t.Errorf("got\n%s", got)
	}
	if got, status := say(t, s, "lead red P1.wiper J2.tip"); status > Bad {
		t.Errorf("status %d\n%s", status, got)
	}
	if got := content(t, path); got != smallBook+"lead red P1.wiper J2.tip\n" {
		t.Errorf("the notebook is\n%s", got)
	}
}

// typing gives lines as a person does.
type typing struct {
	lines []string
	hook  func(left int)
}

func (l *typing) Line(string) (string, error) {
	l.hook(len(l.lines))
	if len(l.lines) == 0 {
		return "", io.EOF
	}
	line := l.lines[0]
	l.lines = l.lines[1:]
	return line, nil
}

func (*typing) Remember(string) error { return nil }
func (*typing) Person() bool          { return true }

// Leaving would lose what is nowhere else: a person is told before.
func TestLeavingWhatIsOnlyInTheShell(t *testing.T) {
	s, path := onDisk(t, smallBook)
	var out strings.Builder
	screen := &Screen{Out: &out, Err: &out, Width: func() int { return 400 }}
	asked := 0
	s.Converse(&typing{[]string{"quit", "save", "quit"}, func(left int) {
		if asked++; left == 3 {
			os.Remove(path)
		}
	}}, screen)
	if !strings.Contains(out.String(), "leave once more") || asked != 3 || content(t, path) != smallBook {
		t.Errorf("%d lines were asked for\n%s", asked, out.String())
	}
	os.Remove(path)
	asked = 0
	s.Converse(&typing{nil, func(int) { asked++ }}, screen)
	if asked != 2 {
		t.Errorf("the end of the input was asked for %d times, not twice", asked)
	}
}
