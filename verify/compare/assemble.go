package compare

// A told knot is one that was untied, with its explanations in conductors.
type told struct {
	answer   answer
	remedies []remedy // the likeliest of the smallest explanations
	rivals   []rival  // others
}

// A rival is another explanation, as small.
type rival struct {
	remedies []remedy
	more     []gap // joints missing under it that are there under the likeliest
	// Where the two leave a tag differently joined, tag and mark are
	// conductors that are joined under the one or the other alone; else -1.
	tag, mark int32
	joined    bool // under the likeliest
}

// A remedy is one action, with what it comes to.
type remedy struct {
	deed    deed
	moves   []move
	suspect *suspect // for a turn
}

// A move is what becomes of one end of a joint.
type move struct {
	joint int32
	side  uint8
	from  int32 // label of what the end is on, means if nothing of the plan is there
	net   int32 // label where it belongs; means if it comes off
	to    int32 // a conductor there; gone if it comes off
	kept  int32 // label at the other end
}

// A gap is a joint that is missing.
type gap struct {
	label int32
	a, b  piece // the greater piece first
	// ends are ends of joints of one of the pieces on which nothing of the
	// plan is: they may have been meant for the other piece.
	ends []dangle
}

// A dangle is an end of a joint on which nothing of the plan is.
type dangle struct {
	joint int32
	side  uint8
}

// remedies tells what actions come to.
func (s *scene) remedies(k *knot, actions []action) []remedy {
	var list []remedy
	for i := range actions {
		a := &actions[i]
		r := remedy{deed: a.deed}
		if a.deed == turnOver {
			r.suspect = &s.suspects[k.flips[a.to].suspect]
		}
		off := true
		for _, x := range k.touched(a, nil) {
			j, side := k.strands[x.strand].joint, x.side
			was := s.contraction.ends[j]
			m := move{joint: j, side: side, from: s.netOf(was[side]), net: means, to: gone, kept: s.netOf(was[1-side])}
			if to := s.place(j, int(side)); to >= 0 {
				m.net, m.to, off = s.netOf(to), to, false
			}
			r.moves = append(r.moves, m)
		}
		if a.deed == put && off {
			r.deed = takeOff // another knot's joint has closed that gap
		}
		list = append(list, r)
	}
	return list
}

// compare tells a rival explanation of a knot against this one.
func (s *scene) compare(r *scene, k *knot, actions []action) rival {
	v := rival{remedies: r.remedies(k, actions), tag: -1, mark: -1}
	for _, label := range k.labels {
		ours, theirs := s.gaps(label), r.gaps(label)
		if n := len(theirs) - len(ours); n > 0 {
			v.more = append(v.more, theirs[:n]...)
		}
	}
	for spot, label := range k.label {
		if label >= 0 {
			continue
		}
		x := k.at[spot]
		ours, theirs := s.netOf(x), r.netOf(x)
		if ours == theirs {
			continue
		}
		v.tag, v.joined = x, ours != means
		if v.joined {
			v.mark = s.anyOf(ours)
		} else {
			v.mark = r.anyOf(theirs)
		}
		break
	}
	return v
}

// gaps lists the joints that a net misses: from its greatest piece to each of
// the others.
func (s *scene) gaps(label int32) []gap {
	if s.lumpCount(label) < 2 {
		return nil
	}
	list := s.pieces(label)
	var gaps []gap
	for _, p := range list[min(1, len(list)):] {
		gaps = append(gaps, gap{label: label, a: list[0], b: p})
	}
	return gaps
}

// lumpCount is an upper bound on the lumps of a label.
func (s *scene) lumpCount(label int32) int { return len(s.byLabel[label]) + s.gained[label] }

// findDangling finds ends of joints on which nothing of the plan is, and gives
// them to the gaps that they may have been meant for.
func (v *verdict) findDangling() {
	degree := make([]int32, len(v.label))
	for _, e := range v.ends {
		if e[0] != e[1] {
			degree[e[0]]++
			degree[e[1]]++
		}
	}
	gapsOf := make(map[int32][]int) // piece to gaps
	for i := range v.missing {
		g := &v.missing[i]
		gapsOf[g.a.root] = append(gapsOf[g.a.root], i)
		gapsOf[g.b.root] = append(gapsOf[g.b.root], i)
	}
	for j, e := range v.ends {
		if e[0] == e[1] {
			continue
		}
		if _, changed := v.scene.ends[int32(j)]; changed {
			continue
		}
		for side, x := range e {
			if degree[x] != 1 || v.base[x] != means {
				continue
			}
			d := dangle{int32(j), uint8(side)}
			for _, i := range gapsOf[v.scene.sets.find(x)] {
				v.missing[i].ends = append(v.missing[i].ends, d)
			}
		}
	}
}
