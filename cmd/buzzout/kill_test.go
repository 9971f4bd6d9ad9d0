package main

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// shellProcess starts the program itself: the test binary under the
// program's name is the program.
func shellProcess(t testing.TB, folder string, args ...string) *exec.Cmd {
	t.Helper()
	path, err := exec.LookPath("buzzout")
	if err != nil {
		t.Skip("the program is not in the path of the tests")
	}
	cmd := exec.Command(path, args...)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), "XDG_STATE_HOME="+filepath.Join(folder, ".state"))
	return cmd
}

// A shell that is killed at any moment has lost nothing that it acknowledged,
// and leaves a notebook that the next one can go on with.
func TestKilledShellLosesNothing(t *testing.T) {
	folder := t.TempDir()
	book := filepath.Join(folder, "box.buzzout")
	random := rand.New(rand.NewPCG(2, 71))
	var acknowledged []string
	next := 0
	for round := range 25 {
		cmd := shellProcess(t, folder, "box.buzzout")
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		first := next
		go func() {
			defer in.Close()
			for i := range 400 {
				if _, err := fmt.Fprintf(in, "note \"fact %d\"\n", first+i); err != nil {
					return
				}
			}
		}()
		time.AfterFunc(time.Duration(5+random.IntN(40))*time.Millisecond, func() { cmd.Process.Kill() })
		for lines := bufio.NewScanner(out); lines.Scan(); {
			if lines.Text() == "Noted." {
				acknowledged = append(acknowledged, fmt.Sprintf("note \"fact %d\"", next))
				next++
			}
		}
		_ = cmd.Wait()
		next += 2 // at most one more was written and not acknowledged
		text, err := os.ReadFile(book)
		if err != nil && len(acknowledged) > 0 {
			t.Fatal(err)
		}
		lines := map[string]bool{}
		for line := range strings.Lines(string(text)) {
			lines[strings.TrimSuffix(line, "\n")] = true
		}
		for _, fact := range acknowledged {
			if !lines[fact] {
				t.Fatalf("round %d: %s was acknowledged and is lost; the notebook ends with %q", round, fact, text[max(0, len(text)-80):])
			}
		}
	}
	if len(acknowledged) < 50 {
		t.Errorf("only %d facts were acknowledged in all: the test says little", len(acknowledged))
	}
	// The lock went with the process, and the notebook is sound.
	cmd := shellProcess(t, folder, "check", "box.buzzout")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

// Two shells on one notebook: the second is told, and may ask questions.
func TestSecondShellIsTold(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "box.buzzout"), []byte("part R1 resistor 68k\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	first := shellProcess(t, folder, "box.buzzout")
	in, err := first.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := first.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := first.Start(); err != nil {
		t.Fatal(err)
	}
	fmt.Fprintln(in, `note "open"`)
	if line, err := bufio.NewReader(out).ReadString('\n'); line != "Noted.\n" {
		t.Fatalf("%q, %v", line, err)
	}
	text, err := shellProcess(t, folder, "box.buzzout").CombinedOutput()
	if err == nil || !strings.Contains(string(text), "box.buzzout is open in another shell") {
		t.Errorf("the second shell: %v\n%s", err, text)
	}
	for _, line := range strings.Split(string(text), "\n") {
		if len(line) >= 80 {
			t.Errorf("a terminal breaks this line in the middle of a word: %s", line)
		}
	}
	if text, err := shellProcess(t, folder, "parts", "box.buzzout").CombinedOutput(); err != nil {
		t.Errorf("a question: %v\n%s", err, text)
	}
	in.Close()
	_, _ = io.Copy(io.Discard, out)
	if err := first.Wait(); err != nil {
		t.Error(err)
	}
}

// An interrupt ends a batch command with the signal's own status.
func TestInterruptEndsWithTheSignal(t *testing.T) {
	if os.PathSeparator != '/' {
		t.Skip("signals are those of Unix")
	}
	folder := t.TempDir()
	cmd := shellProcess(t, folder, "box.buzzout")
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	fmt.Fprintln(in, `note "waiting"`)
	if line, err := bufio.NewReader(out).ReadString('\n'); line != "Noted.\n" {
		t.Fatalf("%q, %v", line, err)
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	err = cmd.Wait()
	if got := fmt.Sprint(err); got != "signal: interrupt" {
		t.Errorf("it ended with %q", got)
	}
}
