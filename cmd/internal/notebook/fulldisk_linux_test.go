package notebook

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A disk that is truly full, where this user may make one.
func TestFullFileSystem(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=32k"); err != nil {
		t.Skip("no small disk to be had: ", err)
	}
	defer syscall.Unmount(dir, syscall.MNT_DETACH)
	path := filepath.Join(dir, "lantern.buzzout")
	n, err := Open(path, Options{})
	must(t, err)
	defer n.Close()
	recorded := ""
	for i := 0; ; i++ {
		fact := fmt.Sprintf("note %d %s", i, strings.Repeat("x", 1000))
		if err := n.Append(fact); err != nil {
			if !errors.Is(err, syscall.ENOSPC) || !strings.HasSuffix(err.Error(), "; nothing was recorded") {
				t.Error(err)
			}
			break
		}
		recorded += fact + "\n"
	}
	if len(recorded) < 16_000 {
		t.Errorf("full after %d bytes", len(recorded))
	}
	wantBoth(t, n, recorded)
	if _, err := n.Undo(0, 7); !errors.Is(err, syscall.ENOSPC) {
		t.Error("there is no room for a second copy, yet:", err)
	}
	wantBoth(t, n, recorded)
	if left, _ := filepath.Glob(filepath.Join(dir, ".*")); len(left) > 0 {
		t.Error("left on the full disk:", left)
	}
}
