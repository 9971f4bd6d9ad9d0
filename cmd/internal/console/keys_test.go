package console

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
	"time"
)

func TestMend(t *testing.T) {
	const del = string(deleteComes) + "\x1b[3~"
	for _, test := range []struct{ name, in, want string }{
		{"text", "R1 4k7 Ω µ", "R1 4k7 Ω µ"},
		{"home, end", "\x1b[1~\x1b[4~\x1b[7~\x1b[8~", "\x1b[H\x1b[F\x1b[H\x1b[F"},
		{"arrows", "\x1b[A\x1b[B\x1b[C\x1b[D", "\x1b[A\x1b[B\x1b[C\x1b[D"},
		{"arrows of the other mode", "\x1bOA\x1bOH\x1bOF", "\x1b[A\x1b[H\x1b[F"},
		{"arrows with ctrl", "\x1b[1;5D\x1b[1;5C\x1b[1;3C\x1b[5D", "\x1bb\x1bf\x1bf\x1bb"},
		{"delete", "\x1b[3~", del},
		{"unknown keys", "a\x1b[15~\x1b[2~\x1b[Z\x1bOP\x1b[[Ab", "ab"},
		{"mouse", "a\x1b[<0;1;2Mb", "ab"},
		{"alt with a letter", "\x1bb\x1bf\x1bd\x1b\x7f\x1b\x08\x1bx", "\x1bb\x1bf\x1bd\x1b\x7f\x1b\x7fx"},
		{"escape twice", "\x1b\x1b[A", "\x1b[A"},
		{"broken off", "\x1b[1\rx", "\rx"},
		{"longer than any key", "\x1b[" + strings.Repeat("1", 40) + "~", "~"},
		{"stop, search on, nothing", "\x1aa\x14b\x00c", "abc"},
		{"kill", "\x0b", "\x07\x0b"},
		{"C1", "a\u009b31mb\u0080\u00a0", "a31mb\u00a0"},
		{"paste", "\x1b[200~a\tb\r\nc\nd\x01\x1b[31me\x1b[201~\t", "a b\rc\nde\t"},
		{"paste with blank lines", "\x1b[200~a {\r\rb\n\n \t\nc\r\n\r\nd\r\x1b[201~\r", "a {\rb\n  c\rd\r\r"},
		{"paste without its end", "\x1b[200~a\x03\t", "a\x07\x03\t"},
	} {
		var m mender
		if got := string(m.next([]byte(test.in))); got != test.want {
			t.Errorf("%s: %q becomes %q, want %q", test.name, test.in, got, test.want)
		}
	}
}

// FuzzMend holds that it makes no difference in which pieces keys arrive, and that
// nothing gets through that ends the editor.
func FuzzMend(f *testing.F) {
	for _, in := range []string{"a\x1b[1;5D\x1b[200~\t\r\n\x1b[201~", "\x1b[[A\x1bOM\xc2\x9b\x1b\x1b", "\x0b\x14\x1a\x00", "\x1b[" + strings.Repeat("0", longestCode)} {
		f.Add([]byte(in), uint8(3))
	}
	f.Fuzz(func(t *testing.T, in []byte, cut uint8) {
		var whole, parts mender
		want := whole.next(bytes.Clone(in))
		var got []byte
		for rest := in; len(rest) > 0; {
			n := min(len(rest), int(cut)%7+1)
			got = append(got, parts.next(bytes.Clone(rest[:n]))...)
			rest = rest[n:]
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%q in pieces becomes %q, at once %q", in, got, want)
		}
		if len(whole.rest) > longestCode+2 {
			t.Errorf("%d bytes wait for the rest of a key", len(whole.rest))
		}
		for i, b := range want {
			if b < ' ' && b != escape && editorKnows&(1<<b) == 0 {
				t.Errorf("control character %q of %q gets through", b, in)
			}
			if b == ctrlK && (i == 0 || want[i-1] != ctrlG) {
				t.Errorf("Ctrl-K gets through alone in %q", want)
			}
		}
		for _, code := range bytes.Split(want, []byte{escape})[1:] {
			known := false
			for _, k := range []string{"[A", "[B", "[C", "[D", "[H", "[F", "[3~", "b", "f", "d", "\x7f"} {
				known = known || bytes.HasPrefix(code, []byte(k))
			}
			if !known {
				t.Errorf("an unknown key gets through: ESC %q", code)
			}
		}
	})
}

// pieces gives one piece for each read, and the clock steps between them.
type pieces struct {
	list  []string
	clock time.Time
	step  time.Duration
}

func (p *pieces) Read(b []byte) (int, error) {
	p.clock = p.clock.Add(p.step)
	if len(p.list) == 0 {
		return 0, io.EOF
	}
	n := copy(b, p.list[0])
	p.list = p.list[1:]
	return n, nil
}

func readKeys(step time.Duration, list ...string) string {
	p := &pieces{list: list, step: step}
	b, _ := io.ReadAll(&keys{from: p, now: func() time.Time { return p.clock }})
	return string(b)
}

// Somebody who pressed Esc by chance and goes on to write must not lose the next
// letter; the pieces of one key, though, come close together.
func TestLoneEscape(t *testing.T) {
	if got := readKeys(time.Second, "\x1b", "bolt"); got != "bolt" {
		t.Errorf("Esc, then text: %q", got)
	}
	if got := readKeys(time.Millisecond, "\x1b", "b"); got != "\x1bb" {
		t.Errorf("Alt-B in two pieces: %q", got)
	}
}

func TestTypedLengthIsBounded(t *testing.T) {
	long := strings.Repeat("Ω", longestTyped)
	if got := readKeys(0, long[:1000], long[1000:2000], "\x1b[Dab\x7f\r"+"next"); !strings.HasSuffix(got, "\x1b[Dab\x7f\rnext") {
		t.Errorf("a short line is not passed on whole: it ends %q", got[len(got)-12:])
	}
	var list []string
	for rest := long + "Ω"; rest != ""; rest = rest[min(len(rest), 1000):] {
		list = append(list, rest[:min(len(rest), 1000)])
	}
	if got := readKeys(0, append(list, "\x7f\x7fab\r", "next")...); got != long+"\x7f\x7fab\rnext" {
		t.Errorf("%d bytes are passed on, ending in %q", len(got), got[len(got)-12:])
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errors.New("gone") }

func TestKeysEnd(t *testing.T) {
	k := &keys{from: failing{}, now: time.Now}
	for range 2 {
		if _, err := k.Read(make([]byte, 8)); err == nil || !k.ended.Load() {
			t.Error("the end of the terminal is not passed on")
		}
	}
}
