package notebook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Undo takes the bytes from start to end out of the text, and the line with
// them if nothing else is on it. What was taken out goes to the file
// [Options.Undone], whose name is returned; where that cannot be, it stays in
// the notebook as a comment and kept is empty.
func (n *Notebook) Undo(start, end int) (kept string, err error) {
	if err := n.ready(); err != nil {
		return "", fmt.Errorf("%w; nothing was taken back", err)
	}
	taken := n.text[start:end]
	comment := ""
	if n.keep(taken) {
		kept = n.options.Undone
	} else {
		comment = broken(asComment("undone", taken), Break(n.text))
	}
	if err := n.replace(without(n.text, start, end, comment)); err != nil {
		return "", fmt.Errorf("%w; nothing was taken back", err)
	}
	return kept, nil
}

// Replace puts a new text in place of the old one. Whatever happens, the
// notebook holds one of them, whole.
func (n *Notebook) Replace(text string) error {
	err := n.ready()
	if err == nil {
		err = n.replace(text)
	}
	if err != nil {
		return fmt.Errorf("%w; the notebook is as it was", err)
	}
	return nil
}

// Restore writes the text to its place again where the file is gone, with the
// permissions that it had. A file that is there is not written over: the error
// is an [ErrChanged] if it is another one than was read, and nil if it is not.
func (n *Notebook) Restore() error {
	err := n.Writable()
	if err == nil {
		err = n.inPlace()
	}
	if errors.Is(err, ErrGone) {
		err = n.replace(n.text)
	}
	if err != nil {
		return fmt.Errorf("%w; nothing was written", err)
	}
	return nil
}

// ready returns nil if there is a file, it may be written and it is unchanged.
func (n *Notebook) ready() error {
	if err := n.Writable(); err != nil {
		return err
	}
	return n.unchanged()
}

// without takes text[start:end] out. Comment lines go in before the line it
// stood on, where they cannot swallow what is left of that line.
func without(text string, start, end int, comment string) string {
	lineStart := strings.LastIndexByte(text[:start], '\n') + 1
	lineEnd := len(text)
	if i := strings.IndexByte(text[end:], '\n'); i >= 0 {
		lineEnd = end + i + 1
	}
	before, after := text[lineStart:start], text[end:lineEnd]
	switch {
	case strings.TrimSpace(before+after) == "":
		before, after = "", ""
	case strings.TrimSpace(after) == "":
		before = strings.TrimRight(before, " \t")
		after = strings.TrimLeft(after, " \t")
	}
	return text[:lineStart] + comment + before + after + text[lineEnd:]
}

// asComment makes comment lines of a text.
func asComment(why, text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		fmt.Fprintf(&b, "# %s: %s\n", why, strings.TrimRight(line, "\r\n"))
	}
	return b.String()
}

// keep adds text to the file for what was undone and reports whether it is on
// disk there.
func (n *Notebook) keep(text string) bool {
	name := n.options.Undone
	if name == "" {
		return false
	}
	if st, err := os.Stat(name); err == nil && !st.Mode().IsRegular() {
		return false
	}
	if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
		return false
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o600)
	if err != nil {
		return false
	}
	_, err = fmt.Fprintf(f, "# taken back from %q\n%s\n", n.real, strings.TrimRight(text, "\r\n"))
	return errors.Join(err, f.Sync(), f.Close()) == nil
}

// unfinished is the name under which a new text is written before it is put in
// place. Only the holder of the lock writes it, so one that is found is left
// over from a crash.
func unfinished(real string) string {
	return filepath.Join(filepath.Dir(real), "."+filepath.Base(real)+".unfinished")
}

// replace writes the text to a file beside the notebook, and renames that into
// its place.
func (n *Notebook) replace(text string) error {
	old, err := n.file.Stat()
	if err != nil {
		return n.cannot("write", err)
	}
	name := unfinished(n.real)
	os.Remove(name)
	f, err := os.OpenFile(name, os.O_RDWR|os.O_APPEND|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return fmt.Errorf("cannot write beside %s: %w", n.path, reason(err))
	}
	if err := fill(f, text, old); err != nil {
		f.Close()
		os.Remove(name)
		return fmt.Errorf("cannot write beside %s: %w", n.path, reason(err))
	}
	if n.file, err = putInPlace(f, n.file, n.real); err != nil {
		os.Remove(name)
		return n.cannot("replace", err)
	}
	n.take(text)
	// Should the folder not reach the disk before a power cut, the old text is
	// back: no fact is lost, so that is not an error.
	_ = syncFolder(filepath.Dir(n.real))
	return nil
}

// fill writes the new file and gives it the owner and the permissions of the
// old one.
func fill(f *os.File, text string, old fs.FileInfo) error {
	if _, err := f.WriteString(text); err != nil {
		return err
	}
	likeOwner(f, old)
	if err := f.Chmod(old.Mode().Perm()); err != nil {
		return err
	}
	return f.Sync()
}
