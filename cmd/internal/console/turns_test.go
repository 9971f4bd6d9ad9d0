package console

import (
	"strings"
	"testing"
)

// Words that do not begin with what was typed take its place, one with each Tab.
func TestWordsTakeTurns(t *testing.T) {
	c := &completer{screen: func() (int, int) { return 80, 24 }, complete: func(before string) (int, []string) {
		return strings.LastIndexByte(before, ' ') + 1, []string{"V1.2-grid", "V1.7-grid", "other"}
	}, instead: func(before string) (int, []string) {
		if strings.HasSuffix(before, "V1.gr") {
			return strings.LastIndexByte(before, ' ') + 1, []string{"V1.2-grid", "\x1b[2J", "V1.7-grid"}
		}
		return len(before), []string{"never"}
	}}
	p := &person{completer: c}
	line, pos := []rune("at µ V1.gr  # why"), len([]rune("at µ V1.gr"))
	press := func() {
		t.Helper()
		if endings, _ := c.Do(line, pos); len(endings) > 0 {
			t.Fatalf("the editor is to add %q", endings)
		}
		changed, at, ok := p.watch(line, pos, tab)
		if !ok {
			t.Fatal("nothing takes its place")
		}
		line, pos = changed, at
	}
	for _, want := range []string{"at µ V1.2-grid", "at µ V1.7-grid", "at µ V1.2-grid"} {
		press()
		if string(line) != want+"  # why" || string(line[:pos]) != want {
			t.Errorf("the line is %q with the cursor at %d, want %q", string(line), pos, want)
		}
	}
	if _, _, ok := p.watch(line, pos, 'x'); ok {
		t.Error("another key changes the line")
	}
	if endings, _ := c.Do(line, pos); len(endings) != 1 || len(endings[0]) != 0 {
		t.Error("the word goes on having its turn after another key")
	}
	if _, _, ok := p.watch(line, pos, tab); ok {
		t.Error("a word that begins with what is typed takes its place")
	}
}

func TestNoTurns(t *testing.T) {
	var turns turns
	if _, _, ok := turns.next([]rune("a"), 9); ok {
		t.Error("no words, and yet a turn")
	}
	turns.begin("a", 0, []string{"", "\x00"})
	if _, _, ok := turns.next([]rune("a"), 1); ok {
		t.Error("words that cannot be shown have a turn")
	}
}
