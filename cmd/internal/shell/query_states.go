package shell

import (
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

func stateQueries() []query {
	return []query{
		{
			name: "why", args: "A B [with CONTROL POSITION, …]", line: "why two points are one conductor, or why not, and in which positions",
			text: "The way from A to B with the fact behind each step, and in which positions of switches, plugs and sockets it holds. " +
				"Where they are not joined: the least that would join them, and the way through parts. " +
				"`with` asks what other positions would change, and names the contact that makes the difference.",
			example: "why J1.tip CH.star with J1 in",
			least:   2, most: -1, takes: []slot{slotTerminal, slotTerminal, slotWith}, run: askWhy,
		},
		{
			name: "mutes", args: "[TERMINAL] [with CONTROL POSITION, …]", line: "which input reaches the first grid, for every way of plugging in, and why",
			text: "For each grid that input jacks lead to: who is heard, who is shorted to ground, who is cut off and who is only divided down, " +
				"with the contacts, the switch or the plug that does it, and the jacks that lead to none as wired. Levels are worked out from the resistances, at 1 kHz. " +
				"Then whether two sources can be plugged in at once and be selected, and the least rewiring that would allow it. With a terminal: the same for that point in place of a grid.",
			example: "mutes",
			most:    -1, takes: []slot{slotMutes, slotWith}, run: askMutes,
		},
		{
			name: "follow", args: "FROM [TO] [with CONTROL POSITION, …]", line: "the way of a signal, stage by stage, from an input to the loudspeaker",
			text: "What it passes, which way up it is behind each stage and why, and where it is fed back: whether the loop calms the amplifier or " +
				"makes it howl. Where it ends in nothing: what stops it, by comparison with the drawing and with other positions of the switches. FROM is a terminal or a jack. " +
				"Signs are worked out at 1 kHz with the slope of typical valves; levels are not.",
			example: "follow J1",
			least:   1, most: -1, takes: []slot{slotAbout, slotMutes, slotWith}, run: askFollow,
		},
	}
}

// draw gives the harness that a question over positions is asked of: the
// wiring as built once anything is soldered, the wiring as drawn before.
func (s *Session) draw() (what string, draw func(netlist.Setting) *netlist.Harness) {
	w := s.wiring()
	if len(w.bench.Joints) > 0 {
		return "On the bench", func(to netlist.Setting) *netlist.Harness { return w.bench.Built(w.meaning, to) }
	}
	return "As drawn", func(to netlist.Setting) *netlist.Harness { return s.book.Planned(w.meaning, to) }
}

// withAsked reads "with J1 in, J2 out" from a word of a question on.
func (s *Session) withAsked(a *asked, from int) (netlist.Setting, *diag.Diagnostic) {
	if from >= len(a.words) {
		return nil, nil
	}
	if !strings.EqualFold(a.word(from), "with") {
		return nil, &diag.Diagnostic{Rule: "bad-question", Severity: diag.Fault, Place: a.place(from),
			Message: "only `with` and positions may follow here", Mend: []string{"write it so: with J1 in, S1 on"}}
	}
	rest := a.words[from+1:]
	if len(rest) == 0 || len(rest)%2 != 0 {
		return nil, &diag.Diagnostic{Rule: "bad-question", Severity: diag.Fault, Place: a.place(len(a.words) - 1),
			Message: "positions come in pairs: a control, and where it stands", Mend: []string{"write it so: with J1 in, S1 on"}}
	}
	var pairs []lang.Pair
	for i := 0; i < len(rest); i += 2 {
		pairs = append(pairs, lang.Pair{Left: rest[i].Word, Right: rest[i+1].Word})
	}
	setting, mistakes := s.book.ReadSetting(pairs)
	if len(mistakes) > 0 {
		return nil, &mistakes[0]
	}
	return setting, nil
}
