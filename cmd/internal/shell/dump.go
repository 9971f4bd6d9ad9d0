package shell

import (
	"fmt"
	"strings"

	"buzzout/lang/diag"
)

// Dump shows a stage of the reading, for whoever works on the program: "tree"
// is the statements, "book" what they were resolved to. It promises no form.
func (s *Session) Dump(stage string) string {
	var b strings.Builder
	switch stage {
	case "tree":
		for _, st := range s.file.Statements {
			fmt.Fprintf(&b, "%s %T %q\n", placeText(st.Span()), st, st.Span().Text())
		}
	case "book":
		for _, p := range s.book.Parts {
			fmt.Fprintf(&b, "part %d %s %s", p.Index, p.Ref, p.Kind.Name)
			for _, t := range p.Terminals {
				fmt.Fprintf(&b, " %d=%s", t, s.book.Terminals[t].Name)
			}
			b.WriteByte('\n')
		}
		for _, n := range s.book.Nets {
			fmt.Fprintf(&b, "net %d %s", n.ID, n.Name)
			for _, m := range n.Members {
				fmt.Fprintf(&b, " %s", s.book.Name(m.Terminal))
			}
			b.WriteByte('\n')
		}
		for _, j := range s.bench().Joints {
			fmt.Fprintf(&b, "joint %s %s %s\n", howJoined(j), s.book.Name(j.A), s.book.Name(j.B))
		}
	}
	return lineByLine(b.String())
}

// lineByLine makes a text visible without losing its line ends.
func lineByLine(text string) string {
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = diag.Visible(lines[i])
	}
	return strings.Join(lines, "\n")
}
