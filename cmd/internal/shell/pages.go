package shell

// A page of help on something that is no word of the language.
var helpPages = map[string]struct{ line, text string }{
	"keys": {"the keys of the line editor", `Tab completes what fits at the cursor: after lead a colour, after that the
terminals, after a part's name and a dot the terminals of that part. Twice Tab
shows the list.

Up and Down bring back what was typed before, Ctrl-R searches it. Ctrl-A and
Ctrl-E go to the beginning and the end of the line, Ctrl-W takes a word out.

Ctrl-C gives up the line, or the question that is being answered. In a fact with
an open brace a blank line gives it up as well. Ctrl-D on an empty line ends the
session, as quit does.

Earlier lines are kept in the folder for state, $XDG_STATE_HOME/buzzout or
~/.local/state/buzzout, and nowhere else. --no-history or BUZZOUT_HISTORY=off
keeps none.`},
	"status": {"what the process ends with", `0: nothing bad was found.
1: a danger or a fault was found.
2: the notebook or the command line could not be understood. An answer may then
lack something or follow from the mistake, and says so.
3: the program itself failed.

Of several questions, notebooks or piped lines the worst counts.`},
	"json": {"what --json prints", `Every question can be answered with one JSON document: --json on the command
line. Lists are never null; lines and columns count from one, bytes from zero;
names of fields hold their unit. Fields may be added; none is renamed.

Every document begins with these:

    schema      "buzzout/1"
    query       the question's name, or the first word of a fact
    notebook    as it was named on the command line
    amplifier   its title
    complete    whether the wiring was said to be complete
    status      what the process would end with for this answer alone
    mistakes    what was not understood of the notebook and of the question:
                a list of rule, severity, message, where, notes, mend, nearest

check and compare add these:

    of, rule    what was judged: plan, built or all; one rule or all ("")
    settings    in how many settings of the controls
    findings    a list of rule, severity (danger, fault, caution, remark), todo
                (not wrong, only not done yet), message, terminals, nets,
                settings, where, cause, action, check, under, group, rivals
    summary     danger, fault, caution, remark, todo: how many of each
    joints_made, joints, proven (no smaller explanation exists); check also
                disputed (parts about whose leads sources differ, none
                trusted), compare also served (part, moved): like ends used
                otherwise than drawn

A place in where has file, line, column, byte, text, and fact: the whole
fact where that is more.

The other questions:

    todo        groups (at, kind, items: fit, from, to, net, message, finding)
    parts       parts (ref, kind, values, words, label, where)
    nets        nets (net, terminals, copper, joints_made, joints, pieces,
                where)
    about, at   part, net, kind, terminal: null but for what was asked about
    path        from, to, planned and built (joined, steps: via, to, where)
    joints      joints (how, from, to, colour, label, where)
    readings    readings (red, black, value, with, remark, where, verdict:
                within, out, impossible or not-ohms, reason, ohms, ohms_low,
                ohms_high, ohms_measured, ohms_slack, text), probes_ohms
    expect      harness, with, under, red, black, kind (figure, open, rising,
                one-way), one_conductor, ohms, ohms_low, ohms_high, exact,
                ohms_likely_low, ohms_likely_high, ohms_shown, ohms_shown_low,
                ohms_shown_high, mains, ohms_drawn, differs, probes_ohms,
                shares, chain, parallel, climbs, directions, wipers, unknown,
                cautions; with one terminal, and for a sheet: black, settings,
                rows (nets, charged, and the fields of a reading), cautions.
                An ohms field that is null is over range: no way leads there
    suspect     harness, readings, suspects (probability, explanations:
                probability, faults, text; evidence: red, black, value, where,
                ohms_if_so, ohms_if_sound, weight_bits, wild),
                unlisted_probability, pairs_tried, slips, cleared, unseen,
                not_considered, odds; a fault has kind, part, slip, ohms, odds,
                text, check
    where-next  harness, done (not-done, settled, nothing-more), red, black,
                gain_bits, ohms, ohms_shown, confirms, outcomes (probability,
                ohms_low, ohms_high, means), mains, top, unset, cautions
    identify    part, readings_used, leads (lead, sure: certain, either-way or
                open; end, no_end, choices, phase_only, readings), windings
                (leads, ordered, whole, names, ohms_between, volts_between: low,
                high, null where nothing bounds it), phases (first, second,
                reading), contradictions (message, readings, suspect, why),
                aside (reading, why), assumes, done, next, even, key; what is to
                be read has quantity, red, black, clipped, supply, why, write,
                cautions
    settle      part, sources, steps (method, tests: readings, expected, close;
                doubt), alike, not_told_apart, left (sources, leads),
                without_supply, wired, readings (source, verdict, against),
                cautions
    disputes    disputes (part, kind: sources, meter or wiring; state:
                undecided, settled, reopened or decided-against-readings;
                weight: matters, phase-only or no-matter; message, leads, said:
                source, ends, where; decided, readings_before, readings_since,
                readings_against, judged: source, verdict, against; changed,
                wired_then (not, right or wrong), effects, moved_since, history:
                where, against), markdown
    sources     parts (part, sources; leads: lead, says (source, end, codes:
                code, says, ends, note, status, origins), holds, open, agree;
                trusted, agree (sources, leads), conflicts (sources, leads,
                weight, message), judged; follows: sources, wired_by,
                leads_wired, leads_right, silent, exchanges, effects (kind,
                severity, message, then, leads, was, is, origin), feedback;
                differs, collisions, varies)
    positions   controls (control, now, known, positions)
    facts       facts (number, fact, struck_by, where)
    try, undo   fact, nets, brings, ends (findings), joints_made, joints
    kinds, rules, explain, language, help, notes, history: as printed

A fact that was typed is answered like try, with recorded and message.

Several answers, of ask or of several notebooks, are one document:

    {"schema": "buzzout/1", "answers": [ … ]}`},
}
