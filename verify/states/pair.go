package states

import "buzzout/netlist"

// maxSelections is how many settings of switches are tried for a pair.
const maxSelections = 4096

// pair says whether two inputs can both be plugged in and be selected by a
// switch, and where a change-over switch would have to go if not.
func (m *mixer) pair(a, b int) Pair {
	p := Pair{A: a, B: b, LegA: netlist.NoTerminal, LegB: netlist.NoTerminal, Meet: netlist.NoTerminal}
	t := m.trial(1<<a | 1<<b)
	hears := func(i int) bool { return m.net.level(t, i) >= heard }
	p.Both = hears(a) && hears(b)
	web := m.net.web
	switches := m.net.switches()
	switches, p.Left = web.within(switches, maxSelections)
	for _, c := range switches {
		t.at[c] = 0
	}
	for next := true; next; next = web.turn(t.at, switches) {
		inA, inB := hears(a), hears(b)
		p.Looked++
		if inA && !inB && p.OnlyA == nil {
			p.OnlyA = web.setting(switches, t.at)
		}
		if inB && !inA && p.OnlyB == nil {
			p.OnlyB = web.setting(switches, t.at)
		}
	}
	if p.OnlyA == nil || p.OnlyB == nil {
		m.rewire(&p)
	}
	return p
}

// rewire finds where the ways of two inputs first come together and tries a
// change-over switch there: its common at the meeting point, one leg on each
// of its ways.
func (m *mixer) rewire(p *Pair) {
	plugs := uint(1<<p.A | 1<<p.B)
	s := m.plugged(plugs)
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
			t := m.trial(plugs)
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
