// Package notebook keeps the bench notebook: a text file that a shell adds
// facts to and that an editor may change at any time.
//
// [Open] reads the file; [Notebook.Text] is what it says. [Notebook.Append]
// returns nil only once the fact is on disk; after any error nothing was
// recorded. [Notebook.Undo] takes a fact back, [Notebook.Replace] puts a new
// text in place, [Notebook.Reload] reads again what an editor wrote, and
// [Notebook.Restore] writes a file again that is gone.
//
// # Two shells
//
// The lock is an advisory one on the notebook itself, not on a file beside it:
// it needs no other folder, holds between users, and ends with the process
// that holds it however that dies. Its weakness is that a lock belongs to a
// file and not to its name. Three habits answer that. A new text is locked
// before it is renamed into place, so the name always leads to a locked file.
// Whoever gets a lock looks whether the name still leads to that file. And
// every write first compares the file, byte for byte, with what was read: if an
// editor put another file in its place, the write is refused with [ErrChanged],
// and Reload has to get the lock of the new file. (Windows cannot rename an
// open file: there the lock is let go for the moment of the rename.)
//
// Questions that only read take no lock, so they never wait for a shell.
//
// # After a crash
//
// A fact is written with its line break in one piece and is acknowledged after
// the disk has it. So a crash leaves every acknowledged fact whole, and after
// them at most the beginning of one that was not acknowledged: a last line
// without a line break, or with NUL bytes after it where the disk had made room
// only. The NUL bytes are left out of Text; the shell, which knows the language,
// settles the line with [Notebook.Recover].
package notebook

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Limit is the size in bytes of the largest notebook that is read.
const Limit = 64_000_000

// ErrChanged says that the file on disk is not what was read, so that nothing
// was written. The errors that wrap it say how it differs.
var ErrChanged = errors.New("the notebook was changed by another program")

// ErrGone says that the file which was read is not there any more: removed or
// renamed. What it said is kept. An ErrGone is an [ErrChanged] too.
var ErrGone = fmt.Errorf("%w: it is gone", ErrChanged)

// ErrReadOnly says that the notebook cannot be written. The errors that wrap it
// say why.
var ErrReadOnly = errors.New("the notebook can only be read")

// A LockedError says that another shell has the notebook open.
type LockedError struct {
	Path    string
	Process int // number of the process that has it, zero where the system does not tell
}

func (e *LockedError) Error() string {
	if e.Process == 0 {
		return e.Path + " is open in another shell"
	}
	return fmt.Sprintf("%s is open in another shell (process %d)", e.Path, e.Process)
}

// Options say how a notebook is opened.
type Options struct {
	// ReadOnly is for questions that never write. The file has to be there;
	// no lock is taken.
	ReadOnly bool
	// Undone names the file that keeps what Undo takes out, outside the
	// notebook. Empty, or where it cannot be written, the text stays in the
	// notebook as a comment.
	Undone string
}

// A Notebook is one file of facts. It is for one goroutine at a time.
type Notebook struct {
	path    string // as a person wrote it: what messages say
	real    string // with symbolic links followed: what is renamed
	options Options

	file   file   // nil while there is no file
	text   string // what the file says, without NUL bytes at its end
	nuls   int    // how many of those the file has
	barred error  // why it cannot be written, or nil
}

// A file is what is used of *os.File, so that tests can make it fail.
type file interface {
	io.ReaderAt
	io.WriteCloser
	Fd() uintptr
	Stat() (fs.FileInfo, error)
	Sync() error
	Truncate(size int64) error
}

// Open reads the notebook at path, which has to be a regular file of at most
// [Limit] bytes, and locks it against other shells. A file that is not there is
// an empty notebook; the first Append creates it. A file that may not be
// written opens all the same, and Append says why not. If another shell has it
// the error is a [*LockedError].
func Open(path string, o Options) (*Notebook, error) {
	n := &Notebook{path: path, options: o}
	if err := n.open(); err != nil {
		return nil, err
	}
	return n, nil
}

