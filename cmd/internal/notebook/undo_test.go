package notebook

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestUndo(t *testing.T) {
	for _, test := range []struct{ name, text, take, want string }{
		{"the last line", "a\nb\n", "b", "a\n"},
		{"the last line without a break", "a\nb", "b", "a\n"},
		{"the only line", "a\n", "a", ""},
		{"several lines", "a\nkind k {\n  pins 1\n}\n", "kind k {\n  pins 1\n}", "a\n"},
		{"with its line break", "a\nb\nc\n", "b\n", "a\nc\n"},
		{"indented", "a\n   b  \nc\n", "b", "a\nc\n"},
		{"a comment stays", "a\nb # why\n", "b", "a\n# why\n"},
		{"the second on a line", "a; b\n", "b", "a;\n"},
		{"the first on a line", "b; a\n", "b", "; a\n"},
		{"line breaks of two characters", "a\r\nb\r\nc\r\n", "b", "a\r\nc\r\n"},
	} {
		t.Run(test.name, func(t *testing.T) {
			undone := filepath.Join(t.TempDir(), "state", "undone")
			n := open(t, write(t, test.text), Options{Undone: undone})
			start := strings.LastIndex(test.text, test.take)
			if test.name == "the first on a line" {
				start = 0
			}
			kept, err := n.Undo(start, start+len(test.take))
			if err != nil || kept != undone {
				t.Fatal(kept, err)
			}
			if test.name == "a comment stays" {
				test.want = strings.Replace(test.want, "# why", " # why", 1)
			}
			wantBoth(t, n, test.want)
			if b, _ := os.ReadFile(undone); !strings.HasSuffix(string(b), "\n"+strings.TrimSuffix(test.take, "\n")+"\n") {
				t.Errorf("what was undone is kept as %q", b)
			}
			must(t, n.Append("more"))
			if n.Text() != strings.TrimSuffix(test.want, "\n")+map[bool]string{true: "\n"}[test.want != ""]+"more"+Break(test.want) {
				t.Errorf("then %q", n.Text())
			}
		})
	}
}

func TestUndoneStaysAsComment(t *testing.T) {
	state := filepath.Join(t.TempDir(), "file")
	must(t, os.WriteFile(state, nil, 0o600))
	for _, undone := range []string{"", filepath.Join(state, "undone"), filepath.Dir(state)} {
		n := open(t, write(t, "a; kind k {\n  pins 1\n}; b\n"), Options{Undone: undone})
		kept, err := n.Undo(3, 22)
		if err != nil || kept != "" {
			t.Fatal(kept, err)
		}
		wantBoth(t, n, "# undone: kind k {\n# undone:   pins 1\n# undone: }\na; ; b\n")
	}
}

func TestUndoneAddsUp(t *testing.T) {
	undone := filepath.Join(t.TempDir(), "undone")
	n := open(t, write(t, "a\nb\n"), Options{Undone: undone})
	for range 2 {
		if _, err := n.Undo(len(n.Text())-2, len(n.Text())); err != nil {
			t.Fatal(err)
		}
	}
	b, _ := os.ReadFile(undone)
	if i, j := strings.Index(string(b), "\nb\n"), strings.Index(string(b), "\na\n"); i < 0 || j < i {
		t.Errorf("%q is kept", b)
	}
	if st, _ := os.Stat(undone); st.Mode().Perm()&0o077 != 0 {
		t.Error("others may read it:", st.Mode())
	}
}

func TestReplace(t *testing.T) {
	path := write(t, "part   R1\n")
	must(t, os.Chmod(path, 0o640))
	left := unfinished(path)
	must(t, os.WriteFile(left, []byte("cut short"), 0o600))
	n := open(t, path, Options{})
	if _, err := os.Stat(left); err == nil {
		t.Error("what a crash left is still there after opening")
	}
	must(t, os.WriteFile(left, []byte("cut short"), 0o600))
	must(t, n.Replace("part R1\n"))
	wantBoth(t, n, "part R1\n")
	if st, _ := os.Stat(path); st.Mode().Perm() != 0o640 {
		t.Error("its permissions are now", st.Mode())
	}
	if list, _ := os.ReadDir(filepath.Dir(path)); len(list) != 1 {
		t.Error("left in the folder:", list)
	}
	if _, err := Open(path, Options{}); !isLocked(err) {
		t.Error("the new file is not locked:", err)
	}
	must(t, n.Append("part R2"))
	wantBoth(t, n, "part R1\npart R2\n")
}

func TestReplaceOfNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new.buzzout")
	n := open(t, path, Options{})
	if err := n.Replace("a\n"); err == nil || err.Error() != path+" is not there; the notebook is as it was" {
		t.Error(err)
	}
}
