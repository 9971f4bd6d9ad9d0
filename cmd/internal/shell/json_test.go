package shell

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// mayBeNull are the fields that hold null where there is nothing: one thing,
// and never a list.
var mayBeNull = []string{"part", "net", "kind", "terminal", "struck_by", "cause", "only_first", "only_second", "ohms_measured", "next", "decided", "suspect", "high", "trusted"}

// Every query and every fact is answered with one document that holds to the
// promises of help json.
func TestDocuments(t *testing.T) {
	var lines []string
	for _, q := range queries {
		lines = append(lines, q.example)
	}
	for _, example := range demoExamples {
		lines = append(lines, example)
	}
	slices.Sort(lines)
	lines = append(lines, "about R1", "about ground", "about ecc83", "about el84", "at J1.tip", "joints", "readings", "facts", "kinds",
		"help", "help json", "help no-bleeder", "expect sheet", "expect sheet --csv", "expect TB1.16", "expect X1.live CH.star", "expect TB2.1 CH.star", "check plan", "check built", "about X9", "nonsense", "parts nothing-like-it", "# a remark")
	reader := demo(t) // for what changes nothing, so that the verdict is found once
	for _, line := range lines {
		t.Run(line, func(t *testing.T) {
			s := reader
			if first, _, _ := strings.Cut(line, " "); !IsQuery(first) {
				s = demo(t)
			}
			for _, r := range s.Exec(context.Background(), line) {
				if r.Quit {
					continue
				}
				doc := r.Document()
				if bytes.ContainsAny(doc, "\n\x1b") {
					t.Errorf("the document is not one plain line: %s", doc)
				}
				var all map[string]any
				if err := json.Unmarshal(doc, &all); err != nil {
					t.Fatalf("%v in %s", err, doc)
				}
				for _, field := range []string{"schema", "query", "notebook", "amplifier", "complete", "status", "mistakes"} {
					if _, there := all[field]; !there {
						t.Errorf("the field %s is missing", field)
					}
				}
				if all["schema"] != "buzzout/1" || all["status"] != float64(r.Status) {
					t.Errorf("schema %v, status %v", all["schema"], all["status"])
				}
				for _, wrong := range unkept("", all) {
					t.Error(wrong)
				}
			}
		})
	}
}

// unkept lists what breaks a promise in a part of a document.
func unkept(path string, part any) (wrong []string) {
	switch part := part.(type) {
	case map[string]any:
		for name, value := range part {
			if name != strings.ToLower(name) || strings.ContainsAny(name, "- ") {
				wrong = append(wrong, path+"."+name+" is not in snake case")
			}
			// Over range has no figure, and for ever none in seconds.
			endless := strings.HasPrefix(name, "ohms") || strings.HasPrefix(name, "seconds")
			if value == nil && !endless && !slices.Contains(mayBeNull, name) {
				wrong = append(wrong, path+"."+name+" is null")
			}
			wrong = append(wrong, unkept(path+"."+name, value)...)
		}
	case []any:
		for i, value := range part {
			wrong = append(wrong, unkept(fmt.Sprintf("%s[%d]", path, i), value)...)
		}
	}
	return wrong
}

// The same question has the same bytes for an answer, each time.
func TestAnswersAreTheSameEveryTime(t *testing.T) {
	var first []string
	for round := range 8 {
		s := FromText("../../../examples/lantern-faults.buzzout", demoText(t, "lantern-faults.buzzout"), "../../../examples")
		var answers []string
		for _, line := range []string{"check", "compare", "todo", "nets", "sources", "about V1", "readings", "try unsolder J1.tip"} {
			for _, r := range s.Ask(context.Background(), line) {
				answers = append(answers, r.Text(80, NoColour), string(r.Document()))
			}
		}
		if round == 0 {
			first = answers
		} else if !slices.Equal(first, answers) {
			t.Fatal("the answers differ")
		}
	}
}