// Path is the name by which the notebook was opened.
func (n *Notebook) Path() string { return n.path }

// Text is what the notebook says, as last read or written.
func (n *Notebook) Text() string { return n.text }

// Exists reports whether there is a file.
func (n *Notebook) Exists() bool { return n.file != nil }

// Writable returns nil, or the error that wraps [ErrReadOnly] and says why
// nothing can be recorded.
func (n *Notebook) Writable() error {
	if n.options.ReadOnly {
		return fmt.Errorf("%s was opened for questions only: %w", n.path, ErrReadOnly)
	}
	if n.barred != nil {
		return fmt.Errorf("%s cannot be written (%w): %w", n.path, n.barred, ErrReadOnly)
	}
	return nil
}

// Close lets the notebook go, and its lock with it.
func (n *Notebook) Close() error {
	if n.file == nil {
		return nil
	}
	err := n.file.Close()
	n.file = nil
	return err
}

// Reload reads the file again and reports whether it says something else than
// before. After an error the notebook is as it was; so it is where the file is
// gone, which is an [ErrGone] and not an empty notebook.
func (n *Notebook) Reload() (changed bool, err error) {
	before := n.text
	real, err := follow(n.path)
	if err == nil && real == n.real && n.barred == nil && n.inPlace() == nil {
		// Ours and locked already; a second handle could not lock it.
		text, err := read(n.file, n.path)
		if err != nil {
			return false, err
		}
		n.take(text)
		return n.text != before, nil
	}
	old := n.file
	if old != nil {
		if err := n.inPlace(); errors.Is(err, ErrGone) {
			return false, err
		}
	}
	if err := n.open(); err != nil {
		return false, err
	}
	if old != nil {
		old.Close()
	}
	return n.text != before, nil
}

// open opens, locks and reads the file, and only then changes n.
func (n *Notebook) open() error {
	real, err := follow(n.path)
	if err != nil {
		return n.cannot("open", err)
	}
	// An editor, or another shell's Undo, may put a new file in place between
	// our opening and our locking; a few tries outlast any real one.
	for range 20 {
		f, barred, err := openFile(real, n.path, n.options.ReadOnly)
		if errors.Is(err, fs.ErrNotExist) && !n.options.ReadOnly {
			n.real, n.file, n.barred = real, nil, nil
			n.take("")
			return nil
		}
		if err != nil {
			return err
		}
		if barred == nil && !n.options.ReadOnly {
			if held := lock(f); held {
				err := &LockedError{n.path, holder(f)}
				f.Close()
				return err
			}
			if samePlace(f, real) != nil {
				f.Close()
				continue
			}
			os.Remove(unfinished(real)) // left by a Replace that was cut short
		}
		text, err := read(f, n.path)
		if err != nil {
			f.Close()
			return err
		}
		n.real, n.file, n.barred = real, f, barred
		n.take(text)
		return nil
	}
	return fmt.Errorf("%s is being replaced again and again by another program", n.path)
}

// take makes what was read the text.
func (n *Notebook) take(text string) {
	n.text = strings.TrimRight(text, "\x00")
	n.nuls = len(text) - len(n.text)
}

// openFile opens for writing if that may be, else for reading; barred is why it
// may not be written.
func openFile(real, path string, readOnly bool) (f *os.File, barred, err error) {
	// Looked at before it is opened: opening a pipe would wait for its other end.
	if st, err := os.Stat(real); err != nil {
		return nil, nil, cannot("open", path, err)
	} else if err := regular(st, path); err != nil {
		return nil, nil, err
	}
	if !readOnly {
		f, barred = os.OpenFile(real, os.O_RDWR|os.O_APPEND, 0)
	}
	if f == nil {
		if f, err = os.Open(real); err != nil {
			return nil, nil, cannot("open", path, err)
		}
	}
	st, err := f.Stat()
	if err == nil {
		err = regular(st, path)
	}
	if err != nil {
		f.Close()
		return nil, nil, err
	}
	return f, reason(barred), nil
}

