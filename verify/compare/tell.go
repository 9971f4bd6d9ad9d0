package compare

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/verify"
)

// A teller puts a verdict into the builder's words.
type teller struct {
	*adapted
	verdict *verdict
	found   []verify.Finding
	served  []Serving
	byRoot  map[int32][]int32 // the terminals of each piece, once asked for
	inNet   []int32           // by terminal: its place among the members of its net, once asked for
}

func (t *teller) tell() {
	for i := range t.verdict.knots {
		t.knot(i, &t.verdict.knots[i])
	}
	lacking := map[int32]int{} // joints missing, by net
	for i := range t.verdict.missing {
		lacking[t.verdict.missing[i].label]++
	}
	for i := 0; i < len(t.verdict.missing); {
		n := lacking[t.verdict.missing[i].label] // they stand together
		t.chain(t.verdict.missing[i : i+n])
		i += n
	}
	for i := range t.verdict.missing {
		g := &t.verdict.missing[i]
		t.gap(g, lacking[g.label] == 1)
	}
	for _, p := range t.verdict.unfitted {
		t.unfitted(t.book.Parts[p])
	}
	for _, p := range t.verdict.strangers {
		t.stranger(t.book.Parts[p])
	}
	for i, p := range t.book.Parts {
		t.serving(i)
		if f := t.bench.Fittings[p]; f != nil && f.Absent {
			t.leftOut(p, f)
		}
	}
}

// knot tells what is wrong in one place, with the explanations as small.
func (t *teller) knot(n int, k *told) {
	group := fmt.Sprintf("knot-%d", n)
	first := len(t.found)
	for i := range k.remedies {
		f := t.remedy(&k.remedies[i])
		f.Group = group
		t.found = append(t.found, f)
	}
	most := ends(k.remedies)
	for i := range k.rivals {
		if ends(k.rivals[i].remedies)+len(k.rivals[i].more) > most || turnsRound(k.rivals[i].remedies) && !turnsRound(k.remedies) {
			continue // as few findings, and more to move
		}
		r, ok := t.rival(&k.rivals[i], t.found[first:])
		f := &t.found[first]
		if ok && len(f.Rivals) < mostRivals && !slices.Contains(f.Rivals, r) {
			f.Rivals = append(f.Rivals, r)
		}
	}
}

// mostRivals is how many other explanations are told; a person weighs no more.
const mostRivals = 3

// turnsRound says that an explanation has three ends in a ring.
func turnsRound(remedies []remedy) bool {
	return slices.ContainsFunc(remedies, func(r remedy) bool { return r.deed == ring })
}

// ends counts the ends that an explanation moves; a part that is turned counts
// as the two that a person has in hand.
func ends(remedies []remedy) int {
	n := 0
	for i := range remedies {
		if r := &remedies[i]; r.deed == turnOver {
			n += 2
		} else {
			n += len(r.moves)
		}
	}
	return n
}

// same says that two findings tell of the same thing at the same places.
func same(a, b *verify.Finding) bool {
	x, y := slices.Clone(a.Terminals), slices.Clone(b.Terminals)
	slices.Sort(x)
	slices.Sort(y)
	return a.Rule == b.Rule && (a.Message == b.Message || slices.Equal(x, y))
}

// rival tells another explanation as one sentence, and what would tell the
// two apart.
func (t *teller) rival(r *rival, told []verify.Finding) (verify.Rival, bool) {
	var messages, actions []string
	for i := range r.remedies {
		f := t.remedy(&r.remedies[i])
		if slices.ContainsFunc(told, func(o verify.Finding) bool { return same(&o, &f) }) {
			continue
		}
		messages = append(messages, f.Message)
		actions = append(actions, f.Action)
	}
	for i := range r.more {
		f := t.missing(&r.more[i])
		messages = append(messages, f.Message)
		actions = append(actions, f.Action)
	}
	if len(messages) == 0 {
		return verify.Rival{}, false
	}
	action := strings.Join(actions, "; ")
	if r.tag >= 0 && r.mark >= 0 {
		tag, mark := t.nameOf(r.tag), t.nameOf(r.mark)
		say := "joined"
		if !r.joined {
			say = "apart"
		}
		action += fmt.Sprintf(". To tell the two apart, look what %s was meant for: in the first explanation %s and %s end up %s", tag, tag, mark, say)
	}
	return verify.Rival{Message: strings.Join(messages, "; and "), Action: action}, true
}

// remedy tells one action.
func (t *teller) remedy(r *remedy) verify.Finding {
	switch r.deed {
	case takeOff:
		return t.takeOff(&r.moves[0])
	case put:
		if len(r.moves) > 1 {
			return t.landed(r.moves)
		}
		return t.put(&r.moves[0])
	case exchange, ring:
		return t.exchange(r.moves)
	}
	return t.turned(r.suspect)
}
