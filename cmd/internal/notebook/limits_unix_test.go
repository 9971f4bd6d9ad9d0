//go:build !windows

package notebook

import (
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// smallDisk may write files of at most 40 bytes, as on a disk that is full.
func smallDisk(path string) {
	signal.Ignore(syscall.SIGXFSZ)
	limit := syscall.Rlimit{Cur: 40, Max: 40}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		fmt.Println("skip", err)
		return
	}
	n, err := Open(path, Options{})
	for i := 1; err == nil && i < 9; i++ {
		err = n.Append(fmt.Sprintf("note %d xxxx", i))
	}
	fmt.Println(strings.TrimPrefix(err.Error(), "cannot write "+path+": "))
	fmt.Println(strings.TrimPrefix(n.Replace(strings.Repeat("x", 41)).Error(), "cannot write beside "+path+": "))
	fmt.Println(n.Text() == "note 1 xxxx\nnote 2 xxxx\nnote 3 xxxx\n")
}

func TestFullDisk(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lantern.buzzout")
	said := start(t, "small", path).all(t)
	if strings.HasPrefix(said, "skip") {
		t.Skip(said)
	}
	if want := "file too large; nothing was recorded\nfile too large; the notebook is as it was\ntrue\n"; said != want {
		t.Errorf("it says\n%s, want\n%s", said, want)
	}
	wantFile(t, path, "note 1 xxxx\nnote 2 xxxx\nnote 3 xxxx\n")
	if list, _ := os.ReadDir(filepath.Dir(path)); len(list) != 1 {
		t.Error("left in the folder:", list)
	}
}

func TestPipeAndDevice(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	must(t, syscall.Mkfifo(pipe, 0o600))
	for path, want := range map[string]string{pipe: "pipe", os.DevNull: "device"} {
		for _, readOnly := range []bool{false, true} {
			if _, err := Open(path, Options{ReadOnly: readOnly}); err == nil || err.Error() != path+" is a "+want+", not a text file" {
				t.Errorf("%s: %v", path, err)
			}
		}
	}
}

// stranger tries, as somebody who owns nothing here, each notebook of a folder.
func stranger(dir string) {
	for _, name := range []string{"locked-away", "read-only", "no-folder-rights"} {
		path := filepath.Join(dir, name, "lantern.buzzout")
		clean := func(err error) string { return strings.ReplaceAll(fmt.Sprint(err), path, "it") }
		n, err := Open(path, Options{})
		if err != nil {
			fmt.Println(name, "open:", clean(err))
			continue
		}
		fmt.Printf("%s says %q, writable: %s\n", name, n.Text(), clean(n.Writable()))
		fmt.Println(name, "append:", clean(n.Append("note 2")))
		_, err = n.Undo(0, 6)
		fmt.Println(name, "undo:", clean(err))
		n.Close()
	}
	n, err := Open(filepath.Join(dir, "no-folder-rights", "new.buzzout"), Options{})
	if err == nil {
		err = n.Append("note 1")
	}
	fmt.Println("new:", strings.ReplaceAll(err.Error(), n.Path(), "it"))
}

func TestPermissions(t *testing.T) {
	dir, err := os.MkdirTemp("", "notebook")
	must(t, err)
	defer os.RemoveAll(dir)
	must(t, os.Chmod(dir, 0o755))
	for name, mode := range map[string]os.FileMode{"locked-away": 0, "read-only": 0o444, "no-folder-rights": 0o666} {
		must(t, os.Mkdir(filepath.Join(dir, name), 0o755))
		path := filepath.Join(dir, name, "lantern.buzzout")
		must(t, os.WriteFile(path, []byte("note 1\n"), 0o644))
		must(t, os.Chmod(path, mode))
		must(t, os.Chmod(filepath.Dir(path), 0o555))
		defer os.Chmod(filepath.Dir(path), 0o755)
	}
	command := exec.Command(os.Args[0], dir)
	if os.Getuid() == 0 { // root may do anything, so somebody else has to try
		program, err := os.ReadFile(os.Args[0])
		must(t, err)
		mine := filepath.Join(dir, "program")
		must(t, os.WriteFile(mine, program, 0o755))
		command = exec.Command(mine, dir)
		command.Dir = dir
		command.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
	command.Env = append(os.Environ(), "NOTEBOOK_TEST_PART=stranger")
	got, err := command.CombinedOutput()
	if err != nil {
		t.Fatal(err, string(got))
	}
	want := `locked-away open: cannot open it: permission denied
read-only says "note 1\n", writable: it cannot be written (permission denied): the notebook can only be read
read-only append: it cannot be written (permission denied): the notebook can only be read; nothing was recorded
read-only undo: it cannot be written (permission denied): the notebook can only be read; nothing was taken back
no-folder-rights says "note 1\n", writable: <nil>
no-folder-rights append: <nil>
no-folder-rights undo: cannot write beside it: permission denied; nothing was taken back
new: cannot create it: permission denied; nothing was recorded
`
	if string(got) != want {
		t.Errorf("it says\n%s, want\n%s", got, want)
	}
	wantFile(t, filepath.Join(dir, "read-only", "lantern.buzzout"), "note 1\n")
}
