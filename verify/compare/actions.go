package compare

import "slices"

// deed says what an action does.
type deed uint8

const (
	_        deed = iota
	takeOff       // a joint comes off
	put           // one end of a joint goes to another spot
	exchange      // ends of two joints change places
	ring          // ends of three joints change places in a ring
	turnOver      // a part sits, or two parts sit, otherwise
)

// ringSize is how many joints may change places in one action.
const ringSize = 3

// An action is one thing to do at the bench that unties a knot, or part of it.
type action struct {
	deed    deed
	cost    int
	strands [ringSize]int32
	sides   [ringSize]uint8 // which end of each
	to      int32           // spot to which the end goes; for a turn, the flip
	net     int32           // for an end that goes elsewhere, the label there
	landing int32           // not 0: all ends of that landing go there together
}

// size is how many strands the action touches, but for a landing.
func (a *action) size() int {
	switch a.deed {
	case takeOff, put:
		return 1
	case exchange:
		return 2
	case ring:
		return 3
	}
	return 0
}

// touched are the ends that an action touches.
func (k *knot) touched(a *action, list []strandEnd) []strandEnd {
	if a.landing != 0 {
		return append(list, k.landed[a.landing]...)
	}
	for i := range a.size() {
		list = append(list, strandEnd{a.strands[i], a.sides[i]})
	}
	return list
}

// apply does the action.
func (s *search) apply(a *action, l *level) {
	s.trail = append(s.trail, *a)
	l.undo = l.undo[:0]
	l.ends = s.touched(a, l.ends[:0])
	for _, x := range l.ends {
		e := &s.now[x.strand]
		l.undo = append(l.undo, undo{x.strand, e.ends, e.feet})
	}
	n := len(l.ends)
	for i, x := range l.ends {
		e := &s.now[x.strand]
		switch a.deed {
		case takeOff:
			e.ends = [2]int32{gone, gone}
		case put:
			e.ends[x.side], e.feet[x.side] = a.to, s.at[a.to]
		case exchange, ring:
			y := (i + 1) % n
			e.ends[x.side], e.feet[x.side] = l.undo[y].ends[l.ends[y].side], l.undo[y].feet[l.ends[y].side]
		}
	}
}

// revert takes it back.
func (s *search) revert(l *level) {
	s.trail = s.trail[:len(s.trail)-1]
	for i := len(l.undo) - 1; i >= 0; i-- {
		e := &s.now[l.undo[i].strand]
		e.ends, e.feet = l.undo[i].ends, l.undo[i].feet
	}
}

// actions lists all that could part the two ends of the wrong way in view,
// but the turns of parts, which are settled beforehand.
func (s *search) actions(v view, list []action) []action {
	for _, i := range v.way {
		list = s.puts(i, list)
	}
	for _, i := range v.way {
		list = append(list, action{deed: takeOff, cost: 1, strands: [ringSize]int32{i}})
	}
	for n, i := range v.way {
		list = s.exchanges(i, v.way[:n], list)
	}
	if v.loose > mostInRings {
		return list
	}
	for n, i := range v.way {
		list = s.ringsOf(i, v.way[:n], list)
	}
	return list
}

// mostInRings is how many strands may have a part in what is wrong for rings
// of three to be tried: they are as many as its square.
const mostInRings = 60

// puts lists the places where an end of a strand may belong instead: pieces of
// the nets near its other end.
func (s *search) puts(i int32, list []action) []action {
	e := &s.now[i]
	if e.stuck[0] && e.stuck[1] {
		return list
	}
	s.findPiecesWithout(i)
	for side := range e.ends {
		if e.stuck[side] {
			continue
		}
		kept, moved := e.ends[1-side], e.ends[side]
		s.list, _ = s.nearLabels(kept, i, s.list[:0])
		begin := len(list)
		for _, label := range s.list {
			list = s.putsTo(i, uint8(side), kept, moved, label, list)
		}
		list = s.landings(i, uint8(side), begin, list)
	}
	return list
}

// landings adds, for each place where an end may belong, that all ends which
// were brought to its spot together belong there.
func (s *search) landings(i int32, side uint8, begin int, list []action) []action {
	n := s.strands[i].landing[side]
	if len(s.landed[n]) < 2 {
		return list
	}
	for _, x := range s.landed[n] {
		if e := &s.now[x.strand]; e.ends != s.strands[x.strand].ends || e.stuck[x.side] {
			return list
		}
	}
	for _, a := range list[begin:] {
		a.landing = n
		list = append(list, a)
	}
	return list
}

// putsTo lists the pieces of one net to which an end may go: one spot of each
// piece, and every spot of a piece that is itself wrongly joined, since it may
// have to come apart.
func (s *search) putsTo(i int32, side uint8, kept, moved, label int32, list []action) []action {
	own := s.piece.find(kept)
	begin := len(list)
	for spot, l := range s.lab {
		x := int32(spot)
		if l != label || x == kept || x == moved {
			continue
		}
		piece := s.piece.find(x)
		if !s.mixed[piece] {
			if piece == own || s.isTarget(list[begin:], piece) {
				continue
			}
		}
		list = append(list, action{deed: put, cost: 1, strands: [ringSize]int32{i}, sides: [ringSize]uint8{side}, to: x, net: label})
		if s.at[x] < 0 && s.head[x] < 0 {
			break // lumps elsewhere are alike, and come last
		}
	}
	return list
}

