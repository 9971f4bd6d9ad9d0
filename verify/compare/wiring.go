package compare

// The plan and the bench as numbers, without names or places. Everything that
// is searched is searched here, and the builder's words are put on afterwards.

const (
	// means is the class of a tag, a bolt or the inside of a lead: it carries
	// joints, and the plan does not ask for it.
	means = -1
	// alien is the class of a terminal that no net of the plan knows.
	alien = -2
)

// A wiring is what the plan wants and what the bench has.
type wiring struct {
	nets   int
	class  []int32 // by point: its net, means or alien
	part   []int32 // by point: index in parts, or -1
	place  []bool  // by point: a tag or pin, to which ends are brought one by one; nil for none
	parts  []wiredPart
	fixed  [][2]int32 // points that are one conductor and were never two
	joints []joint
}

// A joint is one thing that a builder did: a leg or a lead's piece put from
// one point to another.
type joint struct {
	ends [2]int32
	// stuck says of each end that it cannot be put elsewhere: a leg belongs to
	// its part, and a piece of a lead to the lead.
	stuck [2]bool
	// landing is the same number for ends that were brought to a point
	// together, as the two pieces of a lead that goes on from there: one slip
	// puts them all wrongly. It is 0 for an end that came alone.
	landing [2]int32
	leg     bool // a part's own wire, and no hook-up wire: less often the odd one out
}

// A wiredPart is a part with what may be exchanged on it.
type wiredPart struct {
	points []int32
	alike  []turn // every way round that is as good, without the one written
	wrong  []turn // ways of sitting wrongly that are one mistake
	shape  int32  // parts of one shape fit each other's places; -1 for none
	whole  bool   // may be told as not fitted yet
}

// A turn is a way in which a part sits otherwise than as written: terminal i
// does the work of terminal to[i]. Indices are into wiredPart.points.
type turn struct {
	to   []int16
	name int32 // for whoever tells of it
	// plain says that a wrong turn is looked at with the part serving as it
	// does, and not in every other way round as well.
	plain bool
}

// A layout is a wiring seen as conductors: points that are one conductor are
// taken together.
type layout struct {
	*wiring
	of     []int32    // by point: its conductor
	first  []int32    // by conductor: its first point
	label  []int32    // by conductor: its net, a label of its own beyond the nets for an alien, or means
	base   []int32    // label as written, before any part was turned
	ends   [][2]int32 // by joint: its conductors
	labels int        // how many labels there are
	degree []int32    // by conductor: live joints at it
	netOf  []int32    // by net: the label that stands for it, one for nets that are one conductor
	chosen []int32    // by part: index of its turn in alike, -1 as written
	asleep []bool     // by part: not fitted yet, and told as a whole
}

// lay makes conductors of points.
func lay(w *wiring) *layout {
	l := &layout{wiring: w}
	s := newSets(len(w.class))
	for _, f := range w.fixed {
		s.join(f[0], f[1])
	}
	l.of = make([]int32, len(w.class))
	number := make([]int32, len(w.class))
	for i := range number {
		number[i] = -1
	}
	for p := range w.class {
		root := s.find(int32(p))
		if number[root] < 0 {
			number[root] = int32(len(l.first))
			l.first = append(l.first, int32(p))
		}
		l.of[p] = number[root]
	}
	l.labelConductors()
	l.ends = make([][2]int32, len(w.joints))
	l.degree = make([]int32, len(l.first))
	for i, j := range w.joints {
		a, b := l.of[j.ends[0]], l.of[j.ends[1]]
		l.ends[i] = [2]int32{a, b}
		if a != b {
			l.degree[a]++
			l.degree[b]++
		}
	}
	l.chosen = make([]int32, len(w.parts))
	for i := range l.chosen {
		l.chosen[i] = -1
	}
	l.asleep = make([]bool, len(w.parts))
	return l
}

// labelConductors gives each conductor its label. Nets that meet in one
// conductor are one net for the comparison: the plan's own checks tell of it.
func (l *layout) labelConductors() {
	nets := newSets(l.nets)
	l.label = make([]int32, len(l.first))
	for i := range l.label {
		l.label[i] = means
	}
	for p, class := range l.class {
		c := l.of[p]
		switch {
		case class >= 0 && l.label[c] >= 0:
			nets.join(l.label[c], class)
		case class >= 0:
			l.label[c] = class
		case class == alien && l.label[c] == means:
			l.label[c] = alien
		}
	}
	l.netOf = make([]int32, l.nets)
	for n := range l.netOf {
		l.netOf[n] = nets.find(int32(n))
	}
	l.labels = l.nets
	for c, label := range l.label {
		switch {
		case label >= 0:
			l.label[c] = l.netOf[label]
		case label == alien:
			l.label[c] = int32(l.labels)
			l.labels++
		}
	}
	l.base = append([]int32(nil), l.label...)
}

// isAlien reports whether a label is that of a terminal which no net knows.
func (l *layout) isAlien(label int32) bool { return label >= int32(l.nets) }

// sets are disjoint sets of numbers.
type sets []int32

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = -1
	}
	return s
}

// find gives the number that stands for the set of x.
func (s sets) find(x int32) int32 {
	root := x
	for s[root] >= 0 {
		root = s[root]
	}
	for s[x] >= 0 {
		s[x], x = root, s[x]
	}
	return root
}

// join makes one set of two, and reports whether they were two.
func (s sets) join(a, b int32) bool {
	a, b = s.find(a), s.find(b)
	if a == b {
		return false
	}
	if s[a] > s[b] || s[a] == s[b] && a > b {
		a, b = b, a
	}
	s[a] += s[b]
	s[b] = a
	return true
}

// size is how many are in the set of x.
func (s sets) size(x int32) int { return int(-s[s.find(x)]) }
