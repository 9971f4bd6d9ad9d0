// Buzzout keeps a bench notebook for somebody who builds valve amplifiers, and
// says whether the wiring is the intended circuit.
//
//	buzzout lantern.buzzout             opens the shell on a notebook
//	buzzout check lantern.buzzout       asks one question
//	buzzout ask "todo; joints J1" lantern.buzzout
//	buzzout demo                        opens the shell on a made-up amplifier with mistakes
//	buzzout help
//
// The exit status is 0 if nothing bad was found, 1 if a danger or a fault was,
// 2 if the notebook or the command line could not be understood, and 3 if the
// program itself failed.
package main

import (
	"fmt"
	"io"
	"os"
	"runtime/debug"

	"buzzout/cmd/internal/console"
	"buzzout/cmd/internal/shell"
)

func main() { os.Exit(int(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, os.Getenv))) }

// A program is one run: where it reads and writes, and what it was asked.
type program struct {
	command
	in       *os.File
	out, err *os.File
	env      func(string) string
	restore  func() // gives the terminal back; nil while nobody has taken it
}

// run is the whole program. It is the one place where a panic is caught.
func run(args []string, in, out, errors *os.File, env func(string) string) (status shell.Status) {
	p := &program{in: in, out: out, err: errors, env: env}
	defer func() {
		failure := recover()
		if failure == nil {
			return
		}
		if p.restore != nil {
			p.restore()
		}
		p.confess(failure, debug.Stack())
		status = shell.Broken
	}()
	var wrong *usage
	if p.command, wrong = parse(args); wrong != nil {
		return p.refuse(wrong)
	}
	return p.do()
}

// confess tells of a panic: a mistake of the program and not of the user.
func (p *program) confess(failure any, stack []byte) {
	fmt.Fprintln(p.err, "buzzout has failed. That is a mistake of the program and not yours; every fact that was acknowledged is in the notebook.")
	if p.env("BUZZOUT_TRACE") == "" {
		fmt.Fprintln(p.err, "With BUZZOUT_TRACE=1 in the environment it tells more, for a report.")
		return
	}
	fmt.Fprintf(p.err, "%v\n%s", failure, stack)
}

// screen is where answers go, and how they look there.
func (p *program) screen() *shell.Screen {
	s := &shell.Screen{
		Out: p.out, Err: p.err, JSON: p.json, Stop: p.stop,
		Width: func() int { return console.Width(p.out) },
	}
	palette := shell.PaletteFor(p.env("TERM"), p.env("COLORTERM"))
	if !p.json && console.ColourWanted(p.out, p.colour, p.env) {
		s.Palette = palette
	}
	if console.ColourWanted(p.err, p.colour, p.env) {
		s.ErrPalette = palette
	}
	return s
}

// complain writes a sentence about the command line or a file.
func complain(to io.Writer, format string, args ...any) {
	fmt.Fprintln(to, "buzzout: "+fmt.Sprintf(format, args...))
}

// version is the module's version as the go command stamped it, and the Go
// that built it.
func version() string {
	v, with := "(development)", ""
	if built, ok := debug.ReadBuildInfo(); ok {
		if built.Main.Version != "" && built.Main.Version != "(devel)" {
			v = built.Main.Version
		}
		with = ", built with " + built.GoVersion
	}
	return "buzzout " + v + with
}
