package notebook

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A faulty file fails in one way.
type faulty struct {
	file
	writes    int // bytes that are written before the disk is full, or -1
	sync, cut bool
	onSync    func()
}

var errDisk = errors.New("the disk is broken")

func (f *faulty) Write(b []byte) (int, error) {
	if f.writes >= 0 && f.writes < len(b) {
		n, _ := f.file.Write(b[:f.writes])
		return n, errDisk
	}
	return f.file.Write(b)
}

func (f *faulty) Sync() error {
	if f.sync {
		return errDisk
	}
	if f.onSync != nil {
		f.onSync()
	}
	return f.file.Sync()
}

func (f *faulty) Truncate(size int64) error {
	if f.cut {
		return errDisk
	}
	return f.file.Truncate(size)
}

func TestFailedWriteLeavesNothing(t *testing.T) {
	for name, fault := range map[string]faulty{
		"nothing written":   {writes: 0},
		"a part written":    {writes: 4},
		"not on disk":       {writes: -1, sync: true},
		"the line break is": {writes: 1},
	} {
		t.Run(name, func(t *testing.T) {
			n := open(t, write(t, "note 1"), Options{})
			sound := n.file
			fault.file = n.file
			n.file = &fault
			err := n.Append("note 2")
			if !errors.Is(err, errDisk) || !strings.HasSuffix(err.Error(), "; nothing was recorded") {
				t.Error(err)
			}
			wantBoth(t, n, "note 1")
			n.file = sound
			must(t, n.Append("note 3"))
			wantBoth(t, n, "note 1\nnote 3\n")
		})
	}
}

func TestHalfWrittenIsNoticed(t *testing.T) {
	path := write(t, "note 1\n")
	n := open(t, path, Options{})
	sound := n.file
	n.file = &faulty{file: sound, writes: 4, cut: true}
	err := n.Append("note 2")
	if !errors.Is(err, errDisk) || !strings.Contains(err.Error(), "look at the last line of "+path) {
		t.Error(err)
	}
	n.file = sound
	if err := n.Append("note 3"); !errors.Is(err, ErrChanged) {
		t.Error("written after half a fact:", err)
	}
	if changed, err := n.Reload(); !changed || err != nil {
		t.Fatal(changed, err)
	}
	if line, torn := n.Torn(); !torn || line != "note" {
		t.Error(line, torn)
	}
	if kept, err := n.Recover(func(string) bool { return false }); kept || err != nil {
		t.Error(kept, err)
	}
	wantBoth(t, n, "note 1\n# torn: note\n")
}

// A fact that goes to a file no longer in place is not recorded, though the disk
// took it.
func TestReplacedWhileWriting(t *testing.T) {
	path := write(t, "note 1\n")
	n := open(t, path, Options{})
	n.file = &faulty{file: n.file, writes: -1, onSync: func() {
		must(t, os.WriteFile(path+"~", []byte("note \"edited\"\n"), 0o644))
		must(t, os.Rename(path+"~", path))
	}}
	if err := n.Append("note 2"); !errors.Is(err, ErrChanged) {
		t.Error("acknowledged, though nobody will read it:", err)
	}
	if _, err := n.Reload(); err != nil {
		t.Fatal(err)
	}
	must(t, n.Append("note 2"))
	wantBoth(t, n, "note \"edited\"\nnote 2\n")
}

// A first fact that fails leaves no empty file.
func TestFailedFirstFact(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new.buzzout")
	n := open(t, path, Options{})
	must(t, n.create())
	n.file = &faulty{file: n.file, writes: 3}
	if err := n.write("note 1\n", true); !errors.Is(err, errDisk) {
		t.Error(err)
	}
	n.uncreate()
	if _, err := os.Stat(path); err == nil || n.Exists() {
		t.Error("an empty file is left")
	}
	must(t, n.Append("note 2"))
	wantBoth(t, n, "note 2\n")
}
