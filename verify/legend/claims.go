package legend

import "slices"

// A claim is what can be said of one lead.
type claim struct {
	end    int   // a terminal of the kind; none where the lead is no end, or open
	sure   Sure  // how well it is known
	open   []int // the ends that it can be, where that is open; nil where it can be any
	around bool  // what is open makes no difference but for phase
}

// claims says of every lead what every hypothesis has the same, as far as
// that makes a difference: what can be used for one another is not told apart.
func (p *picture) claims() []claim {
	if p.claimed == nil {
		p.claimed = p.claim()
	}
	return p.claimed
}

func (p *picture) claim() []claim {
	list := make([]claim, p.n)
	hyps := p.namings()
	for lead := range list {
		list[lead] = claim{end: none, sure: Open}
	}
	if !p.settled && p.counted() {
		p.looseClaims(list)
	}
	if len(hyps) == 0 {
		return list
	}
	settled := p.settledLeads(hyps)
	for lead := range list {
		c := &list[lead]
		var ends []int
		for i := range hyps {
			end := hyps[i].ends[lead]
			if end < none {
				ends = append(ends, p.lay.groups[p.lay.groupOf(end)].ends...)
				continue
			}
			ends = append(ends, end)
		}
		for _, end := range slices.Clone(ends) {
			if end >= 0 {
				ends = append(ends, p.lay.asGood(end)...)
			}
		}
		slices.Sort(ends)
		ends = slices.Compact(ends)
		switch {
		case p.doubted[lead]:
			c.open = ends
		case len(ends) == 1:
			c.end, c.sure = ends[0], Certain
		case settled[lead] && hyps[0].ends[lead] >= none:
			c.end, c.sure, c.open = hyps[0].ends[lead], EitherWay, ends
		default:
			c.open = ends
			c.around = p.turnedOnly(lead, ends)
		}
	}
	return list
}

// looseClaims says what each bunch can be by itself, where there are too many
// ways to name all bunches together.
func (p *picture) looseClaims(list []claim) {
	for b, leads := range p.bunches {
		fittings := p.fittings(b, p.supplies())
		for i, lead := range leads {
			c := &list[lead]
			if p.n > p.lay.ends && len(leads) <= p.n-p.lay.ends {
				continue // it may be no end at all
			}
			for _, f := range fittings {
				ends := p.lay.groups[f.group].ends
				if f.ends != nil {
					ends = f.ends[i : i+1]
				}
				for _, end := range ends {
					c.open = append(c.open, p.lay.asGood(end)...)
				}
			}
			slices.Sort(c.open)
			c.open = slices.Compact(c.open)
			if len(c.open) == 1 && !p.doubted[lead] {
				c.end, c.sure, c.open = c.open[0], Certain, nil
			}
		}
	}
}

// maxTurns bounds the namings that come out of one by exchanges.
const maxTurns = 64

// settledLeads are those whose names can be chosen as the first hypothesis has
// them: every other comes to the same there by exchanging ends that may be
// exchanged, all such leads at once.
func (p *picture) settledLeads(hyps []hypothesis) []bool {
	settled := make([]bool, p.n)
	first := hyps[0].ends
	// images of each hypothesis that are still in the running
	images := make([][][]int, len(hyps))
	for i := range hyps {
		images[i] = p.imagesOf(hyps[i].ends, p.lay.same)
	}
	for _, bunch := range p.bunches {
		keep := make([][][]int, len(images))
		ok := true
		for i := range images {
			for _, image := range images[i] {
				same := true
				for _, lead := range bunch {
					if p.lay.stands(image[lead]) != p.lay.stands(first[lead]) || image[lead] < none {
						same = false
						break
					}
				}
				if same {
					keep[i] = append(keep[i], image)
				}
			}
			if len(keep[i]) == 0 {
				ok = false
				break
			}
		}
		if !ok {
			continue
		}
		images = keep
		for _, lead := range bunch {
			settled[lead] = true
		}
	}
	return settled
}

// imagesOf are all namings that come out of one by exchanging ends.
func (p *picture) imagesOf(ends []int, exchanges [][]int) [][]int {
	list := [][]int{ends}
	for i := 0; i < len(list) && len(list) < maxTurns; i++ {
		for _, perm := range exchanges {
			image := exchanged(list[i], perm)
			if !slices.ContainsFunc(list, func(have []int) bool { return slices.Equal(have, image) }) {
				list = append(list, image)
			}
		}
	}
	return list
}

// exchanged gives a naming with its ends exchanged; "some end of a winding"
// stays what it is.
func exchanged(ends, perm []int) []int {
	image := slices.Clone(ends)
	for lead, end := range ends {
		if end >= 0 {
			image[lead] = perm[end]
		}
	}
	return image
}

// turnedOnly says that the ends that a lead can be come out of one another by
// exchanges that turn the signal over, and by nothing else.
func (p *picture) turnedOnly(lead int, ends []int) bool {
	if len(ends) == 0 || ends[0] < 0 {
		return false
	}
	reached := []int{ends[0]}
	for i := 0; i < len(reached); i++ {
		for _, perm := range slices.Concat(p.lay.same, p.lay.sign) {
			if to := perm[reached[i]]; !slices.Contains(reached, to) {
				reached = append(reached, to)
			}
		}
	}
	for _, end := range ends {
		if !slices.Contains(reached, end) {
			return false
		}
	}
	return true
}
