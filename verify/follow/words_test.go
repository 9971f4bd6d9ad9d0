package follow

import (
	"fmt"
	"regexp"
	"testing"
)

// TestWords holds that everything a script can meet has a word of its own.
func TestWords(t *testing.T) {
	form := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	check := func(what string, from, last int, of func(int) fmt.Stringer) {
		seen := map[string]bool{}
		for i := from; i <= last; i++ {
			w := of(i).String()
			if !form.MatchString(w) || seen[w] {
				t.Errorf("%s %d is called %q", what, i, w)
			}
			seen[w] = true
		}
		if of(last+1).String() != "" {
			t.Errorf("%s: there are more words than things", what)
		}
	}
	check("meeting", 0, int(Against), func(i int) fmt.Stringer { return Meeting(i) })
	check("step", 1, int(End), func(i int) fmt.Stringer { return StepKind(i) })
	check("electrode", 1, int(ScreenGrid), func(i int) fmt.Stringer { return Electrode(i) })
	check("reason", 1, int(Dead), func(i int) fmt.Stringer { return Reason(i) })
	check("assumption", 1, int(WindingsStart), func(i int) fmt.Stringer { return AssumptionKind(i) })
}
