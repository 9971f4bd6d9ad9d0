package console

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Each test is a session at a terminal: what is pressed, and what the shell says
// it was given.

const (
	home, end          = "\x1b[1~", "\x1b[4~"     // as tmux and the Linux console send them
	left, right        = "\x1b[D", "\x1b[C"       // arrows
	up, down           = "\x1b[A", "\x1b[B"       //
	wordBack, wordOn   = "\x1b[1;5D", "\x1b[1;5C" // Ctrl with an arrow
	deleteKey          = "\x1b[3~"
	pasteFrom, pasteTo = "\x1b[200~", "\x1b[201~"
)

func TestTypedLine(t *testing.T) {
	t.Parallel()
	c := startShell(t, 80)
	c.want("> ")
	c.press("lead green R1.1 R2.1\r")
	c.want(`[line "lead green R1.1 R2.1"]`)
	c.press("reading R1.1 R1.2 4k7Ω 22 µ\r")
	c.want(`[line "reading R1.1 R1.2 4k7Ω 22 µ"]`)
	c.leave()
}

func TestEditingKeys(t *testing.T) {
	for _, test := range []struct {
		name string
		keys []string
		want string
	}{
		{"home", []string{"b", home, "a", "\r"}, "ab"},
		{"end", []string{"ac", left, left, end, "d", "\r"}, "acd"},
		{"home and end of xterm", []string{"b", "\x1b[H", "a", "\x1bOF", "c", "\r"}, "abc"},
		{"a word back", []string{"one two", wordBack, "X", "\r"}, "one Xtwo"},
		{"a word on", []string{"one two", home, wordOn, "X", "\r"}, "one Xtwo"},
		{"delete", []string{"abc", home, deleteKey, "\r"}, "bc"},
		{"delete on an empty line does not end", []string{deleteKey, "a", "\r"}, "a"},
		{"a function key", []string{"a", "\x1b[15~", "\x1bOP", "\x1b[[A", "b", "\r"}, "ab"},
		{"shift-tab", []string{"a", "\x1b[Z", "b", "\r"}, "ab"},
		{"ctrl-t with one letter", []string{"a", "\x14", "b", "\r"}, "ab"},
		{"ctrl-z", []string{"a", "\x1a", "b", "\r"}, "ab"},
		{"ctrl-blank", []string{"\x00", "a", "\r"}, "a"},
		{"other control characters", []string{"a", "\x0f\x11\x16\x18\x1c\x1d\x1e\x1f", "\u009b", "b", "\r"}, "ab"},
		{"ctrl-d within a line deletes", []string{"ab", home, "\x04", "\r"}, "b"},
		{"search without history, left with ctrl-c", []string{"\x12", "x", "\x03", "a", "\r"}, "a"},
		{"search without history, left with ctrl-g", []string{"\x12", "\x07", "a", "\r"}, "a"},
		{"a pasted tab is a blank", []string{pasteFrom + "R1\tR2" + pasteTo, "\r"}, "R1 R2"},
		{"tab after a paste is a key again", []string{pasteFrom + "R1\t" + pasteTo, "res\t", "\r"}, "R1 resistor"},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			c := startShell(t, 80)
			c.want("> ")
			c.press(test.keys...)
			c.want(fmt.Sprintf("[line %q]", test.want))
			c.leave()
		})
	}
}

func TestPastedLines(t *testing.T) {
	t.Parallel()
	c := startShell(t, 80)
	c.want("> ")
	c.press(pasteFrom + "part R1 resistor 4k7\r\npart R2\tresistor 1k\r\n" + pasteTo)
	c.want(`[line "part R1 resistor 4k7"]`)
	c.want(`[line "part R2 resistor 1k"]`)
	c.press("x\r")
	c.want(`[line "x"]`)
	c.leave()
}

