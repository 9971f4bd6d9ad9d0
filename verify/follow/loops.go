package follow

import (
	"math"
	"slices"

	"buzzout/netlist"
)

// looksBack is the least of a loop that is told: what comes round of 1. Over a
// supply a little always does, and sharesBack is the least that matters.
const (
	looksBack  = 0.01
	sharesBack = 0.1
)

// A Loop is a way on which the signal comes back to an earlier stage.
type Loop struct {
	// From is where it is taken off the forward way, Steps what it passes on
	// the way back, In the electrodes at which it comes in, each with the
	// valve's terminal. Without Steps and within a stage, a cathode or screen
	// grid lies on a winding of Through.
	From  netlist.TerminalID
	Steps []Step
	In    []Entry
	// Also are parts through which some of it takes another turn to the same
	// stage.
	Also []*netlist.Part
	// Round is what comes round of a signal of 1, in the setting of the way:
	// negative calms the amplifier, positive whips it up, above 1 it howls by
	// itself. The sign can be trusted, the size is an order of magnitude.
	Round float64
	// Most is the same with every control on the forward way turned up, and
	// Up are the controls that were turned up for it; none where that makes no
	// difference.
	Most float64
	Up   []*netlist.Part
	// Local says that it stays within one stage.
	Local bool
	// Supply says that it runs over a conductor that feeds several valves: the
	// high tension, which does not hold still enough.
	Supply bool
	// Through are transformers that it passes: exchanging the leads of a
	// winding there turns it round.
	Through []*netlist.Part
}

// An Entry is an electrode at which a loop comes in.
type Entry struct {
	Part      *netlist.Part
	At        netlist.TerminalID
	Electrode Electrode
}

// Negative says that the loop calms the amplifier.
func (l *Loop) Negative() bool { return l.Most < 0 }

// Howls says that the amplifier oscillates with the controls as they stand.
func (l *Loop) Howls() bool { return l.Round > 1 }

// CanHowl says that it does with its controls turned up.
func (l *Loop) CanHowl() bool { return l.Most > 1 }

// loops finds the loops of a complete way, with the forward controls turned
// up, so that a volume at nought does not hide one, and weighs them as the
// controls stand. Faint ones come from behind a transformer, as if they were
// meant, and next to nothing comes round by them.
func (q *Question) loops(t *trail, s netlist.Setting) (list, faint []Loop) {
	up, turned := turnedUp(t)
	full := t
	if len(turned) > 0 {
		s := s.With(up)
		full = newTrail(newFlow(newNetwork(q.Draw(s), s, q.From, q.To)))
		full.follow(q.To)
		if !full.complete {
			full, turned = t, nil
		}
	}
	groups := full.grouped(full.returnings())
	for i, group := range groups {
		l := full.loop(group)
		around := full.circle(groups, i)
		l.Most = full.round(group, around)
		l.Round = l.Most
		if full != t {
			l.Round = t.roundLike(group, around)
			l.Up = full.within(around.early, turned)
		}
		least := looksBack
		if l.Supply {
			least = sharesBack
		}
		switch {
		case max(math.Abs(l.Most), math.Abs(l.Round)) >= least:
			list = append(list, l)
		case !l.Local && !l.Supply && len(l.Through) > 0 && len(l.Steps) > 0:
			faint = append(faint, l)
		}
	}
	slices.SortStableFunc(list, func(a, b Loop) int {
		switch {
		case a.Local == b.Local:
			return 0
		case b.Local:
			return -1
		}
		return 1
	})
	return list, faint
}

// turnedUp is the setting in which the controls on the forward way pass most.
func turnedUp(t *trail) (netlist.Setting, []*netlist.Part) {
	with := netlist.Setting{}
	var list []*netlist.Part
	for _, l := range t.lanes {
		for _, s := range l.steps {
			if s.Kind != Control {
				continue
			}
			e := &t.kindOf(s.Part).Elements[s.Element]
			if e.By < 0 {
				continue
			}
			turn := 1.0
			if low := s.Part.Terminals[e.Ends[0]]; s.In == low || s.Out == low {
				turn = 0
			}
			ref := netlist.ControlRef{Part: s.Part, Control: e.By}
			if at := t.setting.PositionOf(ref); at.Known && at.Turn == turn {
				continue
			}
			with[ref] = netlist.Position{Turn: turn, Known: true}
			if !slices.Contains(list, s.Part) {
				list = append(list, s.Part)
			}
		}
	}
	return with, list
}

