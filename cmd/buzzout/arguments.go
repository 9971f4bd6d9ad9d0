package main

import (
	"path/filepath"
	"slices"
	"strings"

	"buzzout/cmd/internal/shell"
)

// A command is what a command line asks for.
type command struct {
	name  string   // "shell", "demo", "ask", "tidy", "help", "version", or a query's
	words []string // of the question, or after ask, help and demo
	files []string // notebooks; "-" is standard input

	json, stop, noInput, noHistory bool
	colour                         string // auto, always or never

	write, differences, check bool     // of tidy
	passed                    []string // flags that are words of the question: --csv of expect, --odds of suspect, --markdown of disputes
	dump                      string   // tree or book: for whoever works on the program
}

// A usage is a command line that cannot be understood.
type usage struct {
	message string
	mend    string
}

// An option is a flag of the command line. Those that not every command takes
// name the commands that do.
type option struct {
	name  string
	value func(c *command, v string) bool // nil: it takes no value
	set   func(c *command)
	only  []string
	line  string // what help says of it
}

var flags = []option{
	{name: "--json", set: func(c *command) { c.json = true }, line: "answer with one JSON document"},
	{name: "--color", value: func(c *command, v string) bool {
		c.colour = v
		return v == "auto" || v == "always" || v == "never"
	}, line: "auto, always or never; auto is colour on a terminal"},
	{name: "--no-input", set: func(c *command) { c.noInput = true }, line: "never ask anything; for scripts"},
	{name: "--stop", set: func(c *command) { c.stop = true }, line: "leave at the first line that is not understood"},
	{name: "--no-history", set: func(c *command) { c.noHistory = true }, line: "keep no history of what is typed"},
	{name: "--write", set: func(c *command) { c.write = true }, only: []string{"tidy"}, line: "tidy: write the files"},
	{name: "--differences", set: func(c *command) { c.differences = true }, only: []string{"tidy"}, line: "tidy: show what would change"},
	{name: "--check", set: func(c *command) { c.check = true }, only: []string{"tidy"}, line: "tidy: name the files that would change, and end with status 1"},
	{name: "--csv", set: func(c *command) { c.passed = append(c.passed, "--csv") }, only: []string{"expect"}, line: "expect: many readings as a table of figures"},
	{name: "--odds", set: func(c *command) { c.passed = append(c.passed, "--odds") }, only: []string{"suspect"}, line: "suspect: list the odds that are taken before any reading"},
	{name: "--markdown", set: func(c *command) { c.passed = append(c.passed, "--markdown") }, only: []string{"disputes"}, line: "disputes: a letter to whoever drew the drawing"},
	{name: "--version", set: func(c *command) { c.name = "version" }, line: "the version of the program"},
	{name: "--help", set: func(c *command) { c.name = "help" }, line: "this help"},
	{name: "--dump", value: func(c *command, v string) bool {
		c.dump = v
		return slices.Contains([]string{"tree", "book"}, v)
	}},
}

// ownCommands are those that are no queries.
var ownCommands = []string{"ask", "tidy", "demo", "help"}

// parse reads a command line. Flags may stand before and after operands; after
// "--" everything is an operand, and a notebook.
func parse(args []string) (command, *usage) {
	c := command{colour: "auto"}
	var operands []string
	var after []string // behind "--"
	for i := 0; i < len(args); i++ {
		a := args[i]
		switch {
		case a == "--":
			after = args[i+1:]
			i = len(args)
		case a == "-h":
			c.name = "help"
		case strings.HasPrefix(a, "--"):
			taken, wrong := c.take(a, args[i+1:])
			if wrong != nil {
				return c, wrong
			}
			i += taken
		case len(a) > 1 && a[0] == '-':
			return c, &usage{"there is no flag " + a, "flags are written in full, as --json; the one short flag is -h"}
		default:
			operands = append(operands, a)
		}
	}
	return c, c.operands(operands, after)
}

// take takes one flag, and says how many of the words behind it belong to it.
func (c *command) take(word string, rest []string) (taken int, wrong *usage) {
	name, value, joined := strings.Cut(word, "=")
	i := slices.IndexFunc(flags, func(f option) bool { return f.name == name })
	if i < 0 {
		var names []string
		for _, f := range flags {
			if f.line != "" {
				names = append(names, f.name)
			}
		}
		u := &usage{message: "there is no flag " + name, mend: "buzzout help lists the flags"}
		if near := shell.Nearest(name, names); near != "" {
			u.mend = "nearest name: " + near
		}
		return 0, u
	}
	f := flags[i]
	switch {
	case f.value == nil && joined:
		return 0, &usage{message: name + " takes no value"}
	case f.value == nil:
		f.set(c)
		return 0, nil
	case !joined && len(rest) == 0:
		return 0, &usage{message: name + " needs a value: " + f.line}
	case !joined:
		value, taken = rest[0], 1
	}
	if !f.value(c, value) {
		return 0, &usage{message: name + " cannot be " + value, mend: "it is " + f.line}
	}
	return taken, nil
}

