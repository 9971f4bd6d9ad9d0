package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"buzzout": main})
}

// Whole sessions, each a real process: what is typed or piped, and what a
// person or a script gets back. The first word of a script's name is the
// command that it is about.
func TestScript(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("XDG_STATE_HOME", filepath.Join(env.WorkDir, ".state"))
			env.Setenv("TERM", "xterm")
			env.Setenv("NO_COLOR", "")
			return layOut(filepath.Join(env.WorkDir, "lantern"))
		},
		Condition: func(cond string) (bool, error) {
			// Whoever may do everything is refused nothing.
			if cond == "root" {
				return os.Getuid() == 0, nil
			}
			return false, fmt.Errorf("unknown condition %q", cond)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": status,
			"repeat": repeat,
		},
	})
}

// layOut puts the example notebooks into a folder.
func layOut(folder string) error {
	if err := os.Mkdir(folder, 0o777); err != nil {
		return err
	}
	return copyExamples(folder)
}

// status N COMMAND ARGS: like exec, and the process has to end with that
// status. What it wrote can be looked at as after exec.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command [args]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var ended *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &ended) {
		got = ended.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("%s ended with status %d, want %d", strings.Join(args[1:], " "), got, want)
	}
}

// repeat N TEXT FILE: writes the text so many times into the file. In it \n, \0
// and \e are a line break, a zero byte and an escape character.
func repeat(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: repeat N text file")
	}
	times, err := strconv.Atoi(args[0])
	ts.Check(err)
	text := strings.NewReplacer(`\n`, "\n", `\0`, "\x00", `\e`, "\x1b").Replace(args[1])
	f, err := os.OpenFile(ts.MkAbs(args[2]), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o666)
	ts.Check(err)
	_, err = f.WriteString(strings.Repeat(text, times))
	ts.Check(errors.Join(err, f.Close()))
}
