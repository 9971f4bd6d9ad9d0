package compare

import "slices"

// A view is what the search sees of a state.
type view struct {
	wrong     bool
	way       []int32  // strands from one spot to another of a different net, nothing labelled between
	ends      [2]int32 // those two spots
	missing   int      // pieces of nets beyond the first of each, wrong joints counted as joining
	elsewhere int      // of these, lumps elsewhere that nothing here is joined to
	loose     int      // strands that have a part in joining different nets
	savings   int      // pieces here that strands could join if they were put elsewhere
	units     int      // places that must each be parted, apart from what a turn may put right
}

// scratch is working space of a search, used anew for each state.
type scratch struct {
	head, next []int32 // strands at a spot: next[2i] and next[2i+1] follow strand i at its ends
	queue      []int32
	source     []int32 // by spot: the labelled spot that reached it
	by         []int32 // by spot: the strand by which
	far        []int32 // by spot: how far
	piece      sets
	pieces     []int   // by label: how many it is in
	spotOf     []int32 // by label: a spot of it
	spotAfter  []int32 // by spot: another of its label
	mark       []int32
	round      int32
	netOfPiece []int32
	mixed      []bool      // by piece: several nets are in it
	masks      [][2]uint64 // by strand: labels near each end, without that strand
	isLoose    []bool      // by strand: it has a part in joining different nets
	way, list  []int32
	lists      [2][]int32
	reach      []int // by label: strands that could join one more piece of it
	apart      []int // by label: lumps elsewhere that nothing here is joined to
}

func (t *scratch) make(spots, strands, labels int) {
	t.head = make([]int32, spots)
	t.next = make([]int32, 2*strands)
	t.queue = make([]int32, 0, spots)
	t.source = make([]int32, spots)
	t.by = make([]int32, spots)
	t.far = make([]int32, spots)
	t.piece = newSets(spots)
	t.mark = make([]int32, spots)
	t.pieces = make([]int, labels)
	t.reach = make([]int, labels)
	t.apart = make([]int, labels)
	t.spotOf = make([]int32, labels)
	t.spotAfter = make([]int32, spots)
	t.netOfPiece = make([]int32, spots)
	t.mixed = make([]bool, spots)
	t.masks = make([][2]uint64, strands)
	t.isLoose = make([]bool, strands)
}

// view looks at the state as it is.
func (s *search) view() view {
	s.work -= len(s.now) + len(s.lab)
	s.thread()
	var v view
	v.way, v.ends, v.wrong = s.wrongWay()
	v.missing = s.missing()
	v.elsewhere = s.elsewhere()
	if v.wrong {
		v.loose, v.savings = s.findLoose()
		v.units = s.countUnits()
	}
	return v
}

// thread lists the strands at each spot.
func (s *search) thread() {
	fill(s.head, -1)
	for i := len(s.now) - 1; i >= 0; i-- {
		e := &s.now[i]
		if e.ends[0] == gone {
			continue
		}
		for side, spot := range e.ends {
			s.next[2*i+side] = s.head[spot]
			s.head[spot] = int32(2*i + side)
		}
	}
}

// wrongWay finds a shortest way between two spots of different nets without a
// labelled spot between them.
func (s *search) wrongWay() (way []int32, ends [2]int32, wrong bool) {
	way = s.way[:0]
	defer func() { s.way = way }()
	for i := range s.now {
		e := &s.now[i]
		if e.ends[0] == gone {
			continue
		}
		if a, b := s.lab[e.ends[0]], s.lab[e.ends[1]]; a >= 0 && b >= 0 && a != b {
			return append(way, int32(i)), e.ends, true
		}
	}
	s.queue = s.queue[:0]
	for spot, label := range s.lab {
		s.source[spot] = -1
		if label >= 0 {
			s.source[spot], s.far[spot], s.by[spot] = int32(spot), 0, -1
			s.queue = append(s.queue, int32(spot))
		}
	}
	best, bestFar := int32(-1), int32(0)
	for h := 0; h < len(s.queue); h++ {
		x := s.queue[h]
		for at := s.head[x]; at >= 0; at = s.next[at] {
			i := at / 2
			y := s.now[i].ends[1-at%2]
			switch {
			case s.source[y] < 0:
				s.source[y], s.far[y], s.by[y] = s.source[x], s.far[x]+1, i
				s.queue = append(s.queue, y)
			case s.lab[s.source[x]] != s.lab[s.source[y]]:
				if far := s.far[x] + s.far[y] + 1; best < 0 || far < bestFar {
					best, bestFar = i, far
				}
			}
		}
	}
	if best < 0 {
		return way, ends, false
	}
	way = append(way, best)
	for side, x := range s.now[best].ends {
		for s.by[x] >= 0 {
			i := s.by[x]
			way = append(way, i)
			x = s.other(i, x)
		}
		ends[side] = x
	}
	return way, ends, true
}

// other is the end of a strand that is not x.
func (s *search) other(strand, x int32) int32 {
	e := &s.now[strand]
	if e.ends[0] == x {
		return e.ends[1]
	}
	return e.ends[0]
}

