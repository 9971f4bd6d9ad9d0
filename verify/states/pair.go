package states

import (
	"slices"

	"buzzout/netlist"
)

// maxSelections is how many settings of switches are tried for a pair.
const maxSelections = 4096

// pair says whether two inputs can both be plugged in and be selected by a
// switch, and where a change-over switch would have to go if not.
func (m *mixer) pair(a, b int) Pair {
	p := Pair{A: a, B: b, LegA: netlist.NoTerminal, LegB: netlist.NoTerminal, Meet: netlist.NoTerminal}
	plugs := uint(1<<a | 1<<b)
	now := m.trial(plugs, m.s)
	p.Both = now.level(a, nil, -1) >= heard && now.level(b, nil, -1) >= heard
	switches := now.switches()
	total := now.scene.Web.settings(switches, maxSelections)
	for total > maxSelections {
		switches = switches[:len(switches)-1]
		total = now.scene.Web.settings(switches, maxSelections)
	}
	at := make([]int, len(switches))
	for {
		with := netlist.Setting{}
		for i, c := range switches {
			with[now.scene.Web.Controls[c]] = netlist.Position{Index: at[i], Known: true}
		}
		t := m.trial(plugs, m.s.With(with))
		la, lb := t.level(a, nil, -1), t.level(b, nil, -1)
		p.Looked++
		if la >= heard && lb < heard && p.OnlyA == nil {
			p.OnlyA = with
		}
		if lb >= heard && la < heard && p.OnlyB == nil {
			p.OnlyB = with
		}
		i := 0
		for ; i < len(switches); i++ {
			if at[i]++; at[i] < now.scene.Web.positions(switches[i]) {
				break
			}
			at[i] = 0
		}
		if i == len(switches) {
			break
		}
	}
	if p.OnlyA == nil || p.OnlyB == nil {
		m.rewire(&p, now)
	}
	return p
}

// switches are the controls, other than plugs and sockets, with a contact on
// the network between inputs and grid.
func (t *trial) switches() []int {
	w := t.scene.Web
	ends, _ := stops(t.scene.Harness)
	of := t.scene.Harness.Islands().Of
	stop := map[int32]bool{}
	for terminal, c := range w.conductor {
		if ends[of[terminal]] {
			stop[c] = true
		}
	}
	seen := map[int32]bool{}
	var queue []int32
	for _, in := range t.m.inputs {
		stop[w.conductor[in.Sleeve]] = true
		queue = append(queue, w.conductor[in.Tip])
	}
	for _, x := range queue {
		seen[x] = true
	}
	reach := func(x int32) {
		if !seen[x] && !stop[x] {
			seen[x] = true
			queue = append(queue, x)
		}
	}
	for len(queue) > 0 {
		x := queue[0]
		queue = queue[1:]
		for _, p := range t.list {
			if a, b := w.conductor[p.a], w.conductor[p.b]; a == x {
				reach(b)
			} else if b == x {
				reach(a)
			}
		}
		for i := range w.Contacts {
			if c := &w.Contacts[i]; c.a == x {
				reach(c.b)
			} else if c.b == x {
				reach(c.a)
			}
		}
	}
	var list []int
	for i := range w.Contacts {
		c := &w.Contacts[i]
		kind := c.Part.Kind
		control := w.Controls[c.Control].Control
		if control == kind.Seat || kind.Controls[control].Name == "plug" || slices.Contains(list, c.Control) {
			continue
		}
		if seen[c.a] || seen[c.b] {
			list = append(list, c.Control)
		}
	}
	return list
}

// rewire finds where the ways of two inputs first come together and tries a
// change-over switch there: its common at the meeting point, one leg on each
// of its ways.
func (m *mixer) rewire(p *Pair, t *trial) {
	h := t.scene.Harness
	of := h.Islands().Of
	a, b := m.inputs[p.A], m.inputs[p.B]
	wayA, wayB := t.scene.legs(a.Tip, m.out.Grid), t.scene.legs(b.Tip, m.out.Grid)
	for _, legA := range wayA {
		for _, legB := range wayB {
			if of[legA] != of[legB] || legA == legB {
				continue
			}
			p.LegA, p.LegB, p.Meet = legA, legB, m.out.Grid
			t.lifted = [2]netlist.TerminalID{legA, legB}
			t.chosen = 0
			onlyA := t.level(p.A, nil, -1) >= heard && t.level(p.B, nil, -1) < heard
			t.chosen = 1
			onlyB := t.level(p.B, nil, -1) >= heard && t.level(p.A, nil, -1) < heard
			p.Verified = onlyA && onlyB
			return
		}
	}
}

// legs are the terminals at which the way from a tip to the grid arrives on
// each conductor, the tip first.
func (sc *Scene) legs(tip, grid netlist.TerminalID) []netlist.TerminalID {
	list := []netlist.TerminalID{tip}
	for _, pass := range sc.Through(tip, grid) {
		if pass.Out != netlist.NoTerminal {
			list = append(list, pass.Out)
		}
	}
	return list
}
