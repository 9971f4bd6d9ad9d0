package verify

import (
	"cmp"
	"slices"

	"buzzout/lang/diag"
)

// Sort orders findings as they are told: what is only a remark first and what
// is dangerous last, where the eye rests; within that by the place of the
// first fact, then by rule and message.
func Sort(list []Finding) {
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(
			-cmp.Compare(a.Severity, b.Severity),
			diag.ComparePlaces(a.Place(), b.Place()),
			cmp.Compare(a.Rule, b.Rule),
			cmp.Compare(a.Message, b.Message),
		)
	})
}

// Place is where the first of the facts that a finding rests on stands.
func (f *Finding) Place() diag.Place {
	if len(f.Evidence) == 0 {
		return diag.Place{}
	}
	return f.Evidence[0].Place
}
