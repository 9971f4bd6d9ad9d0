package notebook

import (
	"fmt"
	"strings"
)

// Nuls is the number of NUL bytes found at the end of the file, which a power
// cut leaves where the disk had made room for a fact but not got it. They are
// not part of Text, and the next write cuts them off.
func (n *Notebook) Nuls() int { return n.nuls }

// Torn gives the last line if it has no line break. Every fact recorded here
// has one; so either a crash cut the line short before it was acknowledged, or
// an editor leaves the last line break out.
func (n *Notebook) Torn() (line string, torn bool) {
	line = n.text[strings.LastIndexByte(n.text, '\n')+1:]
	return line, line != ""
}

// Recover settles a torn last line, so that the next fact cannot run into it:
// where sound accepts the line it gets its line break, else it is put aside as a
// comment. It reports whether the line was kept as it is. NUL bytes after the
// line are cut off. With nothing to settle it does nothing.
func (n *Notebook) Recover(sound func(line string) bool) (kept bool, err error) {
	line, torn := n.Torn()
	if !torn && n.nuls == 0 {
		return true, nil
	}
	if err := n.ready(); err != nil {
		return false, fmt.Errorf("%w; the last line is as it was", err)
	}
	text, kept := n.text, true
	switch {
	case torn && sound(line):
		text += Break(n.text)
	case torn:
		text, kept = text[:len(text)-len(line)]+broken(asComment("torn", line), Break(n.text)), false
	}
	if err := n.replace(text); err != nil {
		return false, fmt.Errorf("%w; the last line is as it was", err)
	}
	return kept, nil
}

// PutAside makes a comment of the bytes from start to end, as Recover does of a
// torn line. It is for a statement of several lines of which a crash left the
// first ones whole: that nothing closes it, only the language knows.
func (n *Notebook) PutAside(start, end int) error {
	err := n.ready()
	if err == nil {
		err = n.replace(without(n.text, start, end, broken(asComment("torn", n.text[start:end]), Break(n.text))))
	}
	if err != nil {
		return fmt.Errorf("%w; the notebook is as it was", err)
	}
	return nil
}
