package follow

import (
	"fmt"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// StepText says what a step is and does.
func (w *Way) StepText(s *Step) string {
	var say []string
	switch s.Kind {
	case Start, Wire:
	case Series, Attenuator, Coupling, Choke:
		say = append(say, s.Figure.Text)
		if s.Kind == Coupling {
			say = append(say, "couples")
		}
		if len(s.Down) > 0 {
			say = append(say, fmt.Sprintf("with %s to earth behind it", refs(s.Down)))
		}
	case Control:
		if label := s.Part.Label; label != "" {
			say = append(say, "“"+diag.Visible(label)+"”")
		}
		at := fmt.Sprintf("at %.3g %%", s.Turn*100)
		if !s.Set {
			at = "not set, taken at half"
		}
		say = append(say, at)
	case Stage:
		say = append(say, w.stageText(s))
	case Transformer:
		say = append(say, fmt.Sprintf("from %s against %s to %s against %s: %s", w.endName(s.In), w.endName(s.StillIn), w.endName(s.Out), w.endName(s.StillOut), turned(s.Turns)))
	case End:
		if s.Part != nil && s.Part.Label != "" {
			say = append(say, "“"+diag.Visible(s.Part.Label)+"”")
		}
	}
	if s.Kind != Stage && s.Kind != Transformer && s.Passes < 0.9 {
		say = append(say, "leaves "+share(s.Passes))
	}
	if len(s.Beside) > 0 {
		say = append(say, "with "+refs(s.Beside)+" beside it")
	}
	say = nonEmpty(say)
	return strings.Join(say, ", ")
}

func nonEmpty(list []string) []string {
	var out []string
	for _, s := range list {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

func turned(turns bool) string {
	if turns {
		return "turned over"
	}
	return "the same way up"
}

func share(passes float64) string {
	if passes < 0.001 {
		return "less than 0.1 %"
	}
	return fmt.Sprintf("%.2g %%", passes*100)
}

func (w *Way) stageText(s *Step) string {
	switch {
	case s.Driven == Cathode && s.Taken == Anode:
		return "cathode to anode: not turned over, for the cathode moves and not the grid"
	case s.Driven == Cathode:
		return "at its cathode"
	case s.Taken == Cathode:
		return "grid to cathode: the cathode follows the grid"
	}
	in := "grid"
	if s.Driven == ScreenGrid {
		in = "screen grid"
	}
	return in + " to anode: turned over"
}

func refs(list []*netlist.Part) string {
	var names []string
	for _, p := range list {
		names = append(names, p.Ref)
	}
	return parts.Listed(names)
}

// LoopText tells a loop in a sentence or two.
func (w *Way) LoopText(l *Loop) string {
	var b strings.Builder
	kind := "Negative"
	if !l.Negative() {
		kind = "Positive"
	}
	if l.Supply {
		kind += " feedback over the supply"
	} else if l.Local {
		kind += " feedback within the stage"
	} else {
		kind += " feedback"
	}
	if l.Local && len(l.Steps) == 0 {
		var at []string
		for _, e := range l.In {
			at = append(at, w.Point(e.At))
		}
		name, is := electrodeName(l.In[0].Electrode), "is"
		if len(at) > 1 {
			name, is = name+"s", "are"
		}
		fmt.Fprintf(&b, "%s: the %s at %s %s on a winding of %s", kind, name, parts.Listed(at), is, refs(l.Through))
	} else {
		fmt.Fprintf(&b, "%s: from %s", kind, w.Point(l.From))
	}
	through := passed(l)
	if len(through) > 0 {
		fmt.Fprintf(&b, " through %s", parts.Listed(through))
	}
	if !l.Local || len(l.Steps) > 0 {
		fmt.Fprintf(&b, " back to the %s", parts.Listed(w.entries(l)))
	}
	if len(l.Also) > 0 {
		fmt.Fprintf(&b, ", and through %s", refs(l.Also))
	}
	switch {
	case l.Negative():
		b.WriteString(". What comes back works against the signal and calms the amplifier.")
	case l.Howls():
		b.WriteString(". What comes back helps the signal, and more than all of it comes round: the amplifier howls by itself.")
	case l.CanHowl():
		fmt.Fprintf(&b, ". What comes back helps the signal; with %s turned up more than all of it comes round, and the amplifier howls by itself.", refs(l.Up))
	default:
		b.WriteString(". What comes back helps the signal: the amplifier gets louder and less steady.")
	}
	if l.Supply {
		b.WriteString(" The stages share a supply: a resistor and a capacitor to earth between them would part them.")
	} else if !l.Negative() && l.Local && len(l.Steps) == 0 && len(l.In) == 2 {
		fmt.Fprintf(&b, " The leads from %s to the two %ss belong the other way round.", refs(l.Through), electrodeName(l.In[0].Electrode))
	} else if !l.Negative() && len(l.Through) > 0 {
		fmt.Fprintf(&b, " Two leads of one winding of %s exchanged would turn it round.", refs(l.Through))
	}
	return b.String()
}

func electrodeName(e Electrode) string {
	return [...]string{"", "grid", "cathode", "anode", "screen grid"}[e]
}

// AssumptionText tells what was taken to be so.
func (w *Way) AssumptionText(a Assumption) string {
	is, has := "is", "has"
	if len(a.Parts) > 1 || len(a.At) > 1 {
		is, has = "are", "have"
	}
	var at []string
	for _, t := range a.At {
		at = append(at, w.Point(t))
	}
	switch a.Kind {
	case PluggedIn:
		return fmt.Sprintf("For this question a plug is in %s.", refs(a.Parts))
	case ValvesIn:
		return fmt.Sprintf("Out of their holders, and in them for this question: %s.", refs(a.Parts))
	case Powered:
		return "The valves are taken to have their voltages, wherever mains and standby switches stand."
	case HalfTurned:
		return fmt.Sprintf("Nobody has set %s: taken at half travel.", refs(a.Parts))
	case NoFigure:
		return fmt.Sprintf("%s %s no figure and %s taken for something usual.", refs(a.Parts), has, is)
	case SupplyStill:
		return fmt.Sprintf("%s %s taken for a supply, which holds still.", parts.Listed(at), is)
	case EarthAt:
		return fmt.Sprintf("%s is taken for earth.", parts.Listed(at))
	case WindingsStart:
		return fmt.Sprintf("The windings of %s are taken to start at %s, the ends that are named first. If one of them starts at its other end, each sign behind it is the other way about, and so is feedback over it.", refs(a.Parts), parts.Listed(at))
	case FromMemory:
		return fmt.Sprintf("%s %s reckoned with figures from memory.", refs(a.Parts), is)
	case Typical:
		return fmt.Sprintf("%s %s reckoned as %s.", refs(a.Parts), is, a.Of)
	}
	return ""
}

// StopText says where the signal ends and why.
func (w *Way) StopText(s *Stop) string {
	where := ""
	if s.Last != netlist.NoTerminal {
		where = fmt.Sprintf("The signal comes as far as %s. ", w.Point(s.Last))
	}
	why := ""
	switch s.Why {
	case Earthed:
		var over []string
		for _, step := range s.Path {
			over = append(over, w.Point(step.At))
		}
		why = fmt.Sprintf("%s is on earth", w.Point(s.Next))
		if len(over) > 1 {
			why += ", over " + strings.Join(over, " – ")
		}
		why += "."
	case NotJoined:
		why = fmt.Sprintf("%s and %s should be one conductor and are not joined.", w.Point(s.Missing[0]), w.Point(s.Missing[1]))
	case ContactOpen:
		c := &s.Part.Kind.Controls[s.Control.Control]
		var in []string
		for _, p := range s.Contact.Positions {
			in = append(in, c.Positions[p])
		}
		why = fmt.Sprintf("The contact of %s from %s to %s is open: it is closed with %s %s, and %s stands at %s.",
			s.Part.Ref, w.Point(s.Missing[0]), w.Point(s.Missing[1]), c.Name, strings.Join(in, " or "), s.Control.Name(), s.Control.PositionName(w.Setting.PositionOf(s.Control)))
	case NotFitted:
		why = fmt.Sprintf("%s is not fitted.", s.Part.Ref)
	case ValveOut:
		why = fmt.Sprintf("%s is not in its holder.", s.Part.Ref)
	case TurnedDown:
		why = fmt.Sprintf("%s stands at %s and passes nothing.", s.Part.Ref, s.Control.PositionName(w.Setting.PositionOf(s.Control)))
	case NoReturn:
		why = fmt.Sprintf("%s has no way to earth: without a way back no signal goes out.", w.Point(s.Next))
	case NoVoice:
		why = "No loudspeaker lies across a winding."
	case Swallowed:
		why = fmt.Sprintf("Behind %s less than a thousandth is left: the rest goes through %s to earth.", s.Part.Ref, refs(s.Down))
	case Nowhere:
		why = "Nothing leads on from there."
	case NoCurrent:
		why = fmt.Sprintf("%s has no way to earth or to a supply, so that no current flows in %s and it gives nothing on.", w.Point(s.Next), s.Part.Ref)
		if s.Missing[0] != s.Missing[1] {
			why += fmt.Sprintf(" %s and %s should be one conductor and are not joined.", w.Point(s.Missing[0]), w.Point(s.Missing[1]))
		}
	case Unreturned:
		why = fmt.Sprintf("%s has no way to earth or to a supply: no current flows in that winding of %s, and nothing comes out of the others.", w.Point(s.Next), s.Part.Ref)
	case Dead:
		why = fmt.Sprintf("%s gives nothing on: its grid and cathode move together, or it has nothing to work on.", s.Part.Ref)
	default:
		why = "Behind it less than a thousandth is left."
		if s.Next != netlist.NoTerminal {
			why = fmt.Sprintf("Less than a thousandth of it comes to %s.", w.Point(s.Next))
		}
	}
	if len(s.With) > 0 {
		var moves []string
		for _, m := range s.With {
			moves = append(moves, m.Control.Name()+" "+m.Control.PositionName(m.To))
		}
		why += fmt.Sprintf(" As drawn it goes on with %s.", strings.Join(moves, ", "))
	}
	return where + why
}

// Point is a terminal as it is told: a pot's ends by what they are, pins by
// their numbers.
func (w *Way) Point(t netlist.TerminalID) string {
	name := w.Book.Name(t)
	term := &w.Book.Terminals[t]
	if term.Part == nil || term.Index < 0 {
		return diag.Visible(name)
	}
	k := term.Part.Kind
	tracks := 0
	role := ""
	for i := range k.Elements {
		if k.Elements[i].Type != parts.Track {
			continue
		}
		tracks++
		for n, e := range k.Elements[i].Ends {
			if e == term.Index {
				role = parts.Track.Roles()[n]
			}
		}
	}
	switch aliases := k.Terminals[term.Index].Aliases; {
	case role == "":
	case len(aliases) > 0:
		name = term.Part.Ref + "." + aliases[0]
	case tracks == 1:
		name = term.Part.Ref + "." + role
	}
	return diag.Visible(name)
}

// endName is a terminal without its part.
func (w *Way) endName(t netlist.TerminalID) string {
	if t == netlist.NoTerminal {
		return "nothing"
	}
	return diag.Visible(w.Book.Terminals[t].Name)
}

// FaintText says that next to nothing comes round by a loop.
func (w *Way) FaintText(l *Loop) string {
	return fmt.Sprintf("Hardly any feedback: %s from %s back to the %s, and less than a hundredth comes round, which is as good as none. "+
		"A capacitor from there to earth would do that.", leadsBack(passed(l)), w.Point(l.From), parts.Listed(w.entries(l)))
}

func leadsBack(through []string) string {
	if len(through) == 1 {
		return through[0] + " leads"
	}
	return parts.Listed(through) + " lead"
}

// passed are the parts that a loop passes on its way back.
func passed(l *Loop) []string {
	var through []string
	for _, s := range l.Steps {
		name := s.Part.Ref
		if s.Figure.Text != "" {
			name += " " + s.Figure.Text
		}
		through = append(through, name)
	}
	return through
}

// entries are the electrodes at which a loop comes in.
func (w *Way) entries(l *Loop) []string {
	var in []string
	for _, e := range l.In {
		in = append(in, fmt.Sprintf("%s %s", electrodeName(e.Electrode), w.Point(e.At)))
	}
	return in
}
