package states

import "buzzout/netlist"

// maxSelections is how many settings of switches are tried with levels to work
// out in each by the rules, which run after every fact; the question tries
// maxTrials, shared among its pairs: twenty two-way switches around two inputs.
const (
	maxSelections = 1 << 12
	maxTrials     = 1 << 20
)

// pair says whether two inputs can both be plugged in and be selected by a
// switch, and where a change-over switch would have to go if not.
func (m *mixer) pair(a, b, pairs int) Pair {
	p := Pair{A: a, B: b, LegA: netlist.NoTerminal, LegB: netlist.NoTerminal, Meet: netlist.NoTerminal}
	t := m.trial(1<<a | 1<<b)
	hears := func(i int) bool { return m.net.level(t, i) >= heard }
	p.Both = hears(a) && hears(b)
	var both netlist.Setting // of the switches, in which both are heard
	if p.Both {
		both = netlist.Setting{}
	}
	web := m.net.web
	switches := m.net.switches()
	switches, p.Left = web.within(switches, max(maxTrials/pairs, maxSelections))
	for _, c := range switches {
		t.at[c] = 0
	}
	for next := true; next && (p.OnlyA == nil || p.OnlyB == nil); next = web.turn(t.at, switches) {
		inA, inB := hears(a), hears(b)
		p.Looked++
		p.EverA, p.EverB = p.EverA || inA, p.EverB || inB
		if inA && inB && both == nil {
			both = web.setting(switches, t.at)
		}
		if inA && !inB && p.OnlyA == nil {
			p.OnlyA = web.setting(switches, t.at)
		}
		if inB && !inA && p.OnlyB == nil {
			p.OnlyB = web.setting(switches, t.at)
		}
	}
	for ref, at := range both {
		if at.Index != m.s.PositionOf(ref).Index {
			if p.Tried == nil {
				p.Tried = netlist.Setting{}
			}
			p.Tried[ref] = at
		}
	}
	if both != nil && (p.OnlyA == nil || p.OnlyB == nil) {
		m.rewire(&p, m.plugged(1<<a|1<<b).With(both))
	}
	return p
}

// rewire finds where the ways of two inputs first come together, in a setting
// in which both are heard, and tries a change-over switch there: its common at
// the meeting point, one leg on each of its ways.
func (m *mixer) rewire(p *Pair, s netlist.Setting) {
	sc := &Scene{Harness: m.draw(s), Setting: s, Web: m.net.web}
	of := sc.Harness.Islands().Of
	shun := map[int32]bool{}
	for _, in := range m.out.Inputs {
		shun[of[in.Sleeve]] = true
	}
	a, b := m.out.Inputs[p.A], m.out.Inputs[p.B]
	links := sc.links()
	wayA, wayB := sc.through(a.Tip, m.out.Grid, links, shun), sc.through(b.Tip, m.out.Grid, links, shun)
	legsB := legs(b.Tip, wayB)
	for i, legA := range legs(a.Tip, wayA) {
		for _, legB := range legsB {
			if of[legA] != of[legB] || legA == legB {
				continue
			}
			p.LegA, p.LegB, p.Meet = legA, legB, m.out.Grid
			if i < len(wayA) && wayA[i].In != netlist.NoTerminal {
				p.Meet = wayA[i].In
			}
			t := trial{at: m.net.web.at(s), plugs: 1<<p.A | 1<<p.B, silent: -1}
			t.lifted = &[2]netlist.TerminalID{legA, legB}
			selects := func(chosen, in, out int) bool {
				t.chosen = chosen
				return m.net.level(t, in) >= heard && m.net.level(t, out) < heard
			}
			p.Verified = selects(0, p.A, p.B) && selects(1, p.B, p.A)
			return
		}
	}
}

// legs are the terminals at which a way arrives on each conductor, its
// beginning first.
func legs(from netlist.TerminalID, way []Pass) []netlist.TerminalID {
	list := []netlist.TerminalID{from}
	for _, pass := range way {
		if pass.Out != netlist.NoTerminal {
			list = append(list, pass.Out)
		}
	}
	return list
}
