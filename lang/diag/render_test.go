package diag

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the golden files anew")

// at finds the place of a text in a source; ‸ in it is only a spot.
func at(src *Source, text string) Place {
	i := strings.Index(src.Text, text)
	if i < 0 {
		panic("no " + text)
	}
	return Place{src, i, i + len(text)}
}

func TestRender(t *testing.T) {
	book := NewSource("lantern.buzzout", "amplifier \"Lantern 14\"\npart V1 ecc83\n\nlead green R3.2 V1.12\n")
	kit := NewSource("parts.buzzout", "part V1 ecc83\n")
	fault := func(p Place, message string) Diagnostic {
		return Diagnostic{Rule: "unknown-name", Severity: Fault, Place: p, Message: message}
	}
	full := fault(at(book, "V1.12"), "V1 has no terminal 12")
	full.Notes = []string{"V1 is an ecc83 on a nine-pin base: its terminals are 1 to 9."}
	full.Also = []Note{{at(book, "ecc83"), "V1 was named an ecc83 here"}, {at(kit, "ecc83"), "and here"}}
	full.Nearest = "V1.2"
	full.Mend = []string{"name one of its terminals", "give V1 another kind, if the valve in your hand has more pins than nine and this line is right"}

	tabs := NewSource("tabs.buzzout", "\tlead\tred\tA\tB\n")
	letters := NewSource("letters.buzzout", "note \"e\u0301te\u0301\" x\nnote \"電源\" x\nnote \"Ω µ\" x\n")
	strange := NewSource("strange\x1b[31m.buzzout", "net a\x1b[31m B\xe9 \u202Eright\u202C \u200B \x9b C\x7f D\n")
	long := NewSource("long.buzzout", "net ground "+strings.Repeat("R1.1 ", 60)+"oops "+strings.Repeat("\tR2.2", 60)+"\n"+strings.Repeat("A ", 60)+"end\n")
	ends := NewSource("ends.buzzout", "part R1   # comment\nnet a {\n  A\n}\n")
	bare := NewSource("bare.buzzout", "")

	var many []Diagnostic
	for i := range 30 {
		d := fault(at(book, "R3.2"), fmt.Sprintf("fault %d of thirty", i+1))
		if i == 3 || i == 25 {
			d.Severity, d.Message = Danger, fmt.Sprintf("danger in place %d", i+1)
		}
		many = append(many, d)
	}
	caution, remark, danger := full, full, fault(at(book, "R3.2"), "the chassis is not earthed")
	caution.Severity, caution.Message, caution.Notes, caution.Also = Caution, "net names `IN` and `in` are one net", nil, nil
	remark.Severity, remark.Message, remark.Notes, remark.Mend = Remark, "the same lead is told twice", nil, nil
	danger.Severity = Danger

	var out bytes.Buffer
	show := func(title string, opts Options, list ...Diagnostic) {
		fmt.Fprintf(&out, "=== %s\n", title)
		if err := Render(&out, list, opts); err != nil {
			t.Fatal(err)
		}
	}
	show("all that there is to say", Options{}, full)
	show("a narrow terminal", Options{Width: 40}, full)
	show("a width that is none", Options{Width: 3}, fault(at(book, "V1.12"), "V1 has no terminal 12"))
	show("colours", Options{Colour: true}, full, caution, remark, danger)
	show("severities: danger comes last", Options{}, danger, caution, remark, full)
	show("tabs are copied", Options{}, fault(at(tabs, "red"), "before"), fault(at(tabs, "red\tA"), "between"))
	show("letters of other widths", Options{},
		fault(Place{letters, 14, 15}, "accents take no column"), fault(Place{letters, 31, 32}, "ideographs take two"), fault(at(letters, "µ"), "these take one"))
	show("what must not reach a terminal", Options{},
		fault(at(strange, "C\x7f"), "a\x1bb and \u202Eback"), fault(at(strange, "\u200B"), "nothing to see"), fault(at(strange, "B\xe9"), "no UTF-8"))
	show("a long line", Options{}, fault(at(long, "R1.1"), "at its beginning"), fault(at(long, "oops"), "in the middle"), fault(at(long, "end"), "at its end"),
		fault(Place{long, 11, len(long.Text) - 130}, "nearly all of it"))
	show("ends of lines", Options{}, fault(Place{ends, 7, 7}, "the line ends before a comment"), fault(at(ends, "{\n  A\n}"), "over several lines"), fault(Place{ends, len(ends.Text), len(ends.Text)}, "the end of the text"))
	show("an empty text, and none", Options{}, fault(Place{bare, 0, 0}, "there is nothing here"), fault(Place{}, "the file cannot be read: no such file"))
	show("more than the limit", Options{Limit: 3}, many...)
	show("nothing", Options{})

	const name = "testdata/render.golden"
	if *update {
		if err := os.WriteFile(name, out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(want, out.Bytes()) {
		t.Errorf("not as in %s (-update writes it anew):\n%s", name, out.String())
	}
}

func TestRenderLimit(t *testing.T) {
	src := NewSource("x", "A")
	list := make([]Diagnostic, 50)
	for i := range list {
		list[i] = Diagnostic{Severity: Fault, Place: at(src, "A"), Message: "m"}
	}
	list[40].Severity = Danger
	var out bytes.Buffer
	if err := Render(&out, list, Options{}); err != nil {
		t.Fatal(err)
	}
	text := out.String()
	if n := strings.Count(text, "x:1:1"); n != usualLimit+1 || !strings.Contains(text, "\nand 29 more\n") || strings.LastIndex(text, "danger: m") < strings.Index(text, "and 29 more") {
		t.Errorf("%d shown:\n%s", n, text)
	}
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, errors.New("the disk is full") }

func TestRenderTellsOfFailure(t *testing.T) {
	if err := Render(brokenWriter{}, []Diagnostic{{Message: "m"}}, Options{}); err == nil {
		t.Error("a failed write is not told")
	}
}

// The carets stand under the text that they mean, whatever is in the line.
func TestCaretsAreTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		before := rapid.StringMatching(`[a-z\t é电\x{0301}\x01\x{202E}]{0,60}`).Draw(t, "before")
		after := rapid.StringMatching(`[a-z ]{0,200}`).Draw(t, "after")
		src := NewSource("x", before+"MARK"+after)
		var out bytes.Buffer
		if err := Render(&out, []Diagnostic{{Severity: Fault, Place: at(src, "MARK"), Message: "m"}}, Options{}); err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(out.String(), "\n")
		text, carets := lines[1], lines[2]
		i := strings.Index(text, "MARK")
		if i < 0 || !strings.HasSuffix(carets, "^^^^") {
			t.Fatalf("%q\n%q", text, carets)
		}
		under := strings.TrimSuffix(carets, "^^^^")
		if strings.Count(text[:i], "\t") != strings.Count(under, "\t") {
			t.Fatalf("tabs are not copied:\n%q\n%q", text, carets)
		}
		for textPart, caretPart := range zip(strings.Split(text[:i], "\t"), strings.Split(under, "\t")) {
			if Columns(textPart) != Columns(caretPart) {
				t.Fatalf("%d columns of text, %d of blanks:\n%q\n%q", Columns(textPart), Columns(caretPart), text, carets)
			}
		}
	})
}

func zip(a, b []string) func(func(string, string) bool) {
	return func(yield func(string, string) bool) {
		for i := range a {
			if !yield(a[i], b[i]) {
				return
			}
		}
	}
}
