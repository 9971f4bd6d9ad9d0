package console

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// TestMain runs the test program as a small shell where a test asks for one: the
// editor needs a process and a terminal of its own.
func TestMain(m *testing.M) {
	if os.Getenv("CONSOLE_TEST_SHELL") != "" {
		smallShell()
		return
	}
	os.Exit(m.Run())
}

// smallShell repeats each line it is given. "ask" puts a question, "join" reads
// two lines more and remembers them as one.
func smallShell() {
	// To see what the editor does when the terminal goes, and as a shell does while
	// it works on a line.
	signal.Ignore(syscall.SIGHUP, syscall.SIGINT)
	o := Options{History: os.Getenv("CONSOLE_TEST_HISTORY")}
	if os.Getenv("CONSOLE_TEST_FORCE") != "" {
		o.Force, o.Width = true, 60
	}
	o.Complete = func(before string) (int, []string) {
		start := strings.LastIndexByte(before, ' ') + 1
		if before[start:] == "panic" {
			panic("no words for that")
		}
		return start, []string{"resistor", "reading", "R1", "R2", strings.Repeat("wide", 12) + "1", strings.Repeat("wide", 12) + "2"}
	}
	prompt := "> "
	if p := os.Getenv("CONSOLE_TEST_PROMPT"); p != "" {
		prompt = p
	}
	c, err := Open(o)
	if err != nil {
		fmt.Println("cannot open:", err)
		return
	}
	for {
		line, err := c.Line(prompt)
		switch {
		case errors.Is(err, ErrInterrupt):
			fmt.Printf("[dropped %q]\n", line)
			continue
		case err == io.EOF:
			fmt.Println("[end]")
			fmt.Println("[closed]", c.Close())
			return
		case err != nil:
			fmt.Printf("[error %v]\n", err)
			continue
		}
		switch line {
		case "ask":
			yes, err := c.Ask("Take it back?")
			fmt.Printf("[answer %v %v]\n", yes, err)
		case "join":
			a, _ := c.Line(". ")
			b, _ := c.Line(". ")
			line = a + " " + b
			fallthrough
		default:
			_ = c.Remember(line)
			fmt.Printf("[line %q]\n", line)
		}
	}
}

// A terminal is the outer end of a pseudo-terminal in which a process runs.
type terminal struct {
	t       *testing.T
	outer   *os.File
	inner   *os.File
	command *exec.Cmd
	ended   chan error

	mu   sync.Mutex
	seen bytes.Buffer
	read int // how much of seen was already waited for
}

// startShell runs the small shell in a terminal of some columns.
func startShell(t *testing.T, columns int, env ...string) *terminal {
	t.Helper()
	return startShellInto(t, nil, columns, env...)
}

// startShellInto has the shell write to a file in place of the terminal.
func startShellInto(t *testing.T, output *os.File, columns int, env ...string) *terminal {
	t.Helper()
	if raceDetector {
		t.Skip("the line editor has known races of its own")
	}
	outer, err := os.OpenFile("/dev/ptmx", os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Skip("no pseudo-terminals here: ", err)
	}
	n := 0
	control(outer, func(fd int) {
		if err = unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0); err == nil {
			n, err = unix.IoctlGetInt(fd, unix.TIOCGPTN)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	inner, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	c := &terminal{t: t, outer: outer, inner: inner, ended: make(chan error, 1)}
	c.resize(columns)
	c.command = exec.Command(os.Args[0])
	c.command.Env = append(os.Environ(), "CONSOLE_TEST_SHELL=1", "GORACE=")
	c.command.Env = append(c.command.Env, env...)
	c.command.Stdin, c.command.Stdout, c.command.Stderr = inner, inner, inner
	if output != nil {
		c.command.Stdout = output
	}
	c.command.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := c.command.Start(); err != nil {
		t.Fatal(err)
	}
	go func() { c.ended <- c.command.Wait() }()
	go func() {
		b := make([]byte, 4096)
		for {
			n, err := outer.Read(b)
			c.mu.Lock()
			c.seen.Write(b[:n])
			c.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	t.Cleanup(func() {
		c.command.Process.Kill()
		inner.Close()
		outer.Close()
	})
	return c
}

func (c *terminal) resize(columns int) {
	c.t.Helper()
	control(c.outer, func(fd int) {
		if err := unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ, &unix.Winsize{Row: 24, Col: uint16(columns)}); err != nil {
			c.t.Fatal(err)
		}
	})
}

// press sends keys one after the other, as a person would.
func (c *terminal) press(keys ...string) {
	c.t.Helper()
	for _, k := range keys {
		if _, err := io.WriteString(c.outer, k); err != nil {
			c.t.Fatal(err)
		}
		time.Sleep(8 * time.Millisecond)
	}
}

// edits waits until the line editor has the keys one by one.
func (c *terminal) edits() {
	c.t.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(2 * time.Millisecond) {
		canonical := true
		control(c.inner, func(fd int) {
			if state, err := unix.IoctlGetTermios(fd, unix.TCGETS); err == nil {
				canonical = state.Lflag&unix.ICANON != 0
			}
		})
		if !canonical {
			return
		}
	}
	c.t.Fatal("the line editor does not begin")
}

// want waits until the screen shows a text that it has not shown before.
func (c *terminal) want(text string) {
	c.t.Helper()
	if !c.shows(text, 30*time.Second) {
		c.t.Fatalf("the screen does not show %q but %q", text, c.unread())
	}
}

func (c *terminal) shows(text string, within time.Duration) bool {
	for end := time.Now().Add(within); time.Now().Before(end); time.Sleep(2 * time.Millisecond) {
		c.mu.Lock()
		i := bytes.Index(c.seen.Bytes()[c.read:], []byte(text))
		if i >= 0 {
			c.read += i + len(text)
		}
		c.mu.Unlock()
		if i >= 0 {
			return true
		}
	}
	return false
}

func (c *terminal) unread() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return string(c.seen.Bytes()[c.read:])
}

// leave ends the shell and sees that it ended well, with the terminal as it was.
func (c *terminal) leave() {
	c.t.Helper()
	// A key may be pressed while the line editor still takes in the one before
	// and is lost then, as for a person: who wants to leave presses it again.
	for tries := 0; ; tries++ {
		c.press("\x03", "\x03", "\x04")
		if c.shows("[closed] <nil>", time.Second) {
			break
		}
		if tries == 20 {
			c.t.Fatalf("the shell does not close; the screen shows %q", c.unread())
		}
	}
	select {
	case err := <-c.ended:
		if err != nil {
			c.t.Fatal("the shell ended with", err)
		}
	case <-time.After(10 * time.Second):
		c.t.Fatal("the shell does not end")
	}
	control(c.inner, func(fd int) {
		state, err := unix.IoctlGetTermios(fd, unix.TCGETS)
		if err != nil {
			c.t.Fatal(err)
		}
		if want := uint32(unix.ECHO | unix.ICANON | unix.ISIG); state.Lflag&want != want {
			c.t.Errorf("the terminal is left without echo, lines or signals: %#o", state.Lflag)
		}
	})
}
