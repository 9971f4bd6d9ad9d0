package console

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chzyer/readline"
)

func TestOffer(t *testing.T) {
	for _, test := range []struct {
		name, typed string
		words       []string
		columns     int
		want        []string
	}{
		{"all, in the order given", "", []string{"part", "lead", "group"}, 80, []string{"part", "lead", "group"}},
		{"those that begin with it", "r", []string{"resistor", "lead", "reading"}, 80, []string{"esistor", "eading"}},
		{"capitals aside", "v1.G", []string{"V1.grid", "V1.heater"}, 80, []string{"rid"}},
		{"already whole", "R1", []string{"R1", "R10"}, 80, []string{"", "0"}},
		{"the same twice", "r", []string{"red", "Red", "red"}, 80, []string{"ed"}},
		{"not cut within a letter", "4k7", []string{"4k7Ω"}, 80, []string{"Ω"}},
		{"just fits", "", []string{"12345678", "1"}, 10, []string{"12345678", "1"}},
		{"one too wide", "", []string{"123456789", "1"}, 10, nil},
		{"control characters", "", []string{"a\x1b[31m", "b\n", "c"}, 80, []string{"c"}},
		{"letters of two columns", "", []string{"導線", "c"}, 80, []string{"c"}},
		{"typed letters of two columns", "導", []string{"導線"}, 80, nil},
		{"broken text", "", []string{"\xff", "c"}, 80, []string{"c"}},
		{"no screen", "", []string{"a"}, 0, nil},
	} {
		endings, _ := offer(test.typed, test.words, test.columns, 24)
		var got []string
		for _, e := range endings {
			got = append(got, string(e))
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}

// The editor adds to what it is given in place.
func TestEndingsShareNoMemory(t *testing.T) {
	endings, _ := offer("", []string{"part", "lead", "group"}, 80, 24)
	for i := range endings {
		_ = append(endings[i], '!')
	}
	if got := fmt.Sprintf("%s", slices.Collect(func(yield func(string) bool) {
		for _, e := range endings {
			if !yield(string(e)) {
				return
			}
		}
	})); got != "[part lead group]" {
		t.Errorf("adding to one changed others: %s", got)
	}
}

// A list has to fit under the line, and hides no word: what does not fit is
// gathered, and every word can be reached by a further Tab.
func TestOnlyAScreenful(t *testing.T) {
	many := func(format string, n int) (words []string) {
		for i := range n {
			words = append(words, fmt.Sprintf(format, i))
		}
		return words
	}
	for _, test := range []struct {
		name, typed string
		words       []string
		want        string // the first few
	}{
		{"by the first figure", "R", many("R%d", 10_000), "0 1 2 3 4 5 6 7 8 9"},
		{"by the part", "", append(many("V1.%d", 150), many("V2.%d", 150)...), "V1. V2."},
		{"by the letters of a part", "", append(many("R%d.1", 300), many("C%d.1", 300)...), "R C"},
		{"by the sort", "", append([]string{"diode"}, append(many("toggle-%d", 200), many("rotary-%d", 200)...)...), "diode toggle- rotary-"},
		{"within a sort", "toggle-", many("toggle-%d", 3), "0 1 2"},
	} {
		endings, widest := offer(test.typed, test.words, 80, 24)
		var got []string
		for _, e := range endings {
			got = append(got, string(e))
		}
		if strings.Join(got, " ") != test.want {
			t.Errorf("%s: %q, want %s", test.name, got, test.want)
		}
		if rows := (len(endings)*(widest-1) + 78) / 79; rows > 22 {
			t.Errorf("%s: %d rows", test.name, rows)
		}
		for _, w := range test.words {
			if !slices.ContainsFunc(got, func(e string) bool { return strings.HasPrefix(w, test.typed+e) }) {
				t.Fatalf("%s: %s is not to be reached", test.name, w)
			}
		}
	}
}

func TestCompleterSurvives(t *testing.T) {
	screen := func() (int, int) { return 80, 24 }
	answer := func(start int) func(string) (int, []string) {
		return func(string) (int, []string) { return start, []string{"part"} }
	}
	for name, c := range map[string]*completer{
		"none":          {},
		"a panic":       {complete: func(string) (int, []string) { panic("no") }},
		"start before":  {complete: answer(-1)},
		"start beyond":  {complete: answer(9)},
		"within a rune": {complete: answer(1)},
	} {
		c.screen = screen
		if endings, _ := c.Do([]rune("Ω"), 1); len(endings) > 0 {
			t.Errorf("%s: offers %q", name, endings)
		}
	}
	c := &completer{complete: answer(0), screen: screen}
	for _, pos := range []int{-1, 0, 7} {
		if endings, shared := c.Do(nil, pos); len(endings) != 1 || shared != 0 {
			t.Errorf("cursor at %d: %q, %d", pos, endings, shared)
		}
	}
	c.off.Store(true)
	if endings, _ := c.Do(nil, 0); len(endings) > 0 {
		t.Error("words are offered while a question is answered")
	}
}

// FuzzCompleter holds what the editor's drawing counts on, in its own measure: it
// divides by the words on a line and pads with the columns that are left.
func FuzzCompleter(f *testing.F) {
	f.Add("part R", 6, 5, "R1 R2 resistor", 80)
	f.Add("導R", 2, 0, "導R1 導R2", 40)
	f.Add("e\u0301", 2, 0, "e\u0301a", 12)
	f.Fuzz(func(t *testing.T, line string, pos, start int, words string, columns int) {
		c := &completer{
			complete: func(string) (int, []string) { return start, strings.Split(words, " ") },
			screen:   func() (int, int) { return columns, 24 },
		}
		typed := []rune(line)
		endings, shared := c.Do(typed, pos)
		if len(endings) == 0 {
			return
		}
		pos = max(0, min(pos, len(typed)))
		if shared < 0 || shared > pos {
			t.Fatalf("%d characters shared, with the cursor at %d", shared, pos)
		}
		var measure readline.Runes
		column := 0
		for _, e := range endings {
			column = max(column, measure.WidthAll(e))
			if strings.ContainsFunc(string(e), func(r rune) bool { return r < ' ' || r >= 0x7f && r < 0xa0 }) {
				t.Errorf("%q has a control character", string(e))
			}
		}
		column += shared + 1
		if (columns-1)/column == 0 {
			t.Errorf("no word of %d columns fits on a line of %d", column, columns)
		}
		for _, e := range endings {
			if pad := column - measure.WidthAll(e) - measure.WidthAll(typed[pos-shared:pos]); pad < 0 {
				t.Errorf("%q after %q needs %d columns of padding", string(e), line, pad)
			}
		}
	})
}
