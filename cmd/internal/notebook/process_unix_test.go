//go:build !windows

package notebook

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// What a process of its own does in these tests: the test program run again with
// the part in NOTEBOOK_TEST_PART and the path as its argument.
var parts = map[string]func(path string){
	"hold":     hold,
	"record":   func(path string) { record(path, 0) },
	"stutter":  func(path string) { record(path, 512) },
	"rewrite":  rewrite,
	"contend":  contend,
	"small":    smallDisk,
	"stranger": stranger,
}

func TestMain(m *testing.M) {
	if part := parts[os.Getenv("NOTEBOOK_TEST_PART")]; part != nil {
		part(os.Args[1])
		return
	}
	os.Exit(m.Run())
}

// A process is one of the parts, running.
type process struct {
	*exec.Cmd
	in  io.WriteCloser
	out *bufio.Reader
}

func start(t *testing.T, part, path string) *process {
	t.Helper()
	p := &process{Cmd: exec.Command(os.Args[0], path)}
	p.Env = append(os.Environ(), "NOTEBOOK_TEST_PART="+part)
	p.Stderr = os.Stderr
	in, err := p.StdinPipe()
	must(t, err)
	out, err := p.StdoutPipe()
	must(t, err)
	p.in, p.out = in, bufio.NewReader(out)
	must(t, p.Start())
	return p
}

// kill ends the process as kill -9 does, and gives the rest of what it said.
func (p *process) kill() string {
	p.Process.Kill()
	b, _ := io.ReadAll(p.out)
	p.Wait()
	return string(b)
}

// all waits for the process and gives what it said.
func (p *process) all(t *testing.T) string {
	t.Helper()
	p.in.Close()
	b, _ := io.ReadAll(p.out)
	must(t, p.Wait())
	return string(b)
}

// hold keeps the notebook open until its input ends.
func hold(path string) {
	_, err := Open(path, Options{})
	fmt.Println(err)
	io.ReadAll(os.Stdin)
}

func TestTwoShells(t *testing.T) {
	path := write(t, "note 1\n")
	p := start(t, "hold", path)
	if line, _ := p.out.ReadString('\n'); line != "<nil>\n" {
		t.Fatal(line)
	}
	_, err := Open(path, Options{})
	want := path + " is open in another shell"
	if _, e := os.Stat("/proc/locks"); e == nil {
		want += fmt.Sprintf(" (process %d)", p.Process.Pid)
	}
	if err == nil || err.Error() != want {
		t.Errorf("it says %v, want %s", err, want)
	}
	open(t, path, Options{ReadOnly: true}) // a question is answered meanwhile
	p.kill()
	open(t, path, Options{}) // and nothing is left behind that would keep us out
}

// The lock goes with the notebook when Undo puts a new file in its place.
func TestTwoShellsAfterUndo(t *testing.T) {
	n := open(t, write(t, "note 1\nnote 2\n"), Options{})
	if _, err := n.Undo(7, 13); err != nil {
		t.Fatal(err)
	}
	p := start(t, "hold", n.Path())
	if line, _ := p.out.ReadString('\n'); !strings.Contains(line, "is open in another shell") {
		t.Errorf("a second shell got in: %s", line)
	}
	p.kill()
}

// fact is number i, of a length that differs: some need several pages.
func fact(i int) string {
	size := i * 7919 % 200
	if i%9 == 0 {
		size += 3 * 4096
	}
	return fmt.Sprintf("note %d %s.", i, strings.Repeat("x", size))
}

// soundFact accepts what fact gives, and nothing shorter.
func soundFact(line string) bool {
	var i int
	if _, err := fmt.Sscanf(line, "note %d ", &i); err != nil {
		return false
	}
	return line == fact(i)
}

// record goes on where the notebook ends, and acknowledges each fact by its
// number. With pieces it writes that many bytes at a time, as a disk might, so that
// a kill tears a fact.
func record(path string, pieces int) {
	n, err := Open(path, Options{})
	if err == nil {
		_, err = n.Recover(soundFact)
	}
	if err == nil && n.Exists() && pieces > 0 {
		n.file = &stuttering{n.file, pieces}
	}
	for i := lastFact(n.Text()) + 1; err == nil; i++ {
		if err = n.Append(fact(i)); err == nil {
			fmt.Println(i)
		}
	}
	fmt.Fprintln(os.Stderr, err)
	os.Exit(1)
}

// A stuttering file writes in pieces.
type stuttering struct {
	file
	pieces int
}

func (f *stuttering) Write(b []byte) (n int, err error) {
	for n < len(b) && err == nil {
		var more int
		more, err = f.file.Write(b[n:min(len(b), n+f.pieces)])
		n += more
		time.Sleep(50 * time.Microsecond)
	}
	return n, err
}

func lastFact(text string) int {
	last := 0
	for line := range strings.Lines(text) {
		fmt.Sscanf(line, "note %d ", &last)
	}
	return last
}

