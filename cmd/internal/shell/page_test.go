package shell

import (
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
)

func TestParagraphsBreakAtTheWidth(t *testing.T) {
	p := newPage(32, NoColour)
	p.say(2, 4, plain("The grid of "), strong("V1"), plain(", pin 2, meets 220\u00a0kΩ and nothing else."))
	want := "  The grid of V1, pin 2, meets\n    220\u00a0kΩ and nothing else.\n"
	if got := p.text.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestColoursTakeNoRoom(t *testing.T) {
	write := func(palette Palette) string {
		p := newPage(34, palette)
		p.say(0, 2, span{faultStyle, "fault"}, plain(": the "), span{style{paint: "green"}, "green"}, plain(" lead is on the wrong pin"))
		p.table(0, []row{{{strong("R1")}, swatch(lang.Colour{Base: "green", Tracer: "yellow"}), cell("end")}})
		return p.text.String()
	}
	without := write(NoColour)
	for _, palette := range []Palette{EightColour, ManyColour, FullColour} {
		with := write(palette)
		if with == without {
			t.Errorf("palette %d writes no colour", palette)
		}
		if got := withoutEscapes(with); got != without {
			t.Errorf("palette %d: with its colours taken out\n%q\nis not\n%q", palette, got, without)
		}
	}
}

func withoutEscapes(text string) string {
	var b strings.Builder
	for {
		before, after, found := strings.Cut(text, "\x1b[")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		_, text, _ = strings.Cut(after, "m")
	}
}

func TestNothingFromANotebookReachesTheTerminalRaw(t *testing.T) {
	const nasty = "R1\x1b]0;gone\x07\x9b31m\u202eevil"
	p := newPage(80, NoColour)
	p.say(0, 0, plain(nasty))
	p.line(0, strong(nasty))
	p.table(0, []row{{cell(nasty), cell(nasty)}})
	p.listing(0, []row{{cell(nasty), cell(nasty)}})
	p.prose(0, nasty)
	source := diag.NewSource(nasty, "lead red "+nasty+" R2.1")
	p.quote(0, []diag.Note{{Place: diag.Place{Source: source, End: len(source.Text)}, Text: nasty}})
	for _, r := range p.text.String() {
		if r != '\n' && (r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || r == '\u202e') {
			t.Fatalf("%U reached the screen: %q", r, p.text.String())
		}
	}
}

func TestTablesAlign(t *testing.T) {
	p := newPage(40, NoColour)
	p.table(1, []row{
		{cell("R1"), cell("4k7"), cell("a long remark that has to go on below itself")},
		{cell("C20"), cell("µ"), cell("short")},
		{cell("X"), cell("y"), cell("")},
	})
	want := "" +
		" R1   4k7  a long remark that has to go\n" +
		"           on below itself\n" +
		" C20  µ    short\n" +
		" X    y\n"
	if got := p.text.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestQuotesAlignAndAreCut(t *testing.T) {
	short := diag.NewSource("a.buzzout", "lead red R1.1 R2.1")
	long := diag.NewSource("longer.buzzout", "net ground {\n R1.1\n}\n"+strings.Repeat("x", 90))
	p := newPage(50, NoColour)
	p.quote(2, []diag.Note{
		{Place: diag.Place{Source: short, End: 18}},
		{Place: diag.Place{Source: long, End: 20}},
		{Place: diag.Place{Source: long, Start: 21, End: 111}},
		{Text: "a remark without a place"},
	})
	want := "" +
		"  a.buzzout:1       lead red R1.1 R2.1\n" +
		"  longer.buzzout:1  net ground { …\n" +
		"  longer.buzzout:4  xxxxxxxxxxxxxxxxxxxxxxxxxxxxx…\n" +
		"  a remark without a place\n"
	if got := p.text.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestWordsStayWhole(t *testing.T) {
	got := words([]span{plain("net "), strong("grid-1"), plain("."), plain(" next")})
	var texts []string
	for _, word := range got {
		text := ""
		for _, s := range word {
			text += s.text
		}
		texts = append(texts, text)
	}
	if strings.Join(texts, "|") != "net|grid-1.|next" {
		t.Errorf("got %q", texts)
	}
}

func TestPaletteFollowsTheTerminal(t *testing.T) {
	for _, c := range []struct {
		term, colorterm string
		want            Palette
	}{
		{"dumb", "truecolor", NoColour},
		{"xterm", "", EightColour},
		{"xterm-256color", "", ManyColour},
		{"xterm-256color", "truecolor", FullColour},
		{"tmux-256color", "24bit", FullColour},
		{"", "", EightColour},
	} {
		if got := PaletteFor(c.term, c.colorterm); got != c.want {
			t.Errorf("TERM=%q COLORTERM=%q: got %d, want %d", c.term, c.colorterm, got, c.want)
		}
	}
}

func TestEveryLeadColourHasAPaint(t *testing.T) {
	for _, name := range lang.ColourNames() {
		if _, known := leadPaints[name]; !known {
			t.Errorf("%s has no paint", name)
		}
	}
}