func TestCompletion(t *testing.T) {
	for _, test := range []struct {
		name string
		keys []string
		want string
	}{
		{"one word", []string{"res", "\t", "\r"}, "resistor"},
		{"capitals aside", []string{"RES", "\t", "\r"}, "RESistor"},
		{"what they share", []string{"r", "\t", "es\t", "\r"}, "resistor"},
		{"chosen from the list", []string{"part R", "\t", "\t", "\t", "\t", "\t", "\r", "\r"}, "part R2"},
		{"nothing fits", []string{"x", "\t", "\r"}, "x"},
		{"a panic in it", []string{"panic", "\t", "\r"}, "panic"},
		{"ctrl-k in the list", []string{"R", "\t", "\t", "\x0b", "1", "\r"}, "R1"},
		{"ctrl-c in the list gives the line up", []string{"R", "\t", "\t", "\x03", "1", "\r"}, "1"},
		{"ctrl-c among the words of the list", []string{"R", "\t", "\t", "\t", "\x03", "1", "\r"}, "1"},
		{"wide letters before the cursor", []string{"導R", "\t", "\t", "\r"}, "導R"},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			c := startShell(t, 80)
			c.want("> ")
			c.press(test.keys...)
			c.want(fmt.Sprintf("[line %q]", test.want))
			c.leave()
		})
	}
}

// In the editor, moving about in a list of words wider than the screen divides by
// zero.
func TestNarrowTerminal(t *testing.T) {
	for _, columns := range []int{1, 2, 3, 10, 11, 12, 40, 50, 51} {
		t.Run(fmt.Sprint(columns), func(t *testing.T) {
			t.Parallel()
			c := startShell(t, columns)
			c.edits()
			for _, key := range []string{"\x01", "\x05", up, down, left, right, "\x0b"} {
				c.press("\t", "\t", key, "\x03", "\x03")
				c.press("w", "\t", "\t", key, "\x03", "\x03")
			}
			c.leave()
		})
	}
}

// A window made narrow while the list is shown is as narrow as one that always
// was.
func TestNarrowedWhileListShown(t *testing.T) {
	t.Parallel()
	for _, key := range []string{"\x01", "\x05", up, down, "\t"} {
		c := startShell(t, 80)
		c.want("> ")
		c.press("w", "\t", "\t")
		c.resize(20)
		time.Sleep(20 * time.Millisecond)
		c.press(key, key, "\x03", "\x03")
		c.leave()
	}
}

// A prompt as long as the line is wide has the editor count for ever.
func TestPromptAsWideAsTheScreen(t *testing.T) {
	for _, columns := range []int{8, 16, 17, 34} {
		t.Run(fmt.Sprint(columns), func(t *testing.T) {
			t.Parallel()
			c := startShell(t, columns, "CONSOLE_TEST_PROMPT=lantern.buzzout> ")
			c.press("ab", left, "\r")
			c.want(`[line "ab"]`)
			c.press("abc", left)
			c.resize(17)
			time.Sleep(20 * time.Millisecond)
			c.press(left, left, "x\r")
			c.want(`[line "xabc"]`)
			c.leave()
		})
	}
}

func TestInterruptGivesDroppedText(t *testing.T) {
	t.Parallel()
	c := startShell(t, 80)
	c.want("> ")
	c.press("lead green", "\x03")
	c.want(`[dropped "lead green"]`)
	c.press("a\r")
	c.want(`[line "a"]`)
	c.leave()
}

func TestQuestion(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "history")
	c := startShell(t, 80, "CONSOLE_TEST_HISTORY="+file)
	c.want("> ")
	c.press("ask\r")
	c.want("Take it back?")
	c.press("perhaps\r", "res\t\r", "YES\r") // no words are offered here
	c.want("[answer true <nil>]")
	c.press("ask\r", "\r")
	c.want("[answer false <nil>]")
	c.press("ask\r", "\x04")
	c.want("[answer false <nil>]")
	c.press("ask\r", "\x03")
	c.want("[answer false interrupted]")
	c.press("after\r")
	c.want(`[line "after"]`)
	c.leave()
	if b, _ := os.ReadFile(file); string(b) != "after\n" {
		t.Errorf("the history holds %q, want the statement and no answers", b)
	}
}

