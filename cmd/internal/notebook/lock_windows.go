package notebook

import (
	"io/fs"
	"os"

	"golang.org/x/sys/windows"
)

// lockedByte is the offset of the one byte that is locked. Windows keeps others
// from reading what is locked, so it is one that no notebook reaches.
const lockedByte = 1 << 62

// lock takes the file for this process, and reports whether another one holds
// it.
func lock(f file) (held bool) {
	at := &windows.Overlapped{OffsetHigh: lockedByte >> 32}
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, at)
	return err == windows.ERROR_LOCK_VIOLATION || err == windows.ERROR_IO_PENDING
}

// holder is the number of the process that has the file locked: Windows does not
// tell.
func holder(file) int { return 0 }

// putInPlace renames the new file over the old one and gives back the one that
// is in place after it. Neither may be open meanwhile, so the lock is let go for
// that moment.
func putInPlace(fresh *os.File, old file, real string) (file, error) {
	fresh.Close()
	old.Close()
	failed := os.Rename(fresh.Name(), real)
	f, err := os.OpenFile(real, os.O_RDWR|os.O_APPEND, 0)
	if err != nil {
		return nil, err
	}
	lock(f)
	return f, failed
}

// likeOwner does nothing: the new file inherits its permissions from the folder.
func likeOwner(*os.File, fs.FileInfo) {}

// syncFolder does nothing: Windows has no such call.
func syncFolder(string) error { return nil }