// Kill -9 at any moment loses nothing that was acknowledged.
func TestKilledWhileRecording(t *testing.T) {
	kills := 200
	if testing.Short() {
		kills = 20
	}
	path := filepath.Join(t.TempDir(), "lantern.buzzout") // not there at first
	random := rand.New(rand.NewPCG(1, 2))
	acknowledged, torn, unacknowledged := 0, 0, 0
	before := 0 // facts on disk after the last kill
	for kill := range kills {
		p := start(t, []string{"record", "stutter"}[kill%2], path)
		if kill%4 != 0 { // else it may not even have opened the notebook
			line, _ := p.out.ReadString('\n')
			acknowledged, _ = strconv.Atoi(strings.TrimSpace(line))
		}
		time.Sleep(time.Duration(random.IntN(8000)) * time.Microsecond)
		for line := range strings.Lines(p.kill()) {
			if strings.HasSuffix(line, "\n") {
				acknowledged, _ = strconv.Atoi(strings.TrimSpace(line))
			}
		}
		n, err := Open(path, Options{ReadOnly: true})
		if errors.Is(err, os.ErrNotExist) && acknowledged == 0 {
			continue
		}
		must(t, err)
		text := n.Text()
		n.Close()
		if line, is := n.Torn(); is {
			torn++
			text = strings.TrimSuffix(text, line)
		}
		next := 1
		for line := range strings.Lines(text) {
			if strings.HasPrefix(line, "# torn: ") {
				continue
			}
			if line != fact(next)+"\n" {
				t.Fatalf("after %d kills fact %d reads %.60q", kill+1, next, line)
			}
			next++
		}
		if next <= acknowledged {
			t.Fatalf("after %d kills facts %d to %d are lost, which were acknowledged", kill+1, next, acknowledged)
		}
		if next-1 > max(acknowledged, before)+1 {
			t.Fatalf("after %d kills there is fact %d, while only %d was acknowledged", kill+1, next-1, acknowledged)
		}
		if next-1 > max(acknowledged, before) {
			unacknowledged++
		}
		before = next - 1
	}
	if !testing.Short() && (acknowledged < kills/4 || torn == 0) {
		t.Errorf("only %d facts were recorded, %d torn: the kills came too early to show anything", acknowledged, torn)
	}
	t.Logf("%d facts acknowledged over %d kills; %d times one more was on disk, %d times a torn line", acknowledged, kills, unacknowledged, torn)
}

// rewrite takes the last fact back and records it again, for ever.
func rewrite(path string) {
	n, err := Open(path, Options{Undone: path + ".undone"})
	fmt.Println(err)
	for err == nil {
		text := n.Text()
		at := strings.LastIndex(text, "note ")
		last := strings.TrimSpace(text[at:])
		if _, err = n.Undo(at, len(text)); err == nil {
			err = n.Append(last)
		}
	}
	fmt.Fprintln(os.Stderr, err)
	os.Exit(1)
}

// Kill -9 during an Undo leaves the text before it or the one after it.
func TestKilledWhileUndoing(t *testing.T) {
	kills := 100
	if testing.Short() {
		kills = 10
	}
	rest := strings.Repeat("note 1 "+strings.Repeat("x", 90)+"\n", 200)
	last := "note 2\n"
	path := write(t, rest+last)
	random := rand.New(rand.NewPCG(3, 4))
	without := 0
	for kill := range kills {
		p := start(t, "rewrite", path)
		if line, _ := p.out.ReadString('\n'); line != "<nil>\n" {
			t.Fatal(line)
		}
		time.Sleep(time.Duration(random.IntN(6000)) * time.Microsecond)
		p.kill()
		n, err := Open(path, Options{})
		must(t, err)
		_, err = n.Recover(func(line string) bool { return line+"\n" == last })
		must(t, err)
		switch text := strings.ReplaceAll(n.Text(), "# torn: note\n", ""); text {
		case rest + last:
		case rest:
			without++
			must(t, n.Append(last))
		default:
			t.Fatalf("after %d kills the notebook has %d bytes, ending in %.60q", kill+1, len(text), text[max(0, len(text)-60):])
		}
		n.Close()
		if list, _ := os.ReadDir(filepath.Dir(path)); len(list) > 2 {
			t.Fatal("left in the folder:", list)
		}
	}
	t.Logf("%d times of %d the fact was taken back", without, kills)
}

// contend records ten facts, opening the notebook afresh for each.
func contend(path string) {
	for i := 0; i < 10; {
		n, err := Open(path, Options{})
		if isLocked(err) {
			time.Sleep(100 * time.Microsecond)
			continue
		}
		if err == nil {
			err = n.Append(fmt.Sprintf("note %d/%d", os.Getpid(), i))
			if i%3 == 0 && err == nil {
				err = n.Replace(n.Text() + fmt.Sprintf("note %d/%d again\n", os.Getpid(), i))
			}
			n.Close()
		}
		if err != nil && !errors.Is(err, ErrChanged) && !isLocked(err) {
			fmt.Println(err)
			return
		}
		if err == nil {
			i++
		}
	}
}

// Several shells that want one notebook get it in turn, and none writes over
// another.
func TestContention(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lantern.buzzout")
	var all []*process
	for range 4 {
		all = append(all, start(t, "contend", path))
	}
	for _, p := range all {
		if said := p.all(t); said != "" {
			t.Error(said)
		}
	}
	b, err := os.ReadFile(path)
	must(t, err)
	for _, p := range all {
		for i := range 10 {
			want := fmt.Sprintf("note %d/%d\n", p.Process.Pid, i)
			if strings.Count("\n"+string(b), "\n"+want) != 1 {
				t.Errorf("%q is not there once", want)
			}
		}
	}
	if got, want := strings.Count(string(b), "\n"), 4*14; got != want {
		t.Errorf("%d lines, want %d", got, want)
	}
}