func TestHistoryRecalled(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "state", "history")
	c := startShell(t, 80, "CONSOLE_TEST_HISTORY="+file)
	c.want("> ")
	c.press("first\r", "second\r")
	c.want(`[line "second"]`)
	c.press(up, up, "!\r")
	c.want(`[line "first!"]`)
	// A recalled line that goes on over more lines is one entry, all of it.
	c.press("join\r", up, up, "\r", "third\r")
	c.want(`[line "second third"]`)
	c.press(up, "\r")
	c.want(`[line "second third"]`)
	c.press("\x12", "irst", "\r", "\r")
	c.want(`[line "first!"]`)
	c.leave()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if want := "first\nsecond\nfirst!\nsecond third\nfirst!\n"; string(b) != want {
		t.Errorf("the history holds\n%q, want\n%q", b, want)
	}
	c = startShell(t, 80, "CONSOLE_TEST_HISTORY="+file)
	c.want("> ")
	c.press(up, up, "\r")
	c.want(`[line "second third"]`)
	c.leave()
}

// The editor's time grows with the square of the length: 200,000 characters are
// not done in a minute.
func TestLongPasteIsRefused(t *testing.T) {
	t.Parallel()
	c := startShell(t, 80)
	c.want("> ")
	c.press(pasteFrom + strings.Repeat("0123456789", 100))
	for range 20 {
		c.press(strings.Repeat("0123456789", 100))
	}
	c.press(pasteTo + "\r")
	c.want("[error the line is longer than 4096 characters]")
	c.press("a\r")
	c.want(`[line "a"]`)
	c.leave()
}

// When the terminal goes away the shell ends; it does not wait for ever.
func TestTerminalGone(t *testing.T) {
	t.Parallel()
	c := startShell(t, 80)
	c.want("> ")
	c.press("half")
	c.inner.Close()
	c.outer.Close()
	select {
	case err := <-c.ended:
		if err != nil {
			t.Fatal("the shell ended with ", err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("the shell goes on without a terminal")
	}
}

// Where the output is a file nobody sits there, unless the shell is told so.
func TestOutputToFile(t *testing.T) {
	t.Parallel()
	for force, want := range map[string]string{
		"":  "[line \"res\\t\"]\n[end]\n[closed] <nil>\n",
		"1": "[line \"resistor\"]",
	} {
		name := filepath.Join(t.TempDir(), "out")
		out, err := os.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		defer out.Close()
		c := startShellInto(t, out, 80, "CONSOLE_TEST_FORCE="+force)
		if force != "" {
			c.edits()
		}
		c.press("res\t", "\r", "\x04")
		if err := <-c.ended; err != nil {
			t.Fatal(err)
		}
		got, _ := os.ReadFile(name)
		switch {
		case force == "" && string(got) != want:
			t.Errorf("it writes %q, want %q", got, want)
		case force != "" && !strings.Contains(string(got), want):
			t.Errorf("forced, it writes %q, which lacks %q", got, want)
		case strings.Contains(string(got), "\x1b[?2004"):
			t.Errorf("paste marks in a file: %q", got)
		}
	}
}

// Whatever is pressed, in whatever order, the shell is there afterwards.
func TestRandomKeys(t *testing.T) {
	pressed := []string{
		"a", "R", "w", "r", "1", " ", "Ω", "導", "é", "\r", "\t", "\t", "\t", "\x7f", "\x01", "\x02", "\x05", "\x06", "\x07", "\x08", "\x0b", "\x0c",
		"\x0e", "\x10", "\x12", "\x13", "\x14", "\x15", "\x17", "\x19", "\x1a", "\x00", "\x03", "\x1b", "\x1bb", "\x1bf", "\x1bd", "\x1b\x7f", "\x1b\x14",
		up, down, left, right, home, end, wordBack, wordOn, deleteKey, "\x1b[", "\x1bO", "\x1b[3;5~", pasteFrom, pasteTo, "ask\r",
	}
	for seed := range uint64(6) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			t.Parallel()
			random := rand.New(rand.NewPCG(seed, 1))
			c := startShell(t, []int{5, 12, 20, 40, 52, 80}[seed])
			c.want("> ")
			var log []string
			for range 60 {
				var burst strings.Builder
				for range 1 + random.IntN(12) {
					burst.WriteString(pressed[random.IntN(len(pressed))])
				}
				log = append(log, burst.String())
				c.press(burst.String())
				if random.IntN(10) == 0 {
					c.resize(4 + random.IntN(80))
				}
			}
			c.press("\x03", "\x03", "\x03", "sound\r")
			if !c.shows(`[line "sound"]`, 10*time.Second) {
				t.Fatalf("the shell does not answer after %q\n%s", log, c.unread())
			}
			c.leave()
		})
	}
}
