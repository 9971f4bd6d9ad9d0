package console

import (
	"bytes"
	"errors"
	"io"
	"os"
	"strings"
	"testing"
	"testing/iotest"
)

// pipe reads text as from a pipe.
func pipe(t *testing.T, text string) *Console {
	t.Helper()
	c, err := Open(Options{In: strings.NewReader(text), Out: io.Discard})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestPipe(t *testing.T) {
	for _, test := range []struct {
		name, in string
		want     []string
	}{
		{"nothing", "", nil},
		{"lines", "a\nb\n", []string{"a", "b"}},
		{"last line without a break", "a\nb", []string{"a", "b"}},
		{"blank lines", "\n\na\n", []string{"", "", "a"}},
		{"line breaks of two characters", "a\r\nb\r\n", []string{"a", "b"}},
		{"keys are text", "pa\tR\x01x\x03\x00\x1b[A\x04\x1a\n", []string{"pa\tR\x01x\x03\x00\x1b[A\x04\x1a"}},
		{"bytes that are no text", "\xff\xfe\n", []string{"\xff\xfe"}},
		{"longer than any buffer", strings.Repeat("x", 100_000) + "\ny\n", []string{strings.Repeat("x", 100_000), "y"}},
		{"the longest", strings.Repeat("x", longestLine) + "\r\ny", []string{strings.Repeat("x", longestLine), "y"}},
	} {
		c := pipe(t, test.in)
		var got []string
		for {
			line, err := c.Line("never shown")
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", test.name, err)
			}
			got = append(got, line)
		}
		if strings.Join(got, "|") != strings.Join(test.want, "|") || len(got) != len(test.want) {
			t.Errorf("%s: got %.200q", test.name, got)
		}
		if _, err := c.Line(""); err != io.EOF {
			t.Errorf("%s: after the end: %v", test.name, err)
		}
	}
}

func TestPipeLineTooLong(t *testing.T) {
	c := pipe(t, "a\n"+strings.Repeat("x", longestLine+1)+"\nb\n"+strings.Repeat("x", 5*longestLine))
	var long *LongLineError
	for i, want := range []string{"a", "too long", "b", "too long"} {
		line, err := c.Line("")
		if errors.As(err, &long) {
			line = "too long"
		} else if err != nil {
			t.Fatal(err)
		}
		if line != want {
			t.Errorf("line %d is %.20q, want %q", i+1, line, want)
		}
	}
	if want := "the line is longer than 1048576 bytes"; long.Error() != want {
		t.Errorf("it says %q, want %q", long, want)
	}
	if _, err := c.Line(""); err != io.EOF {
		t.Error("after the last line:", err)
	}
}

func TestPipeReadFails(t *testing.T) {
	c, _ := Open(Options{In: iotest.TimeoutReader(iotest.OneByteReader(strings.NewReader("ab\n")))})
	if _, err := c.Line(""); err != iotest.ErrTimeout {
		t.Error(err)
	}
}

func TestNobodyIsAsked(t *testing.T) {
	c := pipe(t, "yes\n")
	if yes, err := c.Ask("Take it back?"); yes || err != ErrNobody {
		t.Error(yes, err)
	}
	if line, _ := c.Line(""); line != "yes" {
		t.Errorf("the question took a line: next is %q", line)
	}
	if c.Person() {
		t.Error("a pipe is no person")
	}
}

func TestPlainPrompt(t *testing.T) {
	var out bytes.Buffer
	s := newScript(strings.NewReader("a\nb"), &out)
	s.line("evil\x1b]0;title\x07> ", true)
	s.line("\x1b[1m> \x1b[m", true)
	if want := "evil?]0;title?> \x1b[1m> \x1b[m"; out.String() != want {
		t.Errorf("the prompts are %q, want %q", out.String(), want)
	}
}

func TestColourWanted(t *testing.T) {
	file, err := os.Create(t.TempDir() + "/out") // no terminal
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	// The convention is from the Command Line Interface Guidelines, chapter
	// Output: NO_COLOR if set and not empty, TERM=dumb, not a terminal; and
	// FORCE_COLOR to overrule the last.
	for _, test := range []struct {
		flag, no, force, term string
		want                  bool
	}{
		{flag: "auto", want: false},
		{flag: "auto", force: "1", want: true},
		{flag: "auto", force: "1", no: "1", want: false},
		{flag: "auto", force: "1", term: "dumb", want: false},
		{flag: "auto", force: "1", term: "xterm", want: true},
		{flag: "always", no: "1", term: "dumb", want: true},
		{flag: "never", force: "1", want: false},
	} {
		env := func(name string) string {
			return map[string]string{"NO_COLOR": test.no, "FORCE_COLOR": test.force, "TERM": test.term}[name]
		}
		if got := ColourWanted(file, test.flag, env); got != test.want {
			t.Errorf("%+v: got %v", test, got)
		}
	}
}

func TestNoTerminal(t *testing.T) {
	file, err := os.Create(t.TempDir() + "/out")
	if err != nil {
		t.Fatal(err)
	}
	if Terminal(file) || Terminal(nil) {
		t.Error("a file or nothing is taken for a terminal")
	}
	if Width(file) != 80 || Width(nil) != 80 {
		t.Error("the width of no terminal is not 80")
	}
	file.Close()
	if Terminal(file) || Width(file) != 80 {
		t.Error("a closed file is taken for a terminal")
	}
}

func TestFitPrompt(t *testing.T) {
	for _, test := range []struct {
		prompt string
		width  int
		want   string
	}{
		{"lantern> ", 80, "lantern> "},
		{"\x1b[1;32mlantern\x1b[0m> ", 80, "\x1b[1;32mlantern\x1b[0m> "},
		{"two\nlines> ", 80, "two?lines> "},
		{"ends in an escape\x1b", 80, "ends in an escape?"},
		{"\x1b]0;title\x07> ", 80, "?]0;title?> "},
		{"導線> ", 80, "??> "},
		{"lantern-fourteen> ", 20, "lantern-fo"},
		{"\x1b[31mlantern\x1b[m> ", 8, "\x1b[31mlant\x1b[m"},
		{"> ", 1, ""},
	} {
		if got := fitPrompt(test.prompt, test.width); got != test.want {
			t.Errorf("%q on %d columns becomes %q, want %q", test.prompt, test.width, got, test.want)
		}
	}
}
