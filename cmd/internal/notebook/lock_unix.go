//go:build !windows

package notebook

import (
	"bufio"
	"errors"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"syscall"
)

// lock takes the file for this process, and reports whether another one holds
// it. A file system without locks keeps nobody apart; that is no reason not to
// work, since every write compares the file with what was read.
func lock(f file) (held bool) {
	for {
		err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if err != syscall.EINTR {
			return err == syscall.EWOULDBLOCK
		}
	}
}

// holder is the number of the process that has the file locked, or zero. Only
// Linux tells, in a list of all locks (proc_locks(5)); its device numbers are
// not always those of stat(2), so a file is known by its inode alone, and one
// that is in the list twice by nothing.
func holder(f file) int {
	st, err := f.Stat()
	if err != nil {
		return 0
	}
	sys, ok := st.Sys().(*syscall.Stat_t)
	if !ok {
		return 0
	}
	list, err := os.Open("/proc/locks")
	if err != nil {
		return 0
	}
	defer list.Close()
	inode := ":" + strconv.FormatUint(uint64(sys.Ino), 10)
	process := 0
	for lines := bufio.NewScanner(list); lines.Scan(); {
		// 1: FLOCK  ADVISORY  WRITE 1234 08:01:5678 0 EOF
		word := strings.Fields(lines.Text())
		if len(word) < 6 || word[1] != "FLOCK" || !strings.HasSuffix(word[5], inode) {
			continue
		}
		if process != 0 {
			return 0
		}
		process, _ = strconv.Atoi(word[4])
	}
	return max(process, 0)
}

// putInPlace renames the new file over the old one and gives back the one that
// is in place after it; the other is closed. The new one is locked first, so that
// nobody finds the name unlocked.
func putInPlace(fresh *os.File, old file, real string) (file, error) {
	lock(fresh)
	if err := os.Rename(fresh.Name(), real); err != nil {
		fresh.Close()
		return old, err
	}
	old.Close()
	return fresh, nil
}

// likeOwner gives the file the owner and group of the old one, where that is
// allowed.
func likeOwner(f *os.File, old fs.FileInfo) {
	if sys, ok := old.Sys().(*syscall.Stat_t); ok {
		_ = f.Chown(int(sys.Uid), int(sys.Gid))
	}
}

// syncFolder has the disk remember which names are in the folder. Some file
// systems cannot be asked to; they answer EINVAL or that it is not supported.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		// A folder one may write but not read: the file itself is on disk.
		if errors.Is(err, fs.ErrPermission) {
			return nil
		}
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	return nil
}
