package compare

import (
	"cmp"
	"slices"
)

// A contraction takes together all that is soundly joined, so that the search
// sees only what is in doubt. A lump is a set of conductors of one label that
// hang together without anything foreign between them; a loose conductor is a
// tag, bolt or lead's inside that joins lumps of several labels, so that what
// it belongs to is open.
type contraction struct {
	*layout
	root  sets    // lumps and loose conductors
	named []int32 // by root: the label of the lump, or means
	open  []bool  // by conductor: its label may change, so it is never taken together with others
	doubt []int32 // joints in doubt: their two ends are not in one lump
	lumps []int32 // by label: how many lumps of it there are
}

// contract takes together what is soundly joined. Conductors in open stay by
// themselves.
func contract(l *layout, open []bool) *contraction {
	c := &contraction{layout: l, root: newSets(len(l.first)), open: open}
	c.joinAlike()
	regions := c.regions()
	c.joinRegions(regions)
	c.nameLumps()
	c.findDoubt(regions)
	return c
}

// joinAlike joins the ends of every joint within one net.
func (c *contraction) joinAlike() {
	for _, e := range c.ends {
		a, b := e[0], e[1]
		if label := c.label[a]; label != means && label == c.label[b] && !c.open[a] && !c.open[b] {
			c.root.join(a, b)
		}
	}
}

// A region is a set of means that hang together, with what is round it.
type region struct {
	label  int32 // the label around it, means if there is none
	mixed  bool  // there are several
	opened bool  // an open conductor is at it
	joints []int32
}

// regions finds the regions. The result is by conductor; conductors of one
// region share one.
func (c *contraction) regions() []*region {
	s := newSets(len(c.first))
	for _, e := range c.ends {
		if c.isMeans(e[0]) && c.isMeans(e[1]) {
			s.join(e[0], e[1])
		}
	}
	byRoot := make([]*region, len(c.first))
	list := make([]*region, len(c.first))
	for i, e := range c.ends {
		a, b := e[0], e[1]
		if a == b || !c.isMeans(a) && !c.isMeans(b) {
			continue
		}
		if !c.isMeans(a) {
			a, b = b, a
		}
		root := s.find(a)
		r := byRoot[root]
		if r == nil {
			r = &region{label: means}
			byRoot[root] = r
		}
		list[a] = r
		r.joints = append(r.joints, int32(i))
		switch {
		case c.isMeans(b):
			list[b] = r
		case c.open[b]:
			r.opened = true
		case r.label == means:
			r.label = c.label[b]
		case r.label != c.label[b]:
			r.mixed = true
		}
	}
	return list
}

func (c *contraction) isMeans(x int32) bool { return c.label[x] == means && !c.open[x] }

// joinRegions gives to the nets what is theirs: a region with one net around
// it altogether, and of any other region the conductors that are nearer to a
// net than anything foreign is.
func (c *contraction) joinRegions(regions []*region) {
	var last *region
	for _, e := range c.ends {
		for _, x := range e {
			r := regions[x]
			if r == nil || r == last || len(r.joints) == 0 {
				continue
			}
			last = r
			switch {
			case r.mixed || r.opened:
				if len(r.joints) > smallRegion {
					c.divide(r)
				}
			case r.label != means:
				for _, j := range r.joints {
					c.root.join(c.ends[j][0], c.ends[j][1])
				}
			}
			r.joints = nil
		}
	}
}

// smallRegion is how many joints a region may have and be searched whole.
var smallRegion = 8

// divide joins to each net around a region those conductors that stay with the
// net in every least cut which parts it from all else. That some least way of
// parting all nets leaves them there is the isolation lemma for multiway cuts
// (Dahlhaus, Johnson, Papadimitriou, Seymour, Yannakakis, SIAM J. Computing
// 23(4), 1994, lemma 3; from memory, and held by the tests against trying all).
func (c *contraction) divide(r *region) {
	f := newFlow(c, r)
	count := map[int32]int{}
	var labels []int32
	for _, j := range r.joints {
		for _, x := range c.ends[j] {
			if !c.isMeans(x) && !c.open[x] {
				if count[c.label[x]] == 0 {
					labels = append(labels, c.label[x])
				}
				count[c.label[x]]++
			}
		}
	}
	slices.SortFunc(labels, func(a, b int32) int {
		return cmp.Or(cmp.Compare(count[b], count[a]), cmp.Compare(a, b))
	})
	for _, label := range labels {
		if count[label] > 1 {
			f.claim(label)
		}
	}
	for _, j := range r.joints {
		a, b := f.owner(c.ends[j][0]), f.owner(c.ends[j][1])
		if a == b && a != means {
			c.root.join(c.ends[j][0], c.ends[j][1])
		}
	}
}

// nameLumps finds the label of every lump and counts the lumps of each label.
func (c *contraction) nameLumps() {
	c.named = make([]int32, len(c.first))
	fill(c.named, means)
	c.lumps = make([]int32, c.labels)
	for x, label := range c.label {
		if label == means {
			continue
		}
		root := c.root.find(int32(x))
		if c.named[root] == means {
			c.named[root] = label
			c.lumps[label]++
		}
	}
}

// findDoubt lists the joints in doubt.
func (c *contraction) findDoubt(regions []*region) {
	inDoubt := func(x int32) bool { // a loose conductor between several nets
		return regions[x] != nil && (regions[x].mixed || regions[x].opened)
	}
	for i, e := range c.ends {
		a, b := c.root.find(e[0]), c.root.find(e[1])
		switch {
		case a == b:
		case c.named[a] != means && c.named[b] != means:
			c.doubt = append(c.doubt, int32(i))
		case inDoubt(e[0]) || inDoubt(e[1]) || c.open[e[0]] || c.open[e[1]]:
			c.doubt = append(c.doubt, int32(i))
		}
	}
}
