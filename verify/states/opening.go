package states

import (
	"fmt"
	"slices"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

// loadRatio is how many times the ohms that a winding is meant for still count
// as a load: 470 ohm behind a 16 ohm tap keeps the voltage down, a feedback
// resistor does not (common practice, no source).
const loadRatio = 100

// mostLoad parts the windings that drive loudspeakers and lines from those
// that load an anode: in ohms.
const mostLoad = 1000

// A speakerWinding is a winding meant to drive a load.
type speakerWinding struct {
	part *netlist.Part
	name string
	ends []netlist.TerminalID
	ohms float64 // the highest figure of its loads
}

// speakerWindings are the windings whose load the kind tells, and at which no
// anode is.
func speakerWindings(w *Web) []speakerWinding {
	anodes := map[int32]bool{}
	for p, as := range w.Harness.There() {
		for i := range as.Kind.Elements {
			if e := &as.Kind.Elements[i]; e.Type == parts.Triode || e.Type == parts.Pentode {
				anodes[w.conductor[p.Terminals[e.Ends[0]]]] = true
			}
		}
	}
	var list []speakerWinding
	for p, as := range w.Harness.There() {
		for _, winding := range as.Kind.Windings {
			out := speakerWinding{part: p, name: winding.Name}
			for _, v := range as.Kind.Between {
				if v.Verb == "load" && slices.Contains(winding.Ends, v.From) && slices.Contains(winding.Ends, v.To) {
					for _, f := range v.Figures {
						if f.Quantity == lang.Ohms || f.Quantity == lang.Number {
							out.ohms = max(out.ohms, f.Value)
						}
					}
				}
			}
			atAnode := false
			for _, end := range winding.Ends {
				out.ends = append(out.ends, p.Terminals[end])
				atAnode = atAnode || anodes[w.conductor[p.Terminals[end]]]
			}
			if out.ohms > 0 && out.ohms < mostLoad && !atAnode {
				list = append(list, out)
			}
		}
	}
	return list
}

// An opening is a winding that has no load in some settings.
type opening struct {
	winding speakerWinding
	used    []netlist.TerminalID // the ends that something is wired to
	when    Table                // in which nothing loads it
	// turned says that a switch alone takes the load off; an outlet is a way
	// out of the notebook that a load outside may hang on.
	turned bool
	outlet netlist.TerminalID
}

// openings finds the windings that are left without a load in some settings.
func (s side) openings() []opening {
	h := s.harness()
	var list []opening
	for _, winding := range speakerWindings(NewWeb(h, s.Setting)) {
		o := opening{winding: winding, outlet: netlist.NoTerminal}
		w := newWeb(h, s.Setting, loading(h, winding.part, winding.ohms*loadRatio))
		shared := make([]int, w.conductors)
		for id := range s.Book().Terminals {
			if t := &s.Book().Terminals[id]; t.Part != nil && t.Part != winding.part {
				shared[w.conductor[id]]++
			}
		}
		for _, end := range winding.ends {
			if shared[w.conductor[end]] > 0 {
				o.used = append(o.used, end)
			}
		}
		if len(o.used) < 2 {
			continue
		}
		var controls []int
		for i, a := range o.used {
			for _, b := range o.used[:i] {
				controls = append(controls, w.Between(w.conductor[a], w.conductor[b])...)
			}
		}
		slices.Sort(controls)
		loaded := map[string]bool{} // by where the controls stand
		o.when = w.tableWhere(slices.Compact(controls), w.at(s.Setting), func(walk *Walk) bool {
			open := !o.loaded(w, walk)
			if len(loaded) < maxSelections {
				loaded[string(walk.At)] = !open
			}
			return open
		})
		if o.when.Never() {
			continue
		}
		o.turned = w.turnedOff(loaded, s.Setting)
		o.outlet = s.outlet(w, o.used)
		list = append(list, o)
	}
	return list
}

func (o *opening) loaded(w *Web, walk *Walk) bool {
	for i, a := range o.used {
		for _, b := range o.used[:i] {
			if walk.Joined(w.conductor[a], w.conductor[b]) {
				return true
			}
		}
	}
	return false
}

// turnedOff says that some switch, moved by itself, takes the load off, with
// no empty plug in a jack.
func (w *Web) turnedOff(loaded map[string]bool, s netlist.Setting) bool {
	for at, is := range loaded {
		if is || w.emptyPlug([]byte(at), s) {
			continue
		}
		for c := range w.Controls {
			if !w.isSwitch(c) {
				continue
			}
			turned := []byte(at)
			for p := range w.positions(c) {
				turned[c] = byte(p)
				if loaded[string(turned)] {
					return true
				}
			}
		}
	}
	return false
}

// emptyPlug says that in one of the jacks is a plug with nothing on it.
func (w *Web) emptyPlug(at []uint8, s netlist.Setting) bool {
	for c, ref := range w.Controls {
		named := s.PositionOf(ref)
		if isPlug(w.control(c)) && at[c] != 0 && (named.Plug == nil || named.Index != int(at[c])) {
			return true
		}
	}
	return false
}

// outlet is a way out of the notebook that the winding leads to in some
// setting: the tip of a jack, or a part that is not described further.
func (s side) outlet(w *Web, ends []netlist.TerminalID) netlist.TerminalID {
	reached := make([]bool, w.conductors)
	var queue []int32
	for _, e := range ends {
		reached[w.conductor[e]] = true
		queue = append(queue, w.conductor[e])
	}
	ground := w.ground()
	for i := 0; i < len(queue); i++ {
		for k := range w.Contacts {
			c := &w.Contacts[k]
			for _, x := range [2][2]int32{{c.a, c.b}, {c.b, c.a}} {
				if x[0] == queue[i] && !reached[x[1]] {
					reached[x[1]] = true
					queue = append(queue, x[1])
				}
			}
		}
	}
	for _, p := range s.Book().Parts {
		if in, ok := asJack(p); ok && reached[w.conductor[in.Tip]] && !ground[w.conductor[in.Tip]] {
			return in.Tip
		}
	}
	for _, p := range s.Book().Parts {
		for _, t := range p.Terminals {
			if isOutside(p) && reached[w.conductor[t]] && !ground[w.conductor[t]] {
				return t
			}
		}
	}
	return netlist.NoTerminal
}

// plugs says what a jack's position in means here, where one matters.
func (o *opening) plugs() string {
	for _, ref := range o.when.Controls {
		if isPlug(&ref.Part.Kind.Controls[ref.Control]) {
			return "A plug in a jack counts as one with nothing on it, unless the notebook says which plug it is."
		}
	}
	return ""
}

// tell makes a finding of an opening.
func (o *opening) tell(s side) verify.Finding {
	book := s.Book()
	part := o.winding.part
	f := verify.Finding{
		Severity:  diag.Caution,
		Message:   fmt.Sprintf("nothing loads the winding %s of %s %s", o.winding.name, part.Ref, o.when.when()),
		Terminals: o.used, Nets: s.netNames(o.used...), Settings: o.when.settings(),
		Evidence: append([]diag.Note{verify.QuotePart(part), s.quote(o.used[0]), s.quote(o.used[1])}, quoteControls(&o.when)...),
		Cause:    join("An output transformer without a load lets the anodes swing far beyond the supply: the insulation of its primary, the valve holders and the valves can break down.", o.plugs(), o.when.looked()),
		Action: fmt.Sprintf("solder a resistor across %s and %s for good: 220 to 470 ohm, 5 W (common practice, no source)",
			book.Name(o.used[0]), book.Name(o.used[len(o.used)-1])),
		Check: fmt.Sprintf("power off, %s: take the transformer's lead off and read into what it was on; it should not be open", o.when.when()),
	}
	switch {
	case o.when.Always() && o.outlet != netlist.NoTerminal:
		f.Severity = diag.Remark
		f.Message = fmt.Sprintf("the notebook has no load for the winding %s of %s: it hangs on what is connected to %s", o.winding.name, part.Ref, book.Name(o.outlet))
		f.Check = "see that the loudspeaker is connected before the mains is on"
	case o.when.Always():
		f.Message = fmt.Sprintf("nothing ever loads the winding %s of %s", o.winding.name, part.Ref)
		f.Check = fmt.Sprintf("power off: take the transformer's lead off and read into what %s was on; it should not be open", book.Name(o.used[len(o.used)-1]))
	case o.turned:
		f.Severity = diag.Fault
		f.Cause += " A switch alone takes the load off."
	}
	return f
}
