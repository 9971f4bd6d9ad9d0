package lang

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/alecthomas/participle/v2/lexer"

	"buzzout/lang/diag"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares with a file under testdata, or writes it.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(name, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(want, got) {
		t.Errorf("%s is no longer what is printed (-update writes it anew):\n%s", name, Differences(string(want), string(got)))
	}
}

func readSource(t testing.TB, name string) *diag.Source {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return diag.NewSource(filepath.Base(name), string(text))
}

// The notebooks of mistakes say in comments what is wanted of a line: one
// message that matches the expression after "want", or after "above" in the
// line below. Lines without such a comment must be understood.
var wantComment = regexp.MustCompile(`# (want|above) "(.*)"`)

func TestMistakes(t *testing.T) {
	names, err := filepath.Glob("testdata/mistakes/*.buzzout")
	if err != nil || len(names) < 3 {
		t.Fatalf("%d notebooks of mistakes, %v", len(names), err)
	}
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			src := readSource(t, name)
			file := Parse(src, "check", "why")
			wanted := wantedMistakes(src)
			for _, m := range file.Mistakes {
				line := m.Place.Position().Line
				if want, ok := wanted[line]; !ok {
					t.Errorf("line %d is right, and yet: %s", line, m.Message)
				} else if !regexp.MustCompile(want).MatchString(m.Message) {
					t.Errorf("line %d: %q does not match %q", line, m.Message, want)
				}
				delete(wanted, line)
			}
			for line, want := range wanted {
				t.Errorf("line %d: nothing matches %q", line, want)
			}
			var out bytes.Buffer
			if err := diag.Render(&out, file.Mistakes, diag.Options{Limit: 1000}); err != nil {
				t.Fatal(err)
			}
			golden(t, strings.TrimSuffix(name, ".buzzout")+".golden", out.Bytes())
		})
	}
}

// wantedMistakes are the expressions by line.
func wantedMistakes(src *diag.Source) map[int]string {
	wanted := map[int]string{}
	s := newScanner(src.Text, true)
	for tok := s.next(); tok.kind != lexer.EOF; tok = s.next() {
		if tok.kind != commentToken {
			continue
		}
		m := wantComment.FindStringSubmatch(src.Text[tok.start:tok.end])
		if m == nil {
			continue
		}
		line := src.Position(int(tok.start)).Line
		if m[1] == "above" {
			line--
		}
		wanted[line] = m[2]
	}
	return wanted
}
