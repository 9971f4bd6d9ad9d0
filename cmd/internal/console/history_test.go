package console

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestHistoryFile(t *testing.T) {
	// XDG Base Directory Specification, environment variables: $XDG_STATE_HOME
	// with the default $HOME/.local/state; a relative path is to be ignored.
	for _, test := range []struct{ state, home, want string }{
		{"/s", "/h", "/s/buzzout/history"},
		{"", "/h", "/h/.local/state/buzzout/history"},
		{"relative", "/h", "/h/.local/state/buzzout/history"},
		{"", "relative", ""},
		{"", "", ""},
	} {
		env := func(name string) string {
			return map[string]string{"XDG_STATE_HOME": test.state, "HOME": test.home}[name]
		}
		if got := filepath.ToSlash(HistoryFile(env)); got != test.want {
			t.Errorf("with %q and %q: %q, want %q", test.state, test.home, got, test.want)
		}
	}
}

func TestHistoryIsForThisUserAlone(t *testing.T) {
	file := filepath.Join(t.TempDir(), "state", "buzzout", "history")
	h, err := openHistory(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := h.add("lead green R1.1 R2.1"); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]os.FileMode{file: 0o600, filepath.Dir(file): 0o700} {
		st, err := os.Stat(name)
		if err != nil || st.Mode().Perm() != want {
			t.Errorf("%s has permissions %v, want %v (%v)", name, st.Mode().Perm(), want, err)
		}
	}
	os.Chmod(file, 0o644)
	openHistory(file)
	if st, _ := os.Stat(file); st.Mode().Perm() != 0o600 {
		t.Error("a file that others may read stays so")
	}
}

func TestHistoryEntries(t *testing.T) {
	file := filepath.Join(t.TempDir(), "history")
	h, _ := openHistory(file)
	for _, s := range []string{"a", "a", "", "  b  ", "c {\n d\n}", "evil\x1b[31m\u009b"} {
		if err := h.add(s); err != nil {
			t.Fatal(err)
		}
	}
	want := []string{"a", "b", "c {  d }", "evil [31m"}
	if !slices.Equal(h.entries, want) {
		t.Errorf("entries %q, want %q", h.entries, want)
	}
	again, err := openHistory(file)
	if err != nil || !slices.Equal(again.entries, want) {
		t.Errorf("read again: %q, %v", again.entries, err)
	}
}

func TestHistoryOff(t *testing.T) {
	h, err := openHistory("")
	if err != nil {
		t.Fatal(err)
	}
	if err := h.add("a"); err != nil || len(h.entries) != 1 {
		t.Errorf("not kept while the console is open: %v", err)
	}
}

func TestHistoryTrimmed(t *testing.T) {
	dir := t.TempDir()
	real, file := filepath.Join(dir, "real"), filepath.Join(dir, "history")
	var b strings.Builder
	for i := range 3 * historyEntries {
		fmt.Fprintf(&b, "entry %d %s\n", i, strings.Repeat("x", 1000)) // more than is read
	}
	if err := os.WriteFile(real, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(real, file); err != nil {
		t.Skip(err)
	}
	h, err := openHistory(file)
	if err != nil {
		t.Fatal(err)
	}
	if len(h.entries) != historyEntries || !strings.HasPrefix(h.entries[historyEntries-1], "entry 1499 ") || !strings.HasPrefix(h.entries[0], "entry 1000 ") {
		t.Errorf("%d entries, from %.12q", len(h.entries), h.entries[0])
	}
	st, err := os.Lstat(file)
	if err != nil || st.Mode()&os.ModeSymlink == 0 {
		t.Error("the link was replaced")
	}
	st, err = os.Stat(real)
	if err != nil || st.Mode().Perm() != 0o600 {
		t.Errorf("the file is for all to read: %v", st.Mode())
	}
	if text, _ := os.ReadFile(real); strings.Count(string(text), "\n") != historyEntries {
		t.Errorf("%d lines are left in the file", strings.Count(string(text), "\n"))
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "history-*")); len(left) > 0 {
		t.Error("left behind:", left)
	}
}

func TestHistoryThatIsNoFile(t *testing.T) {
	dir := t.TempDir()
	if _, err := openHistory(dir); err == nil {
		t.Error("a folder is taken for a history")
	}
	file := filepath.Join(dir, "file")
	os.WriteFile(file, nil, 0o600)
	if _, err := openHistory(filepath.Join(file, "history")); err == nil {
		t.Error("a history below a file is not told")
	}
}