// within keeps the controls that lie behind one of the early valves: those
// that a loop passes.
func (t *trail) within(early []int, turned []*netlist.Part) []*netlist.Part {
	var list []*netlist.Part
	for _, l := range t.lanes {
		inside := false
		for _, s := range l.steps {
			if s.Kind == Stage {
				inside = inside || slices.ContainsFunc(early, func(j int) bool { return t.valves[j].part == s.Part && t.valves[j].element == s.Element })
			}
			if inside && s.Kind == Control && slices.Contains(turned, s.Part) && !slices.Contains(list, s.Part) {
				list = append(list, s.Part)
			}
		}
	}
	return list
}

// grouped puts together what is one loop: between the same two stages.
func (t *trail) grouped(list []returning) [][]returning {
	var groups [][]returning
	for _, r := range list {
		i := slices.IndexFunc(groups, func(g []returning) bool {
			a, b := g[0], r
			same := t.depth[a.late] == t.depth[b.late] && t.depth[a.early] == t.depth[b.early]
			return same && (t.isLocal(a) == t.isLocal(b)) && (!t.isLocal(a) || a.electrode == b.electrode)
		})
		if i < 0 {
			groups = append(groups, nil)
			i = len(groups) - 1
		}
		groups[i] = append(groups[i], r)
	}
	return groups
}

func (t *trail) isLocal(r returning) bool { return t.depth[r.late] == t.depth[r.early] }

// loop tells a group of returnings as one.
func (t *trail) loop(group []returning) Loop {
	strongest := group[0]
	for _, r := range group[1:] {
		if len(r.hops) > 0 && math.Abs(r.weight) > math.Abs(strongest.weight) {
			strongest = r
		}
	}
	l := Loop{Local: t.isLocal(strongest), From: t.valves[strongest.late].cathode}
	hops := t.offForward(strongest)
	s := &t.each[strongest.late]
	if len(strongest.hops) > 0 {
		l.From = t.terminalOn(strongest.hops[0].from, strongest.late)
	}
	if len(hops) > 0 {
		l.From = hops[0].in
		if len(hops) < len(strongest.hops) {
			l.From = strongest.hops[len(strongest.hops)-len(hops)-1].out
		}
	}
	for _, h := range strongest.hops {
		if h.core >= 0 {
			l.Through = append(l.Through, t.cores[h.core].part)
		}
		l.Supply = l.Supply || t.feeds(h.from) || t.feeds(h.to)
	}
	if l.Local && strongest.electrode != Grid {
		v := &t.valves[strongest.early]
		l.From = v.cathode
		if strongest.electrode == ScreenGrid {
			l.From = v.screen
		}
		l.Through = t.coresOn(l.From)
	}
	passed := map[*netlist.Part]bool{}
	for _, h := range hops {
		step := t.step(s, h)
		step.Conductor = t.conductorName(step.Out)
		l.Steps = append(l.Steps, step)
		passed[step.Part] = true
		for _, p := range step.Beside {
			passed[p] = true
		}
	}
	for _, r := range group {
		v := &t.valves[r.early]
		e := Entry{Part: v.part, At: v.grid, Electrode: r.electrode}
		switch r.electrode {
		case Cathode:
			e.At = v.cathode
		case ScreenGrid:
			e.At = v.screen
		}
		if !slices.Contains(l.In, e) {
			l.In = append(l.In, e)
		}
		for _, h := range t.offForward(r) {
			for _, i := range h.links {
				p := t.links[i].part
				if !passed[p] && t.links[i].element >= 0 {
					passed[p] = true
					l.Also = append(l.Also, p)
				}
			}
		}
	}
	return l
}

// terminalOn is the electrode of a valve that is on a conductor.
func (t *trail) terminalOn(conductor int32, j int) netlist.TerminalID {
	if v := &t.valves[j]; t.of[v.anode] == conductor {
		return v.anode
	} else {
		return v.cathode
	}
}

// offForward leaves out the first hops of a returning as long as the forward
// lanes take them too, or pass the same core.
func (t *trail) offForward(r returning) []hop {
	hops := r.hops
	for len(hops) > 0 && t.isForward(hops[0]) {
		hops = hops[1:]
	}
	return hops
}

func (t *trail) isForward(h hop) bool {
	for _, l := range t.lanes {
		for _, s := range l.steps {
			switch {
			case h.core >= 0 && s.Part == t.cores[h.core].part:
				return true
			case h.core < 0 && s.In != netlist.NoTerminal && s.Out != netlist.NoTerminal && s.Kind != Stage && t.of[s.In] == h.from && t.of[s.Out] == h.to:
				return true
			}
		}
	}
	return false
}