// countUnits counts joints between spots of different nets, and sets of
// unlabelled spots between different nets: no two of them share a strand, so
// each needs a strand of its own put elsewhere.
func (s *search) countUnits() int {
	units := 0
	fill(s.piece, -1)
	for i := range s.now {
		e := &s.now[i]
		if e.ends[0] == gone {
			continue
		}
		a, b := s.lab[e.ends[0]], s.lab[e.ends[1]]
		switch {
		case a < 0 && b < 0:
			s.piece.join(e.ends[0], e.ends[1])
		case a >= 0 && b >= 0 && a != b:
			units++
		}
	}
	const several = -2
	fill(s.netOfPiece, -1)
	for i := range s.now {
		e := &s.now[i]
		if e.ends[0] == gone {
			continue
		}
		x, label := e.ends[0], s.lab[e.ends[1]]
		if s.lab[x] >= 0 {
			x, label = e.ends[1], s.lab[x]
		}
		if s.lab[x] >= 0 || label < 0 {
			continue
		}
		piece := s.piece.find(x)
		switch s.netOfPiece[piece] {
		case -1:
			s.netOfPiece[piece] = label
		case label, several:
		default:
			s.netOfPiece[piece] = several
			units++
		}
	}
	return units
}

// missing counts the pieces of nets beyond the first of each.
func (s *search) missing() int {
	fill(s.piece, -1)
	for i := range s.now {
		if e := &s.now[i]; e.ends[0] != gone {
			s.piece.join(e.ends[0], e.ends[1])
		}
	}
	fill(s.spotOf, -1)
	for spot, label := range s.lab {
		if label >= 0 {
			s.spotAfter[spot] = s.spotOf[label]
			s.spotOf[label] = int32(spot)
		}
	}
	missing := 0
	for label, spot := range s.spotOf {
		s.pieces[label] = 0
		if s.waived != nil && s.waived[label] || spot < 0 {
			continue
		}
		s.round++
		for ; spot >= 0; spot = s.spotAfter[spot] {
			if root := s.piece.find(spot); s.mark[root] != s.round {
				s.mark[root] = s.round
				s.pieces[label]++
			}
		}
		missing += s.pieces[label] - 1
	}
	return missing
}

// elsewhere counts the lumps elsewhere that nothing here is joined to.
func (s *search) elsewhere() int {
	clear(s.apart)
	n := 0
	for spot := len(s.lab) - 1; spot >= 0 && s.at[spot] < 0; spot-- {
		if label := s.lab[spot]; s.head[spot] < 0 && (s.waived == nil || !s.waived[label]) {
			s.apart[label]++
			n++
		}
	}
	return n
}

// joins counts, for each label, the lumps less the pieces that they make. It
// uses what missing has found.
func (s *search) joins() []int {
	list := make([]int, len(s.labels))
	for _, label := range s.lab {
		if label >= 0 {
			list[label]++
		}
	}
	for label, n := range s.pieces {
		list[label] -= n
	}
	return list
}

// nearLabels gives the labels that a spot has or that are next to it through
// unlabelled spots, without going through one strand. The second result has a
// bit for each; where a knot has very many labels, labels share bits.
func (s *search) nearLabels(spot, without int32, list []int32) ([]int32, uint64) {
	bit := func(label int32) uint64 { return 1 << (uint(label) % 64) }
	if label := s.lab[spot]; label >= 0 {
		return append(list, label), bit(label)
	}
	var mask uint64
	s.round++
	s.mark[spot] = s.round
	s.queue = append(s.queue[:0], spot)
	for h := 0; h < len(s.queue); h++ {
		x := s.queue[h]
		for at := s.head[x]; at >= 0; at = s.next[at] {
			s.work--
			y := s.now[at/2].ends[1-at%2]
			if at/2 == without || s.mark[y] == s.round {
				continue
			}
			s.mark[y] = s.round
			if label := s.lab[y]; label < 0 {
				s.queue = append(s.queue, y)
			} else if !slices.Contains(list, label) {
				list = append(list, label)
				mask |= bit(label)
			}
		}
	}
	return list, mask
}

// findLoose finds the strands that have a part in joining different nets, and
// what is near each of their ends. It counts, label by label, those that could
// join one more piece of the net, and gives the most that could be joined so.
func (s *search) findLoose() (loose, savings int) {
	clear(s.reach)
	for i := range s.now {
		e := &s.now[i]
		s.isLoose[i] = false
		if e.ends[0] == gone {
			continue
		}
		var lists [2][]int32
		lists[0], s.masks[i][0] = s.nearLabels(e.ends[0], int32(i), s.lists[0][:0])
		lists[1], s.masks[i][1] = s.nearLabels(e.ends[1], int32(i), s.lists[1][:0])
		s.lists = lists
		a, b := s.masks[i][0], s.masks[i][1]
		if a == 0 || b == 0 || a == b && a&(a-1) == 0 {
			continue
		}
		s.isLoose[i] = true
		loose++
		for side := range 2 {
			if e.stuck[1-side] {
				continue // it cannot join anything else to what is near this end
			}
			for _, label := range lists[side] {
				if side == 0 || e.stuck[0] || !slices.Contains(lists[0], label) {
					s.reach[label]++
				}
			}
		}
	}
	for label, n := range s.reach {
		if s.waived == nil || !s.waived[label] {
			savings += min(n, max(0, s.pieces[label]-s.apart[label]-1))
		}
	}
	return loose, savings
}
