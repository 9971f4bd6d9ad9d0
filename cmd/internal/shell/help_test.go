package shell

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"buzzout/examples"
	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/verify/rules"
)

// demo opens the demo on a copy of its notebooks.
func demo(t testing.TB) *Session {
	t.Helper()
	folder := t.TempDir()
	names, err := examples.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		if err := os.WriteFile(filepath.Join(folder, n.Name()), []byte(demoText(t, n.Name())), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	s, err := Open(filepath.Join(folder, examples.Demo), Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	if len(s.Mistakes()) > 0 {
		t.Fatal(s.Mistakes())
	}
	return s
}

func TestEveryExampleCanBeTypedOnTheDemo(t *testing.T) {
	reader := demo(t) // for what changes nothing, so that the verdict is found once
	for _, o := range append(overview(everywhere, atPrompt).Queries, overview().Facts...) {
		topic := findTopic(o.Word)
		t.Run(topic.Word, func(t *testing.T) {
			if first, _, _ := strings.Cut(topic.Example, " "); first != topic.Word {
				t.Fatalf("the example is %q", topic.Example)
			}
			s := reader
			if !IsQuery(topic.Word) {
				s = demo(t)
			}
			if topic.Word == "net" || topic.Word == "copper" {
				s.Exec(context.Background(), "part J7 jack")
			}
			for _, r := range s.Exec(context.Background(), topic.Example) {
				if r.Status > Bad {
					t.Errorf("status %d: %v", r.Status, r.Mistakes)
				}
				if r.Text(80, NoColour) == "" && !r.Quit {
					t.Error("no answer")
				}
			}
		})
	}
}

// The examples of lines in braces are what such a line may be.
func TestEveryLineExampleCanBeRead(t *testing.T) {
	for _, w := range lang.BlockWords() {
		if f := lang.Parse(diag.NewSource("x", "kind k { "+w.Example+" }")); len(f.Mistakes) > 0 {
			t.Errorf("%s: %v", w.Example, f.Mistakes)
		}
	}
}

// Help knows every word that completion offers, and every topic says something.
func TestHelpKnowsEveryWord(t *testing.T) {
	for _, word := range helpWords() {
		text, _, found := Help(word, 80, NoColour)
		if !found || len(text) < 20 {
			t.Errorf("help %s: %q", word, text)
		}
		for line := range strings.Lines(text) {
			if n := columns(strings.TrimRight(line, "\n")); n > 80 && !strings.Contains(line, "For example:") && !strings.Contains(line, `"`) {
				t.Errorf("help %s: a line of %d columns: %s", word, n, line)
			}
		}
	}
	if text, _, _ := Help("plate", 80, NoColour); !strings.Contains(text, "anode") || !strings.Contains(text, "American papers") {
		t.Errorf("help plate: %s", text)
	}
	if _, nearest, found := Help("leed", 80, NoColour); found || nearest != "lead" {
		t.Errorf("help leed: nearest %q", nearest)
	}
}

// Help knows every kind of part that comes with the tool, and its example is one.
func TestHelpKnowsEveryKind(t *testing.T) {
	for _, name := range KindNames() {
		if text, _, found := Help(name, 80, NoColour); !found || len(text) < 20 {
			t.Errorf("help %s: %q", name, text)
		}
	}
	example := findTopic("transformer").Example
	s := FromText("x", example+"\nnet feed T9.p1 T9.p2\nnet heater T9.h-a T9.h-b\n", ".")
	if len(s.book.Mistakes) > 0 || example == "" {
		t.Errorf("%s: %v", example, s.book.Mistakes)
	}
	mentions(t, ask(t, s, "about transformer").Text(80, NoColour), "help transformer shows how")
}

// No query begins with the word of a fact, nor with that of a line in braces.
func TestQueriesAndFactsShareNoWord(t *testing.T) {
	taken := map[string]string{}
	for _, w := range append(factWords(), blockWords()...) {
		taken[w] = "the language"
	}
	for _, q := range queries {
		for _, name := range []string{q.name, q.also} {
			if name == "" {
				continue
			}
			if owner := taken[name]; owner != "" {
				t.Errorf("%s is a word of %s as well", name, owner)
			}
			taken[name] = "the queries"
		}
		if q.line == "" || q.text == "" || q.example == "" || q.run == nil {
			t.Errorf("%s lacks a text or its function", q.name)
		}
		if q.most >= 0 && len(q.takes) > q.most {
			t.Errorf("%s completes more words than it takes", q.name)
		}
	}
	for _, w := range lang.FactWords() {
		if demoExamples[w.Word] == "" {
			t.Errorf("%s has no example for the demo", w.Word)
		}
	}
}

// Every rule that the shell itself reports can be explained.
func TestEveryRuleCanBeExplained(t *testing.T) {
	s := demo(t)
	for _, r := range rules.All() {
		for _, res := range s.Exec(context.Background(), "explain "+r.Name) {
			if res.Status != Sound || !strings.Contains(res.Text(200, NoColour), r.Title) {
				t.Errorf("explain %s: status %d", r.Name, res.Status)
			}
		}
	}
	for _, name := range []string{"bad-question", "cannot-read", "cannot-write", "given-up", "too-long", "unknown-name"} {
		if findRule(name) == nil {
			t.Errorf("%s cannot be explained", name)
		}
	}
}
