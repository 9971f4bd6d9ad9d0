package netlist

import (
	"iter"
	"slices"

	"buzzout/lang"
	"buzzout/netlist/parts"
)

// A Fitted is a part as it is at the bench, or in the plan: what does the job
// there, and its figures.
type Fitted struct {
	// Kind does the job. Its terminals and controls are those of the part's
	// own kind, whatever kind it is: see [parts.Kind.StandIn].
	Kind    *parts.Kind
	Figures []lang.Figure // values and ratings
	Words   []string      // plain words, as log or film
	Values  []lang.Figure // for each element of Kind, its own figure; Text is "" where none is known
	Absent  bool          // nothing is in the part's place
}

// AsPlanned is the part as the plan has it.
func (p *Part) AsPlanned() Fitted {
	return Fitted{Kind: p.Kind, Figures: p.Figures, Words: p.Words, Values: p.Values}
}

// Fitted is a part as it is at the bench: as planned, if no fit fact says
// otherwise.
func (b *Bench) Fitted(p *Part) Fitted {
	if f := b.Fittings[p]; f != nil {
		return f.as
	}
	return p.AsPlanned()
}

// Fitted is a part as the harness has it: as planned in the wiring as drawn,
// as fitted in the wiring as built.
func (h *Harness) Fitted(p *Part) Fitted {
	if h.bench == nil {
		return p.AsPlanned()
	}
	return h.bench.Fitted(p)
}

// There gives the parts that are in their places, in their order, each as the
// harness has it.
func (h *Harness) There() iter.Seq2[*Part, Fitted] {
	return func(yield func(*Part, Fitted) bool) {
		for _, p := range h.Book.Parts {
			if as := h.Fitted(p); !as.Absent && !yield(p, as) {
				return
			}
		}
	}
}

// fittedAs reads a part with what a fit fact says of it. What the bench says
// replaces the figures of the same unit; the rest of the part's line stands,
// as long as the kind does.
func fittedAs(p *Part, f *Fitting) Fitted {
	as := p.AsPlanned()
	as.Absent = f.Absent
	if f.Kind == nil && len(f.Figures) == 0 && len(f.Words) == 0 {
		return as
	}
	as.Figures = slices.Clone(f.Figures)
	if f.Kind != nil {
		as.Kind, as.Words = f.Kind.StandIn(p.Kind), nil
	} else {
		for _, old := range p.Figures {
			if !slices.ContainsFunc(f.Figures, func(n lang.Figure) bool { return n.Quantity == old.Quantity }) {
				as.Figures = append(as.Figures, old)
			}
		}
	}
	if len(f.Words) > 0 {
		as.Words = f.Words
	}
	as.Values = as.Kind.Deal(as.Figures)
	return as
}

// Law is how the track of a pot goes, by the plain words of its line.
func (f *Fitted) Law() parts.Law { return parts.LawOf(f.Words) }
