package shell

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const smallBook = `amplifier "Volume box"
part J1 jack "From the guitar"
part J2 jack "To the amplifier"
part P1 pot 1M log
net hot    J1.tip P1.cw
net wiper  P1.wiper J2.tip
net ground J1.sleeve P1.ccw J2.sleeve
lead white J1.tip P1.cw
`

// onDisk opens a notebook in a folder of its own.
func onDisk(t *testing.T, text string) (*Session, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "box.buzzout")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	s, err := Open(path, Options{Undone: filepath.Join(t.TempDir(), "undone.buzzout")})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s, path
}

// say executes a line and gives all that a person would see of it.
func say(t *testing.T, s *Session, line string) (text string, status Status) {
	t.Helper()
	var out strings.Builder
	screen := &Screen{Out: &out, Err: &out, Width: func() int { return 200 }}
	for _, r := range s.Exec(context.Background(), line) {
		screen.Show(&r)
		status = max(status, r.Status)
	}
	return out.String(), status
}

func content(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestAFactIsOnDiskAndAnswered(t *testing.T) {
	s, path := onDisk(t, smallBook)
	for _, c := range []struct{ line, says string }{
		{"lead red P1.wiper J2.tip", "wiper is whole now"},
		{"lead black J1.sleeve P1.ccw  # along the edge", "ground has 1 of 2 joints now"},
		{"solder J2.sleeve P1.ccw", "ground is whole now"},
		{"unsolder J2.sleeve P1.ccw", "ground has only 1 of 2 joints now"},
		{"unsolder J1.sleeve P1.ccw", "ground is apart now"},
		{`note "done for today"`, "Noted."},
		{"set P1 50%", "Now: P1 50%."},
		{"reading J1.tip J1.sleeve 1.02M", "1 reading now"},
		{"part R1 resistor 68k", "4 parts now"},
		{"net spare-net R1.1", "Net spare-net has 1 terminal now."},
		{"wiring complete", "what is missing is a fault"},
	} {
		got, status := say(t, s, c.line)
		if !strings.Contains(got, c.says) || status > Bad {
			t.Errorf("%s: status %d\n%s\nwant %q", c.line, status, got, c.says)
		}
		if text := content(t, path); !strings.HasSuffix(text, c.line+"\n") {
			t.Errorf("%s: the notebook ends with %q", c.line, text[len(text)-40:])
		}
	}
}

func TestWhatIsNotUnderstoodIsNotWritten(t *testing.T) {
	s, path := onDisk(t, smallBook)
	for _, c := range []struct{ line, says string }{
		{"lead red P1.wiper J9.tip", "no part is called J9"},
		{"lead red P1.wipe J2.tip", "Nearest name: P1.wiper"},
		{"lead rde P1.wiper J2.tip", "Nearest name: red"},
		{"wire P1.wiper J2.tip", "a wire on the bench is a `lead`"},
		{"part P1 pot 1M", "P1"},
		{"about J9", "no part, net, kind or terminal is called J9"},
		{"at P1", "say which of its terminals"},
		{"path J1.tip", "path needs A B"},
		{"compare now", "compare stands alone"},
		{"explain missing-joints", "Nearest name: missing-joint"},
		{"chekc", "Nearest name: check"},
		{"check nonsense", "no rule is called nonsense"},
		{"lead red P1.wiper J2.tip; lead blue X1.1 X2.1", "X1"},
	} {
		before := content(t, path)
		got, status := say(t, s, c.line)
		if !strings.Contains(got, c.says) || status != NotUnderstood {
			t.Errorf("%s: status %d\n%s\nwant %q", c.line, status, got, c.says)
		}
		if strings.Contains(c.line, ";") {
			continue // the first of the two was good
		}
		if content(t, path) != before {
			t.Errorf("%s was written", c.line)
		}
	}
	history, _ := say(t, s, "history")
	for _, line := range []string{"lead red P1.wiper J9.tip", "wire P1.wiper J2.tip"} {
		if !strings.Contains(history, line) {
			t.Errorf("%q is lost: the history is\n%s", line, history)
		}
	}
}

func TestARefusedFactIsShownAsTyped(t *testing.T) {
	s, _ := onDisk(t, smallBook)
	got, _ := say(t, s, "  lead red P1.wiper J9.tip")
	want := "" +
		"prompt:1:21  no part is called J9\n" +
		"      lead red P1.wiper J9.tip\n" +
		"                        ^^\n"
	if !strings.HasPrefix(got, want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestUndoTakesTheLastFactBack(t *testing.T) {
	s, path := onDisk(t, smallBook)
	say(t, s, "lead red P1.wiper J2.tip")
	got, status := say(t, s, "undo")
	if !strings.Contains(got, "Taken back") || !strings.Contains(got, "lead red P1.wiper J2.tip") ||
		!strings.Contains(got, "wiper is apart now") || status != Sound {
		t.Errorf("status %d\n%s", status, got)
	}
	if content(t, path) != smallBook {
		t.Errorf("the notebook is\n%s", content(t, path))
	}
	if undone := content(t, s.undoneFile()); !strings.Contains(undone, "lead red P1.wiper J2.tip") {
		t.Errorf("what was taken back is not kept: %q", undone)
	}
	for range 8 {
		say(t, s, "undo")
	}
	if got, _ := say(t, s, "undo"); !strings.Contains(got, "There is no fact") {
		t.Errorf("of an empty notebook undo says %q", got)
	}
}

func TestOtherNamesOfQueries(t *testing.T) {
	s, _ := onDisk(t, smallBook)
	if got, status := say(t, s, "? lead"); status != Sound || !strings.Contains(got, "lead COLOUR") {
		t.Errorf("status %d\n%s", status, got)
	}
	for _, line := range []string{"quit", "exit", "EXIT", "QUIT # for today"} {
		r := s.Exec(context.Background(), line)
		if len(r) != 1 || !r[0].Quit {
			t.Errorf("%s does not end the session: %v", line, r)
		}
	}
	if got, status := say(t, s, "CHECK"); status > Bad || got == "" {
		t.Errorf("CHECK: status %d\n%s", status, got)
	}
}

func TestTryWritesNothing(t *testing.T) {
	s, path := onDisk(t, smallBook)
	got, _ := say(t, s, "try lead red P1.wiper J2.tip")
	if !strings.Contains(got, "If that were so: wiper is whole now.") || !strings.Contains(got, "Nothing was written down.") {
		t.Errorf("got\n%s", got)
	}
	if content(t, path) != smallBook {
		t.Error("try wrote into the notebook")
	}
	if got, _ = say(t, s, "nets wiper"); !strings.Contains(got, "nothing joined yet") {
		t.Errorf("try changed the session:\n%s", got)
	}
}

func TestAnEditorMayChangeTheNotebook(t *testing.T) {
	s, path := onDisk(t, smallBook)
	if err := os.WriteFile(path, []byte(smallBook+"part R9 resistor 1k\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	news, err := s.Refresh()
	if err != nil || !strings.Contains(news, "was changed by another program, and has been read again") {
		t.Errorf("news %q, error %v", news, err)
	}
	if got, _ := say(t, s, "parts resistor"); !strings.Contains(got, "R9") {
		t.Errorf("the new part is not there:\n%s", got)
	}
	if news, err = s.Refresh(); news != "" || err != nil {
		t.Errorf("again: news %q, error %v", news, err)
	}
	// Between two statements, unseen: the fact is judged by what the file says
	// now, and goes behind it.
	if err := os.WriteFile(path, []byte(smallBook+"part R10 resistor 1k\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	got, status := say(t, s, "net more R10.1")
	if status != Sound || !strings.Contains(got, "changed by another program") {
		t.Errorf("status %d\n%s", status, got)
	}
	if text := content(t, path); text != smallBook+"part R10 resistor 1k\nnet more R10.1\n" {
		t.Errorf("the notebook is\n%s", text)
	}
}

func TestACommentIsKept(t *testing.T) {
	s, path := onDisk(t, smallBook)
	if got, status := say(t, s, "  # the heaters next"); status != Sound || !strings.Contains(got, "kept") {
		t.Errorf("status %d\n%s", status, got)
	}
	if text := content(t, path); text != smallBook+"# the heaters next\n" {
		t.Errorf("the notebook is\n%s", text)
	}
}

// A notebook from an editor that breaks lines otherwise keeps its breaks, and
// the session still knows where each fact stands.
func TestLineBreaksOfANotebook(t *testing.T) {
	text := strings.ReplaceAll(smallBook, "\n", "\r\n")
	s, path := onDisk(t, text)
	for _, line := range []string{"lead red P1.wiper J2.tip", "part R1 resistor 68k { # of the drawer\n}", `note "x"`} {
		if got, status := say(t, s, line); status > Bad {
			t.Errorf("%s: status %d\n%s", line, status, got)
		}
		text += strings.ReplaceAll(line, "\n", "\r\n") + "\r\n"
		if got := content(t, path); got != text || s.text != text {
			t.Fatalf("the notebook is\n%q, the session's\n%q, want\n%q", got, s.text, text)
		}
	}
	for range 3 {
		if got, status := say(t, s, "undo"); status > Bad {
			t.Errorf("status %d\n%s", status, got)
		}
	}
	if got := content(t, path); got != strings.ReplaceAll(smallBook, "\n", "\r\n") {
		t.Errorf("the notebook is\n%q", got)
	}
}

func TestATornLastLine(t *testing.T) {
	for _, c := range []struct{ torn, kept, says string }{
		{"lead red P1.wiper J2.tip", "lead red P1.wiper J2.tip\n", "It reads as a whole and was kept"},
		{"lead red", "# torn: lead red\n", "was never acknowledged"},
		{"lead red P1.wiper J2.tip\x00\x00\x00", "lead red P1.wiper J2.tip\n", "kept"},
		{"\x00\x00", "", "cut off"},
		{"", "", ""},
	} {
		s, path := onDisk(t, smallBook+c.torn)
		news, err := s.Recover()
		if err != nil || !strings.Contains(news, c.says) || news == "" != (c.says == "") {
			t.Errorf("%q: news %q, error %v", c.torn, news, err)
		}
		if text := content(t, path); text != smallBook+c.kept {
			t.Errorf("%q: the notebook ends with %q", c.torn, text[len(smallBook):])
		}
	}
}

func TestAQuestionCanBeGivenUp(t *testing.T) {
	s, _ := onDisk(t, smallBook)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out strings.Builder
	screen := &Screen{Out: &out, Err: &out, Width: func() int { return 200 }}
	for range 20 { // either outcome is fair; neither may disturb what follows
		for _, r := range s.Exec(ctx, "check") {
			screen.Show(&r)
		}
		say(t, s, "lead red P1.wiper J2.tip")
		say(t, s, "undo")
	}
	if got, _ := say(t, s, "nets wiper"); !strings.Contains(got, "nothing joined yet") {
		t.Errorf("got\n%s", got)
	}
}

func TestASecondShellIsKeptOut(t *testing.T) {
	_, path := onDisk(t, smallBook)
	_, err := Open(path, Options{})
	if err == nil || !IsLocked(err) || !strings.Contains(err.Error(), "is open in another shell") {
		t.Errorf("error %v", err)
	}
	if s, err := Open(path, Options{ReadOnly: true}); err != nil {
		t.Errorf("a question has to wait: %v", err)
	} else {
		s.Close()
	}
}

// Whatever is typed, the session answers, and the notebook stays one that can
// be read as before.
func FuzzExec(f *testing.F) {
	for _, q := range queries {
		f.Add(q.example)
	}
	for _, line := range []string{
		"lead red P1.wiper J2.tip", "strike lead white J1.tip P1.cw", "try try check", `use "box.buzzout"`, `use "../x"`,
		"kind k { like k }", "part X k {", "set P1 50%, J1 in", "wiring complete\nundo", "# remark", ";;;", "\x00\x1b[2J",
		"unsolder J1.tip", "fit P1 none", "about \"\"", "net ground {\nJ1.tip\n}", "undo; undo; undo", "reading J1.tip J2.tip over 20M",
	} {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, line string) {
		s, path := onDisk(t, smallBook)
		mistakes := len(s.Mistakes())
		for _, r := range s.Exec(context.Background(), line) {
			r.Text(60, NoColour)
			if _, err := r.JSON(); err != nil {
				t.Fatalf("no document: %v", err)
			}
			if r.Status == Broken {
				t.Fatal("broken")
			}
		}
		again, err := Open(path, Options{ReadOnly: true})
		if err != nil {
			t.Fatal(err)
		}
		defer again.Close()
		if again.text != s.text {
			t.Fatalf("the file says %q, the session %q", again.text, s.text)
		}
		if !strings.Contains(line, "strike") && len(again.Mistakes()) > mistakes && !strings.Contains(line, "undo") {
			t.Fatalf("%q brought mistakes into the notebook: %v", line, again.Mistakes())
		}
	})
}
