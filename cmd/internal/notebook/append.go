package notebook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Append writes one statement of one or more whole lines at the end of the
// notebook, on a line of its own and with the line breaks of the file, and returns nil once it is on disk. After an
// error nothing was recorded; where the error is [ErrChanged], Reload and look
// at the text before trying again.
func (n *Notebook) Append(statement string) error {
	statement = strings.TrimRight(statement, "\r\n")
	if strings.TrimSpace(statement) == "" {
		return errors.New("there is nothing to record")
	}
	if strings.ContainsRune(statement, 0) {
		return errors.New("a notebook cannot hold a NUL character; nothing was recorded")
	}
	if err := n.add(broken(statement+"\n", Break(n.text))); err != nil {
		return fmt.Errorf("%w; nothing was recorded", err)
	}
	return nil
}

// Break is the line break that a text uses: that of its last line, and "\n" for
// a text without any.
func Break(text string) string {
	if i := strings.LastIndexByte(text, '\n'); i > 0 && text[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// broken gives a text other line breaks.
func broken(text, with string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\n", with)
}

// add writes text at the end, in one piece, on a new line.
func (n *Notebook) add(text string) error {
	if err := n.Writable(); err != nil {
		return err
	}
	if n.text != "" && !strings.HasSuffix(n.text, "\n") {
		text = Break(n.text) + text
	}
	if len(n.text)+len(text) > Limit {
		return fmt.Errorf("%s is full: it may hold %d MB", n.path, int64(Limit)/1e6)
	}
	fresh := n.file == nil
	if fresh {
		if err := n.create(); err != nil {
			return err
		}
	} else if err := n.unchanged(); err != nil {
		return err
	}
	if err := n.write(text, fresh); err != nil {
		if fresh {
			n.uncreate()
		}
		return err
	}
	n.text += text
	n.nuls = 0
	return nil
}

// write adds text to the file and waits for the disk; after an error it takes
// back what was written.
func (n *Notebook) write(text string, fresh bool) error {
	if n.nuls > 0 {
		if err := n.file.Truncate(int64(len(n.text))); err != nil {
			return n.cannot("write", err)
		}
		n.nuls = 0
	}
	_, err := n.file.Write([]byte(text))
	if err == nil {
		err = n.file.Sync()
	}
	if err == nil && fresh {
		err = syncFolder(filepath.Dir(n.real))
	}
	if err != nil {
		return n.takeBack(n.cannot("write", err))
	}
	// An editor may have put another file in place meanwhile: then the fact
	// went to one that nobody will read.
	return n.inPlace()
}

// takeBack cuts the file to what it was before a write that failed. Should that
// fail as well, the next write finds the file changed.
func (n *Notebook) takeBack(because error) error {
	err := n.file.Truncate(int64(len(n.text)))
	if err == nil {
		err = n.file.Sync()
	}
	if err != nil {
		return fmt.Errorf("%w; what was half written could not be taken back (%w): look at the last line of %s", because, reason(err), n.path)
	}
	return because
}

// create makes the file, empty and locked.
func (n *Notebook) create() error {
	f, err := os.OpenFile(n.real, os.O_RDWR|os.O_APPEND|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return n.inPlace()
	}
	if err != nil {
		return n.cannot("create", err)
	}
	if held := lock(f); held {
		// Another shell opened it within the moment since it was created: it is
		// theirs now.
		defer f.Close()
		return &LockedError{n.path, holder(f)}
	}
	n.file = f
	return nil
}

// uncreate removes the empty file again.
func (n *Notebook) uncreate() {
	if samePlace(n.file, n.real) == nil {
		os.Remove(n.real)
	}
	n.Close()
}
