package shell

import "testing"

// A word from a notebook keeps its letters, whatever alphabet they are of.
func TestCapital(t *testing.T) {
	for text, want := range map[string]string{"": "", "blue is": "Blue is", "über": "Über", "ωmega": "Ωmega", "T2.blue": "T2.blue", "\xe9": "\xe9"} {
		if got := capital(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
