package shell

import (
	"fmt"

	"buzzout/lang/diag"
)

// goneText says that the file is gone, and what can be done about it.
func (s *Session) goneText() string {
	return fmt.Sprintf("%s is gone: another program removed or renamed it. What was known of it is kept here (%s), and nothing is recorded "+
		"until the file is back; save writes it again.", s.name, s.size())
}

// onlyHere reports that the file is gone, so that leaving would lose what was
// known of it, and says so.
func (s *Session) onlyHere(screen *Screen) bool {
	if _, err := s.Refresh(); err != nil || !s.gone {
		return false
	}
	screen.say(s.goneText() + " To leave without it, leave once more.")
	return true
}

func doSave(s *Session, a *asked) (answer, *diag.Diagnostic) {
	if s.store == nil {
		return nil, &diag.Diagnostic{Rule: "cannot-write", Severity: diag.Fault, Place: a.whole,
			Message: "nothing can be saved here: the notebook is not a file"}
	}
	if !s.gone {
		return said{"Every fact is in " + s.name + " already; there is nothing to save."}, nil
	}
	if err := s.store.Restore(); err != nil {
		return nil, &diag.Diagnostic{Rule: "cannot-write", Severity: diag.Fault, Place: a.whole, Message: err.Error()}
	}
	s.gone = false
	return said{fmt.Sprintf("Wrote %s again: %s. Facts are recorded as before.", s.name, s.size())}, nil
}