func (s *search) isTarget(puts []action, piece int32) bool {
	for i := range puts {
		if s.piece.find(puts[i].to) == piece {
			return true
		}
	}
	return false
}

// findPiecesWithout finds what hangs together without a strand, and whether it
// has several nets in it.
func (s *search) findPiecesWithout(i int32) {
	s.work -= len(s.now) + len(s.lab)
	fill(s.piece, -1)
	for n := range s.now {
		if e := &s.now[n]; e.ends[0] != gone && int32(n) != i {
			s.piece.join(e.ends[0], e.ends[1])
		}
	}
	fill(s.netOfPiece, -1)
	clear(s.mixed)
	for spot, label := range s.lab {
		if label < 0 {
			continue
		}
		piece := s.piece.find(int32(spot))
		switch s.netOfPiece[piece] {
		case -1:
			s.netOfPiece[piece] = label
		case label:
		default:
			s.mixed[piece] = true
		}
	}
}

// exchanges lists the strands with which an end of a strand on the wrong way
// may have been exchanged. At least one of the two must come right by it.
func (s *search) exchanges(i int32, done []int32, list []action) []action {
	for j := range s.now {
		other := int32(j)
		if other == i || !s.isLoose[j] || slices.Contains(done, other) {
			continue
		}
		list = s.exchangesOf(i, other, list)
	}
	return list
}

func (s *search) exchangesOf(i, j int32, list []action) []action {
	begin := len(list)
	for side := range uint8(4) {
		a := action{deed: exchange, cost: 1, strands: [ringSize]int32{i, j}, sides: [ringSize]uint8{side & 1, side >> 1}}
		list = s.consider(&a, 1, begin, list)
	}
	return list
}

// ringsOf lists the rings of three through a strand on the wrong way. At least
// two of the three must come right by it.
func (s *search) ringsOf(i int32, done []int32, list []action) []action {
	for j := range s.now {
		if !s.mayJoinRing(int32(j), i, done) {
			continue
		}
		for k := j + 1; k < len(s.now) && s.work > 0; k++ {
			if !s.mayJoinRing(int32(k), i, done) {
				continue
			}
			begin := len(list)
			for side := range uint8(8) {
				sides := [ringSize]uint8{side & 1, side >> 1 & 1, side >> 2}
				a := action{deed: ring, cost: 1, strands: [ringSize]int32{i, int32(j), int32(k)}, sides: sides}
				list = s.consider(&a, 2, begin, list)
				a.strands[1], a.strands[2] = a.strands[2], a.strands[1]
				a.sides[1], a.sides[2] = a.sides[2], a.sides[1]
				list = s.consider(&a, 2, begin, list)
			}
		}
	}
	return list
}

func (s *search) mayJoinRing(j, i int32, done []int32) bool {
	return j != i && s.isLoose[j] && !slices.Contains(done, j)
}

// consider adds an action that makes strands change places if enough of them
// come right by it. Of several that end in the same, it keeps the likeliest;
// those since begin are compared.
func (s *search) consider(a *action, enough, begin int, list []action) []action {
	s.work--
	n := a.size()
	right := 0
	for x := range n {
		e, side := a.strands[x], a.sides[x]
		if s.now[e].stuck[side] {
			return list
		}
		y := (x + 1) % n
		to, toSide := a.strands[y], a.sides[y]
		if s.now[e].ends[side] == s.now[to].ends[toSide] {
			return list // nothing would change
		}
		if foot := s.now[e].feet[1-side]; foot >= 0 && foot == s.now[to].feet[toSide] {
			return list // both ends would be at one point
		}
		kept, place := s.masks[e][1-side], s.masks[to][toSide]
		if kept&place != 0 || kept == 0 || place == 0 {
			right++
		}
	}
	if right < enough {
		return list
	}
	for x := begin; x < len(list); x++ {
		if s.sameEnd(a, &list[x]) {
			if s.weight(a) < s.weight(&list[x]) {
				list[x] = *a
			}
			return list
		}
	}
	return append(list, *a)
}

// sameEnd reports whether two actions on the same strands join the same spots.
func (s *search) sameEnd(a, b *action) bool {
	return a.deed == b.deed && s.outcome(a) == s.outcome(b)
}

// outcome tells apart what an exchange joins.
func (s *search) outcome(a *action) uint64 {
	var key uint64
	n := a.size()
	for x := range n {
		y := (x + 1) % n
		kept := s.now[a.strands[x]].ends[1-a.sides[x]]
		place := s.now[a.strands[y]].ends[a.sides[y]]
		key += mix(pairKey(kept, place))
	}
	return key
}
