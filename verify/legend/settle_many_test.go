package legend

import (
	"strings"
	"testing"
)

// manySources are six, of which every two differ, most in several exchanges:
// fifteen pairs and far more exchanges than can be told apart at a time.
func manySources() string {
	ends := []string{"anode-a", "ht", "anode-b", "common", "4ohm", "8ohm", "16ohm"}
	colours := []string{"blue", "red", "brown", "black", "orange", "white", "grey"}
	text := figures
	for n, order := range []string{"0123456", "1023465", "0213546", "2103654", "1203564", "0123645"} {
		text += "colours T2 source" + string(rune('a'+n)) + " {"
		for i, at := range order {
			text += " " + colours[i] + " " + ends[at-'0'] + ","
		}
		text = strings.TrimSuffix(text, ",") + " }\n"
	}
	return text
}

// The cheapest readings are worked out for every set of what they tell, so that
// the sets have to stay few.
func TestSettleOfManySourcesIsBounded(t *testing.T) {
	book := build(t, manySources())
	part := book.Part("T2")
	s := &settler{book: book, part: part, meter: Cheap, lay: layoutOf(part), leads: leadsOf(book, part)}
	for _, k := range book.KeysOf(part) {
		s.names = append(s.names, namingOf(book, s.leads, k))
	}
	s.keep(&Settlement{})
	s.questions()
	if len(s.pairs) != 15 || len(s.asks) != 0 {
		t.Errorf("%d pairs and %d exchanges are told apart at a time", len(s.pairs), len(s.asks))
	}
	if out := Settle(book, part, Cheap); len(out.Steps) == 0 || len(out.Apart) > 0 {
		t.Errorf("%d steps, not told apart %v", len(out.Steps), out.Apart)
	}
}
