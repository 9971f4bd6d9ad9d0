package console

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

const (
	historyEntries = 500     // kept; older ones are dropped at the start of a session
	historyBytes   = 1 << 20 // read from the end of the file; the rest is dropped with the old ones
)

// StateFolder is the folder for what is kept between sessions and is neither
// data nor settings, by the XDG Base Directory Specification:
// $XDG_STATE_HOME/buzzout, else $HOME/.local/state/buzzout. A relative path in
// the environment is ignored, as it says; without either it is empty.
func StateFolder(env func(string) string) string {
	if dir := env("XDG_STATE_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "buzzout")
	}
	for _, name := range []string{"HOME", "USERPROFILE"} { // Windows has the second
		if home := env(name); filepath.IsAbs(home) {
			return filepath.Join(home, ".local", "state", "buzzout")
		}
	}
	return ""
}

// HistoryFile is the file of earlier statements in the state folder, or empty if
// there is no such folder.
func HistoryFile(env func(string) string) string {
	dir := StateFolder(env)
	if dir == "" {
		return ""
	}
	return filepath.Join(dir, "history")
}

// A history is what was typed before, oldest first. The line editor is only shown
// it: the editor would write its file readable for all, and lose a statement
// that was recalled and carried on over several lines.
type history struct {
	path    string // empty keeps it for as long as the console is open
	entries []string
}

// openHistory reads the file, making it and its folder for this user alone, and
// cuts it to the entries that are kept.
func openHistory(path string) (*history, error) {
	h := &history{path: path}
	if path == "" {
		return h, nil
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return h, err
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		h.path = real
	}
	st, err := os.Stat(h.path)
	if errors.Is(err, fs.ErrNotExist) {
		return h, nil
	}
	if err == nil && !st.Mode().IsRegular() {
		err = errors.New("the history is not a regular file")
	}
	if err != nil {
		h.path = ""
		return h, err
	}
	text, err := tail(h.path, historyBytes)
	if err != nil {
		return h, err
	}
	whole := int64(len(text)) == st.Size()
	if !whole {
		// The first line is the end of one.
		_, text, _ = strings.Cut(text, "\n")
	}
	all := 0
	for line := range strings.Lines(text) {
		all++
		h.push(oneLine(line))
	}
	if all > historyEntries || !whole {
		return h, h.rewrite()
	}
	if st.Mode().Perm()&0o077 != 0 {
		_ = os.Chmod(h.path, 0o600) // where it is ours
	}
	return h, nil
}

// push adds an entry, unless it is blank or the same as the last, and reports
// whether it did.
func (h *history) push(entry string) bool {
	if entry == "" || len(h.entries) > 0 && h.entries[len(h.entries)-1] == entry {
		return false
	}
	h.entries = append(h.entries, entry)
	if extra := len(h.entries) - historyEntries; extra > 0 {
		h.entries = slices.Delete(h.entries, 0, extra)
	}
	return true
}

// add pushes an entry and writes it to the file. Several shells may do so at the
// same time, so each entry is one write at the end.
func (h *history) add(statement string) error {
	entry := oneLine(statement)
	if !h.push(entry) || h.path == "" {
		return nil
	}
	f, err := os.OpenFile(h.path, os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	_, err = f.WriteString(entry + "\n")
	return errors.Join(err, f.Close())
}

// rewrite replaces the file by the entries.
func (h *history) rewrite() error {
	f, err := os.CreateTemp(filepath.Dir(h.path), "history-*") // for this user alone
	if err != nil {
		return err
	}
	_, err = f.WriteString(strings.Join(h.entries, "\n") + "\n")
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), h.path)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}

// oneLine makes an entry of a statement: what is recalled goes to the screen, so
// no control character is left in it.
func oneLine(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r < 0xa0 {
			return ' '
		}
		return r
	}, s)
	return strings.TrimSpace(s)
}

// tail reads at most n bytes from the end of a file.
func tail(path string, n int64) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	st, err := f.Stat()
	if err != nil {
		return "", err
	}
	from := max(0, st.Size()-n)
	b, err := io.ReadAll(io.NewSectionReader(f, from, st.Size()-from))
	return string(b), err
}
