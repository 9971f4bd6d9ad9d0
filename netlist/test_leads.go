package netlist

import (
	"fmt"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// with reads one pair behind the with of a reading: a control and its
// position; a point and the volts that a supply holds it at; or two points that
// a test lead joins.
func (w *worker) with(pair lang.Pair, r *Reading) {
	volts, read := lang.ReadFigure(pair.Right.Text)
	held := read && volts.Quantity == lang.Volts
	at, ok := w.testPoint(pair.Left)
	_, also := w.testPoint(pair.Right)
	switch {
	case !ok && (held || also):
		w.terminal(pair.Left, w.fact, onBench) // it tells what is wrong with the name
		return
	case !ok:
		for _, to := range w.position(pair) {
			r.With[to.ref] = to.to
		}
		return
	}
	if held {
		if r.Value.Quantity == lang.Ohms || r.Sign != "" && r.Value.Quantity != lang.Volts {
			w.mistake(diag.Diagnostic{Rule: "bad-figure", Place: pair.Left.Place.To(pair.Right.Place),
				Message: fmt.Sprintf("ohms are read without a supply, and this one holds %s at %s", w.Name(at), pair.Right.Text),
				Mend:    []string{"take the supply off and read again; a meter on ohms shows nothing true beside a voltage"}})
			return
		}
		r.Held = append(r.Held, HeldPoint{at, volts})
		return
	}
	if other, ok := w.testPoint(pair.Right); ok {
		if other != at {
			r.Joined = append(r.Joined, [2]TerminalID{at, other})
		}
		return
	}
	if strings.Contains(pair.Right.Text, ".") && w.find(pair.Right.Text).part != nil {
		w.terminal(pair.Right, w.fact, onBench)
		return
	}
	w.mistake(diag.Diagnostic{Rule: "bad-figure", Place: pair.Right.Place,
		Message: fmt.Sprintf("%s is neither volts nor a point: what is %s held at, or joined to?", pair.Right.Text, w.Name(at)),
		Mend:    []string{fmt.Sprintf("write it so: with %s 12V, or with %s and the point that a test lead joins it to", w.Name(at), w.Name(at))}})
}

// testPoint is a word as a terminal, where it is no control.
func (w *worker) testPoint(word lang.Word) (TerminalID, bool) {
	ref, name, _ := strings.Cut(word.Text, ".")
	if part := w.Part(ref); part != nil {
		for _, c := range part.Kind.Controls {
			if name == "" || strings.EqualFold(c.Name, name) {
				return NoTerminal, false
			}
		}
	}
	found := w.find(word.Text)
	return found.id, found.id != NoTerminal && found.problem == ""
}

// testLeads are the joints that a reading names for itself.
func (r *Reading) testLeads() []Joint {
	var list []Joint
	for _, pair := range r.Joined {
		list = append(list, Joint{Kind: Solder, A: pair[0], B: pair[1], Fact: r.Fact, Place: r.Fact.Place(), Lead: -1})
	}
	return list
}
