package notebook

import (
	"strings"
	"testing"
)

func TestTail(t *testing.T) {
	sound := func(line string) bool { return strings.HasPrefix(line, "note ") }
	for _, test := range []struct {
		name, file string
		text, torn string // as opened
		kept       bool
		recovered  string
	}{
		{"whole", "note 1\nnote 2\n", "note 1\nnote 2\n", "", true, "note 1\nnote 2\n"},
		{"empty", "", "", "", true, ""},
		{"without its line break, sound", "note 1\nnote 2", "note 1\nnote 2", "note 2", true, "note 1\nnote 2\n"},
		{"torn", "note 1\nno", "note 1\nno", "no", false, "note 1\n# torn: no\n"},
		{"torn, the only line", "no", "no", "no", false, "# torn: no\n"},
		{"NUL bytes after a line break", "note 1\n\x00\x00\x00", "note 1\n", "", true, "note 1\n"},
		{"NUL bytes in a line", "note 1\nno\x00\x00", "note 1\nno", "no", false, "note 1\n# torn: no\n"},
		{"NUL bytes only", "\x00\x00", "", "", true, ""},
		{"NUL bytes within stay", "note \x001\n", "note \x001\n", "", true, "note \x001\n"},
	} {
		t.Run(test.name, func(t *testing.T) {
			n := open(t, write(t, test.file), Options{})
			if n.Text() != test.text || n.Nuls() != len(test.file)-len(test.text) {
				t.Errorf("the text is %q, and %d NUL bytes", n.Text(), n.Nuls())
			}
			if line, torn := n.Torn(); line != test.torn || torn != (test.torn != "") {
				t.Errorf("torn is %q", line)
			}
			kept, err := n.Recover(sound)
			if kept != test.kept || err != nil {
				t.Errorf("Recover: %v, %v", kept, err)
			}
			wantBoth(t, n, test.recovered)
			must(t, n.Append("note 3"))
			wantBoth(t, n, test.recovered+"note 3\n")
		})
	}
}

func TestNulsCutOffByAppend(t *testing.T) {
	n := open(t, write(t, "note 1\n\x00\x00\x00"), Options{})
	must(t, n.Append("note 2"))
	wantBoth(t, n, "note 1\nnote 2\n")
}

func TestPutAside(t *testing.T) {
	n := open(t, write(t, "note 1\nkind k {\n  pins 1\n"), Options{})
	must(t, n.PutAside(7, len(n.Text())))
	wantBoth(t, n, "note 1\n# torn: kind k {\n# torn:   pins 1\n")
}
