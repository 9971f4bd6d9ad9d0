package diagnose

// Single faults come first: pairs at once would cost many readings only to
// rule out harmless company. Where no single fault fits, leads on the
// neighbouring place are tried too, parts of any other value, and pairs.

// doubtful is the weight of a fault not on the list from which more is tried.
const doubtful = 0.25

// further are hypotheses that are listed once they are needed.
type further struct {
	listed bool
	hyps   []hypothesis
	rows   []row
}

// widen adds leads on the neighbouring place, parts that have drifted, and the
// pairs that fit best, of the halves asked for.
func (d *Diagnosis) widen(wanted halfKind) {
	leader := d.belief.order[0]
	if !d.further.listed {
		d.further.listed = true
		for _, f := range listFurther(d.now.view, d.known) {
			d.faults = append(d.faults, f)
			h := hypothesis{len(d.faults) - 1, none, f.Odds * d.perOdds}
			if r := d.foretell(h); !d.seenAs(r, nil) {
				d.further.hyps, d.further.rows = append(d.further.hyps, h), append(d.further.rows, r)
			}
		}
	}
	d.fitTurns()
	d.hyps, d.rows = append(d.hyps[:d.basic:d.basic], d.further.hyps...), append(d.rows[:d.basic:d.basic], d.further.rows...)
	// What was foreseen by other hypotheses of these numbers is of no use.
	for i := range d.seen {
		o := &d.seen[i]
		o.foreseen = o.foreseen[:min(len(o.foreseen), d.basic)]
	}
	for _, h := range d.likelyPairs(leader, wanted) {
		d.hyps, d.rows = append(d.hyps, h), append(d.rows, d.foretell(h))
	}
}
