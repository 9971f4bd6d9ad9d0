package compare

// Explanations of one size are told in the order of how likely they are. The
// weights are common practice, no source: a joint is forgotten more readily
// than it is put wrongly, a lead is put wrongly more readily than a leg, and
// what takes several slips at once is least likely.
const (
	missingWeight  = 50
	putWeight      = 100
	takeOffWeight  = 110
	turnWeight     = 120
	twoPartsWeight = 140
	socketWeight   = 220
	exchangeWeight = 150
	ringWeight     = 300
	landingWeight  = 5  // more, where several ends went astray together
	gatherWeight   = 35 // more, where they did so one by one: rather than two that were exchanged
	gatheredWeight = 5  // more, for each of those: the few went astray, and not the many
	legWeight      = 15 // more, for each leg
	legOffWeight   = 30 // more still, for a leg that comes off: its part then hangs by the other
	apartWeight    = 5  // more, where the places that were exchanged are on different parts
)

// weight tells how unlikely an action is.
func (s *search) weight(a *action) int {
	var w int
	switch a.deed {
	case put:
		w = putWeight
	case takeOff:
		w = takeOffWeight
	case exchange:
		w = exchangeWeight
	case ring:
		w = ringWeight
	case turnOver:
		f := &s.flips[a.to]
		switch {
		case f.two:
			return twoPartsWeight
		case len(f.spots) > 2:
			return socketWeight // where a lead or two explain as much, it was those
		}
		return turnWeight
	}
	switch {
	case a.landing < 0:
		return w + gatherWeight + gatheredWeight*len(s.landed[a.landing])
	case a.landing > 0:
		return w + landingWeight
	}
	n := a.size()
	part := int32(-1)
	for x := range n {
		strand := a.strands[x]
		if s.now[strand].leg {
			w += legWeight
			if a.deed == takeOff {
				w += legOffWeight
			}
		}
		if n == 1 {
			continue
		}
		place := s.partAt(s.strands[strand].ends[a.sides[x]])
		if x > 0 && place != part || place < 0 {
			w += apartWeight
		}
		part = place
	}
	return w
}

// partAt is the part of which a spot is, or -1.
func (k *knot) partAt(spot int32) int32 {
	if spot < 0 || k.at[spot] < 0 {
		return -1
	}
	return k.part[k.first[k.at[spot]]]
}
