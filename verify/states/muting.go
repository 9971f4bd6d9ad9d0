package states

import (
	"fmt"
	"math"
	"slices"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

// A muting is an input that is not heard, or not in full, because of a contact
// of another jack.
type muting struct {
	of    *mixer
	input int // index in the inputs of its point
	by    *Contact
	when  Table // over all plugs and switches but the input's own plug, which is in
	how   Fate  // in the first of those settings
	// empty says that the other jack is empty in all of them.
	empty bool
	// alone says that it is so with nothing but this input plugged in, however
	// the switches stand.
	alone bool
	// halved says that it is heard, and no input of the point is heard in full.
	halved bool
}

// mutings finds what contacts of other jacks do to each input of a point, in
// every setting of the plugs and switches.
func (m *mixer) mutings() []muting {
	var list []muting
	for i := range m.out.Inputs {
		list = append(list, m.mutingsOf(i)...)
	}
	if len(list) == 0 {
		list = m.halvings()
	}
	return list
}

// A choice is all that can be set while input i has a plug in it.
type choice struct {
	controls []int // of the network, but for the input's own plug and sockets
	left     []netlist.ControlRef
	at       []uint8
	others   []*Contact // worked by the plugs of other jacks
}

func (m *mixer) choice(i int) choice {
	web := m.net.web
	c := choice{at: web.at(m.plugged(1 << i))}
	for _, contact := range m.net.contacts {
		ref := web.Controls[contact.Control]
		if ref == m.out.Inputs[i].Plug || ref.Control == ref.Part.Kind.Seat {
			continue
		}
		if !slices.Contains(c.controls, contact.Control) {
			c.controls = append(c.controls, contact.Control)
		}
		if !contact.Inside && !web.isSwitch(contact.Control) {
			c.others = append(c.others, contact)
		}
	}
	slices.Sort(c.controls)
	c.controls, c.left = web.within(c.controls, maxSelections)
	return c
}

// trialAt is a trial with input i plugged in, and the others whose plug is in.
// lone says that no jack but input i's has a plug in it.
func (m *mixer) trialAt(i int, c *choice, at []uint8) (t trial, lone bool) {
	t = trial{at: at, plugs: 1 << i, silent: -1}
	for k, in := range m.out.Inputs {
		if n := slices.Index(m.net.web.Controls, in.Plug); n >= 0 && at[n] != 0 {
			t.plugs |= 1 << k
		}
	}
	lone = !slices.ContainsFunc(c.controls, func(n int) bool { return !m.net.web.isSwitch(n) && at[n] != 0 })
	return t, lone
}

func (m *mixer) mutingsOf(i int) []muting {
	c := m.choice(i)
	heardAlone := false
	var list []muting
	for _, by := range c.others {
		mu := muting{of: m, input: i, by: by}
		mu.when = m.net.web.tableWhere(c.controls, c.at, func(walk *Walk) bool {
			t, lone := m.trialAt(i, &c, walk.At)
			if m.net.level(t, i) >= heard {
				heardAlone = heardAlone || lone
				return false
			}
			t.toggled[0] = by
			better := m.net.level(t, i)
			if better < heard {
				return false
			}
			mu.alone = mu.alone || lone
			if mu.how.Cause == nil {
				mu.how = Fate{Reach: m.lost(walk.At, i), Cause: by, Opens: by.At(int(walk.At[by.Control])), Better: better}
			}
			return true
		})
		if mu.how.Cause != nil {
			mu.when.Left = append(mu.when.Left, c.left...)
			mu.empty = onlyAtRest(&mu.when, m.net.web.Controls[by.Control])
			list = append(list, mu)
		}
	}
	for k := range list {
		list[k].alone = list[k].alone && !heardAlone
	}
	return list
}

// lost says how an input is lost that is not heard.
func (m *mixer) lost(at []uint8, i int) Reach {
	web := m.net.web
	joined := web.joinedAt(at)
	of := func(t netlist.TerminalID) int32 { return joined.find(web.conductor[t]) }
	in := m.out.Inputs[i]
	switch {
	case of(in.Tip) == of(in.Sleeve):
		return Shorted
	case of(m.out.Grid) == of(m.out.Inputs[0].Sleeve):
		return Muted
	}
	return CutOff
}

// onlyAtRest says that a table holds only with a control where it rests.
func onlyAtRest(t *Table, ref netlist.ControlRef) bool {
	place := slices.Index(t.Controls, ref)
	return place >= 0 && !slices.ContainsFunc(t.Holds, func(c Condition) bool { return c[place] != 1 })
}

// halvings finds the contacts of empty jacks that take half of an input, where
// no input reaches the point in full by itself. One input that is halved
// beside one that is not is how two inputs of unlike level are made.
func (m *mixer) halvings() []muting {
	var list []muting
	for i := range m.out.Inputs {
		c := m.choice(i)
		most := 0.0
		mu := muting{of: m, input: i, empty: true, halved: true}
		mu.when = m.net.web.tableWhere(c.controls, c.at, func(walk *Walk) bool {
			t, lone := m.trialAt(i, &c, walk.At)
			if !lone {
				return false
			}
			level := m.net.level(t, i)
			most = max(most, level)
			if level < heard || level >= full {
				return false
			}
			found := false
			for _, by := range c.others {
				t.toggled[0] = by
				better := m.net.level(t, i)
				if better >= full && better > mu.how.Better {
					mu.by = by
					mu.how = Fate{Reach: Reduced, Level: level, Cause: by, Opens: by.At(int(walk.At[by.Control])), Better: better}
				}
				found = found || better >= full
			}
			return found
		})
		if most >= full {
			return nil
		}
		if mu.by != nil {
			mu.when.Left = append(mu.when.Left, c.left...)
			list = append(list, mu)
		}
	}
	return list
}

// same says that two mutings are of one input by one contact, though one be of
// the plan and one of the bench.
func (mu *muting) same(other muting) bool {
	return mu.of.out.Inputs[mu.input].Plug == other.of.out.Inputs[other.input].Plug &&
		mu.by.A == other.by.A && mu.by.B == other.by.B && mu.halved == other.halved
}

// mutings are all mutings of a plan or a bench.
func (s side) mutings() []muting {
	var list []muting
	for _, m := range mixers(s.harness(), s.draw, s.Setting, netlist.NoTerminal) {
		list = append(list, m.mutings()...)
	}
	return list
}

// tell makes a finding of a muting.
func (mu *muting) tell(s side) verify.Finding {
	m := mu.of
	book := s.Book()
	in := m.out.Inputs[mu.input]
	me, jack, grid := in.Jack.Ref, mu.by.Part.Ref, book.Name(m.out.Grid)
	near, far := mu.by.A, mu.by.B
	if other, ok := asJack(mu.by.Part); ok && (far == other.Tip || far == other.Sleeve) {
		near, far = far, near
	}
	who := "the empty " + jack
	if !mu.empty {
		who = "a plug in " + jack
	}
	contact := fmt.Sprintf("The contact of %s between %s and %s", jack, book.Name(near), book.Name(far))
	when := "with " + mu.settings()[0]
	f := verify.Finding{
		Severity:  diag.Caution,
		Terminals: []netlist.TerminalID{in.Tip, near, far}, Nets: s.netNames(in.Tip, near, far),
		Settings: mu.settings(),
		Evidence: []diag.Note{s.quote(far), s.quote(near), s.quote(in.Tip)},
		Action:   fmt.Sprintf("take %s off, or wire it to the tip of another input; mutes shows what each way of plugging in does", book.Name(far)),
		Check:    fmt.Sprintf("power off, %s: read %s to %s", when, book.Name(in.Tip), book.Name(in.Sleeve)),
	}
	switch {
	case mu.halved:
		f.Message = fmt.Sprintf("with only %s plugged in, %s its level reaches %s: %s takes the rest", me, shareOf(mu.how.Level), grid, who)
		f.Cause = fmt.Sprintf("%s is closed then, and no input of %s gets its full level by itself.", contact, grid)
		if !mu.how.Opens {
			f.Cause = fmt.Sprintf("%s is open then, and no input of %s gets its full level by itself.", contact, grid)
		}
	case mu.how.Reach == Shorted:
		f.Message = fmt.Sprintf("%s mutes %s: it shorts %s to ground", who, me, book.Name(in.Tip))
		f.Cause = contact + " is closed then."
	case mu.how.Opens:
		f.Message = fmt.Sprintf("%s mutes %s: it holds the way to %s on ground", who, me, grid)
		f.Cause = contact + " is closed then."
	default:
		f.Message = fmt.Sprintf("%s mutes %s: it cuts %s off from %s", who, me, me, grid)
		f.Cause = contact + " is open then, and the only way led through it."
		f.Action = fmt.Sprintf("lead %s past that contact; mutes shows what each way of plugging in does", me)
	}
	if other, ok := asJack(mu.by.Part); ok && m.net.web.conductor[other.Tip] == m.net.web.conductor[other.Sleeve] {
		f.Action = fmt.Sprintf("take %s off ground: it seems that tip and break contact of %s are exchanged", book.Name(other.Tip), jack)
	}
	f.Cause = join(f.Cause, mu.when.looked())
	switch {
	case mu.alone:
		f.Severity = diag.Fault
		f.Cause += fmt.Sprintf(" Plugged in alone, %s is heard in no position of the switches.", me)
	case !mu.empty:
		f.Severity = diag.Remark
		f.Action = "nothing, if the one input is meant to take the place of the other; mutes shows what each way of plugging in does"
	}
	return f
}

// shareOf says a level in words, before what it is a share of.
func shareOf(level float64) string {
	if math.Abs(level-0.5) < 0.02 {
		return "half of"
	}
	return fmt.Sprintf("%.2g of", level)
}

// settings are the settings in which it is so, the input's own plug in front.
func (mu *muting) settings() []string {
	m := mu.of
	in := m.out.Inputs[mu.input]
	own := in.Plug.Name() + " " + in.Plug.PositionName(m.plugged(1<<mu.input).PositionOf(in.Plug))
	list := []string{own}
	if words := mu.when.settings(); len(words) > 0 {
		list = nil
		for _, w := range words {
			list = append(list, own+", "+w)
		}
	}
	return list
}