// regular says what is wrong with a file that cannot be a notebook.
func regular(st fs.FileInfo, path string) error {
	what := ""
	switch mode := st.Mode(); {
	case mode.IsRegular():
	case mode.IsDir():
		what = "folder"
	case mode&fs.ModeNamedPipe != 0:
		what = "pipe"
	case mode&fs.ModeDevice != 0:
		what = "device"
	default:
		what = "special file"
	}
	if what != "" {
		return fmt.Errorf("%s is a %s, not a text file", path, what)
	}
	if st.Size() > Limit {
		return tooBig(path, st.Size())
	}
	return nil
}

func tooBig(path string, size int64) error {
	return fmt.Errorf("%s is %d MB: a notebook is text of some kilobytes, and %d MB is the most that is read", path, size/1e6, int64(Limit)/1e6)
}

// read gives all the file says.
func read(f file, path string) (string, error) {
	// One byte more than allowed: the size a file states is not always true.
	b, err := io.ReadAll(io.NewSectionReader(f, 0, Limit+1))
	if err != nil {
		return "", cannot("read", path, err)
	}
	if len(b) > Limit {
		return "", tooBig(path, int64(len(b)))
	}
	return string(b), nil
}

// unchanged returns nil if the name still leads to the file that was read and
// the file still says the same. Comparing all of it costs less than a
// millisecond, and unlike its size and date it cannot deceive.
func (n *Notebook) unchanged() error {
	if err := n.inPlace(); err != nil {
		return err
	}
	now, err := read(n.file, n.path)
	if err != nil {
		return err
	}
	if len(now) != len(n.text)+n.nuls || !strings.HasPrefix(now, n.text) || strings.Trim(now[len(n.text):], "\x00") != "" {
		return n.changed("%s was changed by another program since it was read")
	}
	return nil
}

// inPlace returns nil if the name still leads to the file that was read.
func (n *Notebook) inPlace() error {
	if n.file == nil {
		if _, err := os.Lstat(n.real); err == nil {
			return n.changed("%s was made by another program meanwhile")
		}
		return n.changed("%s is not there")
	}
	err := samePlace(n.file, n.real)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &changedError{n.path + " was removed or renamed since it was read", ErrGone}
	case err != nil:
		return n.changed("%s was replaced by another program since it was read")
	}
	return nil
}

func (n *Notebook) changed(format string) error {
	return &changedError{fmt.Sprintf(format, n.path), ErrChanged}
}

// A changedError is an [ErrChanged], or an [ErrGone], in other words.
type changedError struct {
	text string
	is   error
}

func (e *changedError) Error() string { return e.text }
func (e *changedError) Unwrap() error { return e.is }

// samePlace returns nil if the name leads to the open file.
func samePlace(f file, real string) error {
	ours, err := f.Stat()
	if err != nil {
		return err
	}
	theirs, err := os.Stat(real)
	if err != nil {
		return err
	}
	if !os.SameFile(ours, theirs) {
		return ErrChanged
	}
	return nil
}

// follow gives the place a path leads to through symbolic links, also where
// nothing is there yet.
func follow(path string) (string, error) {
	for range 40 { // as many as Linux follows
		st, err := os.Lstat(path)
		if err != nil || st.Mode()&fs.ModeSymlink == 0 {
			break
		}
		to, err := os.Readlink(path)
		if err != nil {
			return "", err
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		path = to
	}
	return filepath.Abs(path)
}

// cannot words an error of the system about the notebook.
func (n *Notebook) cannot(do string, err error) error { return cannot(do, n.path, err) }

func cannot(do, path string, err error) error {
	return fmt.Errorf("cannot %s %s: %w", do, path, reason(err))
}

// reason is what the system says is wrong, without the paths it says it about:
// they may be ones that nobody typed.
func reason(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}
