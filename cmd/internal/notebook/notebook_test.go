package notebook

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// write makes a file in a folder of the test's own.
func write(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "lantern.buzzout")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func open(t *testing.T, path string, o Options) *Notebook {
	t.Helper()
	n, err := Open(path, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { n.Close() })
	return n
}

func wantFile(t *testing.T, path, want string) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("the file says\n%q, want\n%q", got, want)
	}
}

// wantBoth holds that the file and what the notebook takes it to say are the same.
func wantBoth(t *testing.T, n *Notebook, want string) {
	t.Helper()
	if n.Text() != want {
		t.Errorf("the text is\n%q, want\n%q", n.Text(), want)
	}
	wantFile(t, n.Path(), want)
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func TestAppend(t *testing.T) {
	n := open(t, write(t, "part R1 resistor 4k7\n"), Options{})
	must(t, n.Append("lead green R1.1 R1.2"))
	must(t, n.Append("net B+ {\n  R1.1\n}\n"))
	wantBoth(t, n, "part R1 resistor 4k7\nlead green R1.1 R1.2\nnet B+ {\n  R1.1\n}\n")
	changed, err := n.Reload()
	if changed || err != nil {
		t.Errorf("after our own writing Reload says %v, %v", changed, err)
	}
}

func TestAppendBeginsALine(t *testing.T) {
	n := open(t, write(t, "part R1 resistor 4k7"), Options{})
	must(t, n.Append("lead green R1.1 R1.2"))
	wantBoth(t, n, "part R1 resistor 4k7\nlead green R1.1 R1.2\n")
}

// What is written has the line breaks that the file has, whatever it is.
func TestLineBreaksOfTheFile(t *testing.T) {
	path := write(t, "note \"a\"\r\nnote \"b\"\r\n")
	n := open(t, path, Options{})
	must(t, n.Append("net x {\nR1.1\n}"))
	want := "note \"a\"\r\nnote \"b\"\r\nnet x {\r\nR1.1\r\n}\r\n"
	wantBoth(t, n, want)
	if _, err := n.Undo(0, len(`note "a"`)); err != nil {
		t.Fatal(err)
	}
	wantBoth(t, n, strings.Replace(want, "note", "# undone: note", 1))

	n = open(t, write(t, "note \"a\"\r\nnote \"b\""), Options{})
	must(t, n.Append("note \"c\"\r\n"))
	wantBoth(t, n, "note \"a\"\r\nnote \"b\"\r\nnote \"c\"\r\n")

	for _, sound := range []bool{true, false} {
		n = open(t, write(t, "note \"a\"\r\nnote"), Options{})
		if _, err := n.Recover(func(string) bool { return sound }); err != nil {
			t.Fatal(err)
		}
		if sound {
			wantBoth(t, n, "note \"a\"\r\nnote\r\n")
		} else {
			wantBoth(t, n, "note \"a\"\r\n# torn: note\r\n")
		}
	}
}

func TestAppendNothing(t *testing.T) {
	n := open(t, write(t, ""), Options{})
	for _, s := range []string{"", "\n", "  \n", "note \"a\x00b\""} {
		if n.Append(s) == nil {
			t.Errorf("%q is recorded", s)
		}
	}
	wantBoth(t, n, "")
}

func TestMissingFileIsMadeByTheFirstFact(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new.buzzout")
	n := open(t, path, Options{})
	if n.Exists() || n.Text() != "" {
		t.Error("it has something before the first fact")
	}
	if _, err := os.Stat(path); err == nil {
		t.Fatal("opening makes the file")
	}
	if changed, err := n.Reload(); changed || err != nil {
		t.Error("Reload of nothing:", changed, err)
	}
	must(t, n.Append("amplifier \"Lantern\""))
	wantBoth(t, n, "amplifier \"Lantern\"\n")
	if _, err := Open(path, Options{}); !isLocked(err) {
		t.Errorf("the file just made is not locked: %v", err)
	}
	must(t, n.Append("note \"second\""))
	wantBoth(t, n, "amplifier \"Lantern\"\nnote \"second\"\n")
}

func isLocked(err error) bool {
	var l *LockedError
	return errors.As(err, &l)
}

func TestMissingFileMadeByAnother(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new.buzzout")
	n := open(t, path, Options{})
	must(t, os.WriteFile(path, []byte("note \"theirs\"\n"), 0o644))
	if err := n.Append("note \"ours\""); !errors.Is(err, ErrChanged) {
		t.Fatal("the file of another is not noticed:", err)
	}
	if changed, err := n.Reload(); !changed || err != nil {
		t.Fatal(changed, err)
	}
	must(t, n.Append("note \"ours\""))
	wantBoth(t, n, "note \"theirs\"\nnote \"ours\"\n")
}

func TestMissingFolder(t *testing.T) {
	path := filepath.Join(t.TempDir(), "nowhere", "new.buzzout")
	n := open(t, path, Options{})
	err := n.Append("note \"a\"")
	if err == nil || !strings.HasSuffix(err.Error(), "; nothing was recorded") {
		t.Error(err)
	}
	if _, err := Open(path, Options{ReadOnly: true}); !errors.Is(err, os.ErrNotExist) {
		t.Error("a question about no file:", err)
	}
}

func TestRefused(t *testing.T) {
	dir := t.TempDir()
	big := filepath.Join(dir, "big.buzzout")
	must(t, os.WriteFile(big, nil, 0o644))
	must(t, os.Truncate(big, 100e6))
	for path, want := range map[string]string{
		dir: " is a folder, not a text file",
		big: " is 100 MB: a notebook is text of some kilobytes, and 64 MB is the most that is read",
	} {
		for _, readOnly := range []bool{false, true} {
			if _, err := Open(path, Options{ReadOnly: readOnly}); err == nil || err.Error() != path+want {
				t.Errorf("%s: %v", path, err)
			}
		}
	}
}

func TestEditorsAreNotWrittenOver(t *testing.T) {
	const before = "part R1 resistor 4k7\npart R2 resistor 1k0\n"
	const edited = "part R1 resistor 4k7\npart R2 resistor 2k2\n" // as long as before
	for name, edit := range map[string]func(path string) error{
		"in place": func(path string) error {
			return os.WriteFile(path, []byte(edited), 0o644)
		},
		"in place, of the same date": func(path string) error {
			st, err := os.Stat(path)
			must(t, err)
			must(t, os.WriteFile(path, []byte(edited), 0o644))
			return os.Chtimes(path, time.Now(), st.ModTime())
		},
		"by renaming": func(path string) error {
			must(t, os.WriteFile(path+"~", []byte(edited), 0o644))
			return os.Rename(path+"~", path)
		},
		"by putting the old one aside": func(path string) error {
			must(t, os.Rename(path, path+"~"))
			return os.WriteFile(path, []byte(edited), 0o644)
		},
	} {
		t.Run(name, func(t *testing.T) {
			if runtime.GOOS == "windows" && name != "in place" {
				t.Skip("Windows renames no open file")
			}
			path := write(t, before)
			n := open(t, path, Options{})
			must(t, edit(path))
			const why = "since it was read; nothing was recorded"
			if err := n.Append("note \"a\""); !errors.Is(err, ErrChanged) || !strings.HasSuffix(err.Error(), why) {
				t.Errorf("Append: %v", err)
			}
			if _, err := n.Undo(0, 20); !errors.Is(err, ErrChanged) {
				t.Errorf("Undo: %v", err)
			}
			if err := n.Replace("x\n"); !errors.Is(err, ErrChanged) {
				t.Errorf("Replace: %v", err)
			}
			wantFile(t, path, edited)
			if changed, err := n.Reload(); !changed || err != nil {
				t.Fatalf("Reload: %v, %v", changed, err)
			}
			if _, err := Open(path, Options{}); !isLocked(err) {
				t.Errorf("after Reload the file is not locked: %v", err)
			}
			must(t, n.Append("note \"a\""))
			wantBoth(t, n, edited+"note \"a\"\n")
		})
	}
}

func TestRemovedFile(t *testing.T) {
	path := write(t, "note \"a\"\n")
	n := open(t, path, Options{})
	must(t, os.Remove(path))
	err := n.Append("note \"b\"")
	if !errors.Is(err, ErrChanged) || !strings.Contains(err.Error(), "was removed or renamed") {
		t.Error(err)
	}
	if n.Text() != "note \"a\"\n" {
		t.Error("the text is forgotten before Reload")
	}
	if changed, err := n.Reload(); changed || !errors.Is(err, ErrGone) || !errors.Is(err, ErrChanged) || n.Text() != "note \"a\"\n" {
		t.Error("a file that is gone is no empty notebook:", changed, err, n.Text())
	}
	if err := n.Append("note \"b\""); !errors.Is(err, ErrGone) {
		t.Error("recorded where no file is:", err)
	}
	must(t, n.Restore())
	wantBoth(t, n, "note \"a\"\n")
	must(t, n.Restore()) // there already
	must(t, n.Append("note \"b\""))
	wantBoth(t, n, "note \"a\"\nnote \"b\"\n")
	if _, err := Open(path, Options{}); !isLocked(err) {
		t.Error("what Restore wrote is not locked:", err)
	}
}

// A file that comes back under its name is the notebook again, whether it is
// the same one or another.
func TestRemovedFileComesBack(t *testing.T) {
	path := write(t, "note \"a\"\n")
	n := open(t, path, Options{})
	must(t, os.Rename(path, path+"~"))
	if _, err := n.Reload(); !errors.Is(err, ErrGone) {
		t.Error(err)
	}
	must(t, os.Rename(path+"~", path))
	if changed, err := n.Reload(); changed || err != nil {
		t.Error(changed, err)
	}
	must(t, os.Remove(path))
	must(t, os.WriteFile(path, []byte("note \"c\"\n"), 0o644))
	if err := n.Restore(); !errors.Is(err, ErrChanged) || errors.Is(err, ErrGone) {
		t.Error("another file was written over:", err)
	}
	wantFile(t, path, "note \"c\"\n")
	if changed, err := n.Reload(); !changed || err != nil || n.Text() != "note \"c\"\n" {
		t.Error(changed, err, n.Text())
	}
}

func TestAnotherShellHasTheFilePutInPlace(t *testing.T) {
	path := write(t, "note \"a\"\n")
	n := open(t, path, Options{})
	must(t, os.WriteFile(path+"~", []byte("note \"edited\"\n"), 0o644))
	must(t, os.Rename(path+"~", path))
	open(t, path, Options{})
	if _, err := n.Reload(); !isLocked(err) {
		t.Error("two shells write one file:", err)
	}
	if err := n.Append("note \"b\""); !errors.Is(err, ErrChanged) {
		t.Error(err)
	}
	wantFile(t, path, "note \"edited\"\n")
}

func TestLinks(t *testing.T) {
	dir := t.TempDir()
	real := filepath.Join(dir, "real.buzzout")
	must(t, os.Mkdir(filepath.Join(dir, "bench"), 0o755))
	link := filepath.Join(dir, "bench", "link.buzzout")
	if err := os.Symlink("../second", link); err != nil {
		t.Skip(err)
	}
	must(t, os.Symlink(real, filepath.Join(dir, "second")))
	n := open(t, link, Options{}) // nothing is there yet
	must(t, n.Append("note \"a\""))
	must(t, n.Append("note \"b\""))
	if _, err := n.Undo(0, 8); err != nil {
		t.Fatal(err)
	}
	wantFile(t, real, "# undone: note \"a\"\nnote \"b\"\n")
	if st, err := os.Lstat(link); err != nil || st.Mode()&os.ModeSymlink == 0 {
		t.Error("the link was replaced by a file")
	}
	if _, err := Open(real, Options{}); !isLocked(err) {
		t.Error("the same notebook opens under two names:", err)
	}
	must(t, os.Remove(link))
	must(t, os.Symlink(link, link))
	if _, err := Open(link, Options{}); err == nil {
		t.Error("a link to itself opens")
	}
}

func TestQuestionsTakeNoLock(t *testing.T) {
	path := write(t, "note \"a\"\n")
	shell := open(t, path, Options{})
	question := open(t, path, Options{ReadOnly: true})
	must(t, shell.Append("note \"b\""))
	if changed, err := question.Reload(); !changed || err != nil {
		t.Error(changed, err)
	}
	if question.Text() != shell.Text() {
		t.Error("a question reads something else")
	}
	err := question.Append("note \"c\"")
	if !errors.Is(err, ErrReadOnly) || err.Error() != path+" was opened for questions only: the notebook can only be read; nothing was recorded" {
		t.Error(err)
	}
	shell.Close()
	if err := shell.Close(); err != nil {
		t.Error("closed twice:", err)
	}
	open(t, path, Options{}) // the question does not keep it
}

func TestFull(t *testing.T) {
	path := write(t, "")
	must(t, os.Truncate(path, Limit-1)) // NUL bytes, which are cut off again
	n := open(t, path, Options{})
	if n.Text() != "" || n.Nuls() != Limit-1 {
		t.Fatal(len(n.Text()), n.Nuls())
	}
	if err := n.Append(strings.Repeat("x", Limit)); err == nil || !strings.Contains(err.Error(), "is full: it may hold 64 MB") {
		t.Error(err)
	}
	must(t, n.Append("note \"a\""))
	wantBoth(t, n, "note \"a\"\n")
}
