package shell

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// A shelf reads the books that a notebook takes in with use. All of them lie
// in the folder of the first notebook or below it: a notebook that somebody
// sent can not read the rest of the machine, neither by name nor through a
// link.
type shelf struct {
	folder string // of the first notebook, as the person named it
	books  map[string]*shelved
}

// A shelved book is one that was read, with what the file was then.
type shelved struct {
	file   *lang.File
	inside string // its path from the folder
	about  fs.FileInfo
}

func newShelf(folder string) *shelf {
	return &shelf{folder: folder, books: map[string]*shelved{}}
}

// open is the netlist.Opener of the shelf. Its errors are sentences that stand
// alone.
func (s *shelf) open(from, wanted string) (*lang.File, error) {
	book, err := s.find(from, wanted)
	if err != nil {
		return nil, fmt.Errorf("“%s” cannot be read: %w", wanted, err)
	}
	return book, nil
}

// find reads a book, once however often it is asked for.
func (s *shelf) find(from, wanted string) (*lang.File, error) {
	if strings.ContainsAny(wanted, "\x00\\") {
		return nil, errors.New(`a path is written with "/", and without control characters`)
	}
	if path.IsAbs(wanted) || filepath.IsAbs(wanted) || filepath.VolumeName(wanted) != "" {
		return nil, errors.New("a path begins at the book that uses it, so it may not begin at the root of the disk")
	}
	name := filepath.Join(filepath.Dir(from), filepath.FromSlash(wanted))
	inside, err := filepath.Rel(s.folder, name)
	if err != nil || !filepath.IsLocal(inside) {
		return nil, fmt.Errorf("it lies outside %s, the folder of the first notebook", folderName(s.folder))
	}
	if book, read := s.books[name]; read {
		return book.file, nil
	}
	text, about, err := s.read(inside)
	if err != nil {
		return nil, err
	}
	book := &shelved{lang.Parse(diag.NewSource(name, text), questionWords()...), inside, about}
	book.file.Source.Position(0) // see Session.take
	s.books[name] = book
	return book.file, nil
}

// stale names a used book whose file has changed since it was read; "" is
// none. Of several it is the first by name.
func (s *shelf) stale() string {
	first := ""
	for name, book := range s.books {
		now, err := os.Stat(filepath.Join(s.folder, book.inside))
		same := err == nil && now.Size() == book.about.Size() && now.ModTime().Equal(book.about.ModTime())
		if !same && (first == "" || name < first) {
			first = name
		}
	}
	return first
}

// forget has every book read again.
func (s *shelf) forget() { s.books = map[string]*shelved{} }

func (s *shelf) read(inside string) (string, fs.FileInfo, error) {
	root, err := os.OpenRoot(s.folder)
	if err != nil {
		return "", nil, plainError(err)
	}
	defer root.Close()
	// Looked at before it is opened: opening a pipe would wait for its other end.
	about, err := root.Stat(inside)
	if err != nil {
		if !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, fs.ErrPermission) {
			if _, direct := os.Stat(filepath.Join(s.folder, inside)); direct == nil {
				return "", nil, fmt.Errorf("it leads through a link out of %s, the folder of the first notebook", folderName(s.folder))
			}
		}
		return "", nil, plainError(err)
	}
	switch {
	case about.IsDir():
		return "", nil, errors.New("it is a folder")
	case !about.Mode().IsRegular():
		return "", nil, errors.New("it is a device or a pipe and not a file")
	case about.Size() > lang.MaxSize:
		return "", nil, tooLong(about.Size())
	}
	file, err := root.Open(inside)
	if err != nil {
		return "", nil, plainError(err)
	}
	defer file.Close()
	text, err := ReadText(file)
	return text, about, err
}

// ReadText reads a notebook to its end, as from standard input.
func ReadText(from io.Reader) (string, error) {
	text, err := io.ReadAll(io.LimitReader(from, lang.MaxSize+1))
	switch {
	case err != nil:
		return "", plainError(err)
	case len(text) > lang.MaxSize:
		return "", tooLong(0)
	}
	return string(text), nil
}

func tooLong(size int64) error {
	const most = lang.MaxSize >> 20
	if size == 0 {
		return fmt.Errorf("it is longer than %d MiB, and more than that is not read", most)
	}
	return fmt.Errorf("it is %d MiB long, and more than %d MiB is not read", (size+1<<20-1)>>20, most)
}

// plainError says in a person's words why a file cannot be used, without the
// name of the call that failed: the path is told by whoever knows how the
// person named it.
func plainError(err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("there is no such file")
	case errors.Is(err, fs.ErrPermission):
		return errors.New("permission to read it is refused")
	}
	var inner *fs.PathError
	if errors.As(err, &inner) {
		return inner.Err
	}
	return err
}

func folderName(folder string) string {
	if folder == "." || folder == "" {
		return "this folder"
	}
	return folder
}
