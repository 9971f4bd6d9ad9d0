package compare

import "slices"

// An account is an explanation of the whole bench, before it is told.
type account struct {
	*choice
	suspects []suspect
	strange  []bool
	members  []int32
	total    int // findings
	unproven bool
}

// totalOf counts all findings: those in the knots' nets, joints missing
// elsewhere, and parts told as a whole.
func (h *choice) totalOf(p proof, strange []bool) int {
	touched := make([]bool, h.labels)
	for i := range h.answers {
		for _, label := range h.answers[i].labels {
			touched[label] = true
		}
	}
	total := p.total
	for label, n := range h.lumps {
		if !touched[label] {
			total += max(0, int(n)-1)
		}
	}
	for i := range h.parts {
		if h.asleep[i] || strange[i] {
			total++
		}
	}
	return total
}

// costly marks the conductors in knots that come to more than one finding. One
// finding cannot be saved by turning a part: plan and bench would then agree,
// and settling has not missed that.
func (a *account) costly() map[int32]bool {
	costly := make(map[int32]bool)
	for i := range a.answers {
		k := &a.answers[i]
		if len(k.solutions) == 0 {
			continue
		}
		missing := slices.ContainsFunc(k.labels, func(label int32) bool { return a.lack(label, a.joins[label]) > 0 })
		if k.solutions[a.chosen[i]].cost() < 2 && !missing {
			continue
		}
		for _, s := range k.strands {
			for _, x := range a.ends[s.joint] {
				costly[x] = true
			}
		}
	}
	return costly
}

// strained marks the conductors in knots that are explained by several actions
// or by ends that changed places: builders do so less often than a search.
func (a *account) strained() map[int32]bool {
	strained := make(map[int32]bool)
	for i := range a.answers {
		k := &a.answers[i]
		if len(k.solutions) == 0 {
			continue
		}
		actions := k.solutions[a.chosen[i]].actions
		if len(actions) < 2 && !slices.ContainsFunc(actions, func(a action) bool { return a.deed == exchange || a.deed == ring }) {
			continue
		}
		for _, s := range k.strands {
			for _, x := range a.ends[s.joint] {
				strained[x] = true
			}
		}
	}
	return strained
}

// weight tells how unlikely the account is.
func (a *account) weight() int {
	w, told := 0, 0
	for i := range a.answers {
		if k := &a.answers[i]; len(k.solutions) > 0 {
			s := &k.solutions[a.chosen[i]]
			w += s.weight - s.missing*missingWeight
			told += s.cost()
		}
	}
	return w + (a.total-told)*missingWeight
}

// verdict tells the account in conductors.
func (a *account) verdict() *verdict {
	c := a.contraction
	v := &verdict{layout: c.layout, unproven: a.unproven}
	byLabel := c.lumpsByLabel()
	s := c.play(byLabel, a.suspects, a.answers, a.chosen)
	var labels []int32
	for i := range a.answers {
		labels = append(labels, a.answers[i].labels...)
		v.nodes += a.answers[i].nodes
	}
	s.name(labels)
	for i := range a.answers {
		if k, ok := a.tell(s, byLabel, i); ok {
			v.knots = append(v.knots, k)
		}
	}
	for label := range int32(c.labels) {
		v.missing = append(v.missing, s.gaps(label)...)
	}
	v.scene = s
	for i := range c.parts {
		switch {
		case c.asleep[i]:
			v.unfitted = append(v.unfitted, int32(i))
		case a.strange[i]:
			v.strangers = append(v.strangers, int32(i))
		}
	}
	a.count(v)
	v.findDangling()
	return v
}

// tell tells one knot, with the other explanations that are as small.
func (a *account) tell(s *scene, byLabel [][]int32, i int) (told, bool) {
	k := a.answers[i]
	if len(k.solutions) == 0 {
		return told{}, false
	}
	chosen := a.chosen[i]
	t := told{answer: k, remedies: s.remedies(k.knot, k.solutions[chosen].actions)}
	if len(t.remedies) == 0 {
		return told{}, false
	}
	for _, other := range a.rivals(i) {
		a.chosen[i] = other
		r := a.play(byLabel, a.suspects, a.answers, a.chosen)
		r.name(k.labels)
		t.rivals = append(t.rivals, s.compare(r, k.knot, k.solutions[other].actions))
	}
	a.chosen[i] = chosen
	return t, true
}

// count counts the joints that the plan wants, and those that are there. What
// the explanations change does not count as there.
func (a *account) count(v *verdict) {
	s := slices.Clone(a.root)
	for _, j := range a.doubt {
		if _, changed := v.scene.ends[j]; !changed {
			s.join(a.ends[j][0], a.ends[j][1])
		}
	}
	sleepers := make([]int, a.labels)
	for i := range a.parts {
		if !a.asleep[i] {
			continue
		}
		var seen []int32
		for _, point := range a.parts[i].points {
			if c := a.of[point]; a.base[c] != means && !slices.Contains(seen, c) {
				seen = append(seen, c)
				sleepers[a.base[c]]++
			}
		}
	}
	for label := range int32(a.nets) {
		members := int(a.members[label])
		if members == 0 {
			continue
		}
		apart := sleepers[label]
		pieces := make(map[int32]bool)
		for _, x := range v.scene.byLabel[label] {
			if root := s.find(x); !pieces[root] {
				pieces[root] = true
				apart++
			}
		}
		v.wanted += members - 1
		v.done += members - apart
	}
}