// operands decides what the words of the command line are.
func (c *command) operands(list, after []string) *usage {
	special := c.name // --help or --version
	switch {
	case special == "version":
		return nil
	case special == "help":
		if len(list) > 0 && (shell.IsQuery(list[0]) || slices.Contains(ownCommands, list[0])) {
			c.words = list[:1]
		}
		return nil
	case len(list) == 0 && len(after) == 0:
		return &usage{"which notebook? Give its name, or begin with: buzzout demo", "buzzout help lists what can be asked"}
	case len(list) == 0 || isNotebook(list[0]):
		c.name = "shell"
		c.files = append(list, after...)
		if len(c.files) > 1 {
			return &usage{"the shell opens one notebook at a time", "a question can be asked of several: buzzout check FILE FILE"}
		}
		if c.files[0] == "-" {
			return &usage{"the shell writes facts into its notebook, so it needs a file", "a question can be asked of standard input: buzzout check -"}
		}
		return c.misplaced()
	case !shell.IsQuery(list[0]) && !slices.Contains(ownCommands, list[0]):
		return noCommand(list[0])
	}
	c.name = list[0]
	for _, w := range list[1:] {
		switch {
		case c.name == "demo" || c.name == "help":
			c.words = append(c.words, w)
		case c.name == "tidy" || isNotebook(w):
			c.files = append(c.files, w)
		default:
			c.words = append(c.words, w)
		}
	}
	c.files = append(c.files, after...)
	if wrong := c.misplaced(); wrong != nil {
		return wrong
	}
	c.words = append(c.words, c.passed...)
	return c.complete()
}

// complete looks whether a command has all that it needs.
func (c *command) complete() *usage {
	switch {
	case c.name == "ask" && len(c.words) == 0:
		return &usage{"ask needs questions", `as in: buzzout ask "todo; joints J1" FILE`}
	case c.name == "help" && len(c.words) > 1, c.name == "demo" && len(c.words) > 1:
		return &usage{message: c.name + " takes one word at most"}
	case c.json && (c.name == "tidy" || c.name == "demo" || c.name == "help"):
		return &usage{message: c.name + " has no JSON: --json belongs to questions"}
	case c.name == "tidy" && exclusive(c.write, c.differences, c.check) > 1:
		return &usage{message: "--write, --differences and --check are three different things to do: give one"}
	case c.name == "tidy" || c.name == "demo" || c.name == "help":
		return nil
	case len(c.files) == 0 && !shell.NeedsNotebook(c.name, c.words):
		return nil
	case len(c.files) == 0:
		if u := c.aboutNothing(); u != nil {
			return u
		}
		mend := "a notebook's name ends in .buzzout; another name goes after two dashes: buzzout " + c.name + " -- NAME"
		return &usage{"which notebook? " + c.name + " needs one", mend}
	}
	stdin := 0
	for _, f := range c.files {
		if f == "-" {
			stdin++
		}
	}
	if stdin > 1 {
		return &usage{message: "standard input can be read once"}
	}
	return nil
}

// aboutNothing tells of a word that about does not know without a notebook; nil
// where that is not what is wrong.
func (c *command) aboutNothing() *usage {
	if c.name != "about" || len(c.words) != 1 {
		return nil
	}
	word := shell.Visible(c.words[0])
	u := &usage{"no kind of part that comes with the tool is called " + word + "; for parts, nets and terminals about needs a notebook",
		"as in: buzzout about " + word + " FILE.buzzout"}
	if near := shell.Nearest(c.words[0], shell.KindNames()); near != "" {
		u.mend = "nearest name: " + near
	}
	return u
}

// misplaced tells of a flag that the command does not take.
func (c *command) misplaced() *usage {
	for _, f := range flags {
		if len(f.only) == 0 || slices.Contains(f.only, c.name) {
			continue
		}
		var with command
		f.set(&with)
		if with.write && c.write || with.differences && c.differences || with.check && c.check || slices.Contains(c.passed, f.name) {
			return &usage{message: f.name + " belongs to " + f.only[0]}
		}
	}
	return nil
}

func exclusive(flags ...bool) int {
	n := 0
	for _, f := range flags {
		if f {
			n++
		}
	}
	return n
}

// isNotebook reports whether an operand names a notebook and is not a word of
// a question: by its looks alone, so that the answer does not hang on which
// files there happen to be.
func isNotebook(operand string) bool {
	return operand == "-" || strings.HasSuffix(operand, ".buzzout") || filepath.IsAbs(operand) ||
		strings.HasPrefix(operand, "./") || strings.HasPrefix(operand, "../")
}

func noCommand(word string) *usage {
	if shell.IsTyped(word) {
		return &usage{word + " is typed in the shell, and is no command", "open it with: buzzout FILE.buzzout"}
	}
	names := append(slices.Clone(ownCommands), shell.Queries()...)
	if near := shell.Nearest(word, names); near != "" {
		return &usage{"there is no command " + word, "nearest name: " + near}
	}
	return &usage{"there is no command " + word, "a notebook's name ends in .buzzout; another name goes after two dashes: buzzout -- " + word}
}
