package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"buzzout/cmd/internal/console"
	"buzzout/cmd/internal/shell"
)

// do does what the command line asks for.
func (p *program) do() shell.Status {
	switch p.name {
	case "version":
		fmt.Fprintln(p.out, version())
		return shell.Sound
	case "help":
		return p.help()
	case "shell":
		return p.shell(p.files[0], "")
	case "demo":
		return p.demo()
	case "tidy":
		return p.tidy()
	}
	return p.batch()
}

// refuse tells of a command line that cannot be understood.
func (p *program) refuse(u *usage) shell.Status {
	complain(p.err, "%s", u.message)
	if u.mend != "" {
		fmt.Fprintln(p.err, "  "+u.mend)
	}
	return shell.NotUnderstood
}

// help is the same for a person and for a script.
func (p *program) help() shell.Status {
	screen := p.screen()
	word := ""
	if len(p.words) > 0 {
		word = p.words[0]
	}
	if text, own := commandHelp[word]; own {
		fmt.Fprint(p.out, text)
		if word == "" {
			fmt.Fprint(p.out, flagHelp())
			queries, _, _ := shell.Help("", screen.Width(), screen.Palette)
			fmt.Fprintf(p.out, "\n%s", queries)
		}
		return shell.Sound
	}
	text, nearest, found := shell.Help(word, screen.Width(), screen.Palette)
	if !found {
		u := &usage{"help knows nothing of " + word, "see what there is: buzzout help"}
		if nearest != "" {
			u.mend = "nearest name: " + nearest
		}
		return p.refuse(u)
	}
	fmt.Fprint(p.out, text)
	return shell.Sound
}

// shell opens a notebook and talks. before is told to a person first.
func (p *program) shell(file, before string) shell.Status {
	state := console.StateFolder(p.env)
	options := shell.Options{}
	if state != "" {
		options.Undone = filepath.Join(state, "undone.buzzout")
	}
	if folder := filepath.Dir(file); !isFolder(folder) {
		complain(p.err, "cannot open %s: there is no folder %s", file, folder)
		return shell.NotUnderstood
	}
	s, err := shell.Open(file, options)
	if err != nil {
		return p.cannotOpen(err)
	}
	defer s.Close()

	var lines *console.Console
	co := console.Options{
		In: p.in, Out: p.out, Complete: s.CompleteWord, Instead: s.Instead,
		Plain: p.env("TERM") == "dumb",
		// For tests of whole sessions, which give a terminal for input alone.
		Force: p.env("BUZZOUT_PERSON") != "",
	}
	if !p.noHistory && p.env("BUZZOUT_HISTORY") != "off" {
		co.History = console.HistoryFile(p.env)
	}
	if lines, err = console.Open(co); err != nil {
		complain(p.err, "cannot read lines: %v", err)
		return shell.NotUnderstood
	}
	p.restore = lines.Restore
	defer lines.Close()
	if lines.Person() {
		defer leaveTidily(lines.Restore)()
	}
	if lines.Person() && p.noInput {
		return p.refuse(&usage{"the shell asks for lines, and --no-input forbids it", "ask a question instead: buzzout check " + file})
	}
	screen := p.screen()
	if lines.Person() && before != "" {
		fmt.Fprint(p.err, before)
	}
	return s.Converse(lines, screen)
}

func isFolder(name string) bool {
	about, err := os.Stat(name)
	return err == nil && about.IsDir()
}

func (p *program) cannotOpen(err error) shell.Status {
	complain(p.err, "%v", err)
	if shell.IsLocked(err) {
		// Short lines: a terminal breaks a long one in the middle of a word.
		fmt.Fprintln(p.err, "  A notebook is written by one shell at a time.")
		fmt.Fprintln(p.err, "  Questions can be asked all the same: buzzout check FILE")
	}
	return shell.NotUnderstood
}

// batch asks one question, or those of ask, of each notebook.
func (p *program) batch() shell.Status {
	screen := p.screen()
	line := strings.Join(p.words, "; ")
	if p.name != "ask" {
		var wrong *usage
		if line, wrong = questionLine(p.name, p.words); wrong != nil {
			return p.refuse(wrong)
		}
	}
	files := p.files
	if len(files) == 0 {
		files = []string{""} // a question that needs no notebook
	}
	worst := shell.Sound
	var docs []json.RawMessage
	single := len(files) == 1
	for i, file := range files {
		s, status := p.open(file)
		if s == nil {
			worst = max(worst, status)
			continue
		}
		if !p.json && len(files) > 1 {
			if i > 0 {
				fmt.Fprintln(p.out)
			}
			fmt.Fprintf(p.out, "%s\n", shell.Visible(s.Name()))
		}
		if p.dump != "" {
			fmt.Fprint(p.out, s.Dump(p.dump))
			continue
		}
		results := s.Ask(context.Background(), line)
		single = single && len(results) == 1 && p.name != "ask"
		shown := false
		for j := range results {
			worst = max(worst, results[j].Status)
			if p.json {
				docs = append(docs, results[j].Document())
				continue
			}
			answered := results[j].Status < shell.NotUnderstood // else it goes to standard error
			if answered && shown {
				fmt.Fprintln(p.out)
			}
			shown = shown || answered
			screen.Show(&results[j])
			if p.stop && results[j].Status >= shell.NotUnderstood {
				return worst
			}
		}
	}
	if p.json && p.dump == "" {
		p.documents(docs, single)
	}
	return worst
}

// documents prints exactly one document: an answer's own where there is one
// answer, else the list of them.
func (p *program) documents(docs []json.RawMessage, single bool) {
	if single && len(docs) == 1 {
		fmt.Fprintf(p.out, "%s\n", docs[0])
		return
	}
	fmt.Fprintf(p.out, "%s\n", shell.DocumentList(docs))
}

// open reads a notebook for questions.
func (p *program) open(file string) (*shell.Session, shell.Status) {
	switch file {
	case "":
		return shell.FromText("", "", "."), shell.Sound
	case "-":
		text, err := shell.ReadText(p.in)
		if err != nil {
			complain(p.err, "cannot read standard input: %v", err)
			return nil, shell.NotUnderstood
		}
		return shell.FromText("-", text, "."), shell.Sound
	}
	s, err := shell.Open(file, shell.Options{ReadOnly: true})
	if err != nil {
		return nil, p.cannotOpen(err)
	}
	return s, shell.Sound
}

// questionLine makes the line that would be typed at the prompt.
func questionLine(name string, words []string) (string, *usage) {
	if name == "try" && len(words) == 1 {
		return name + " " + words[0], nil // a whole fact, as it stands
	}
	var b strings.Builder
	b.WriteString(name)
	for _, w := range words {
		switch {
		case strings.ContainsAny(w, "\"\n\r"):
			return "", &usage{message: "a word of a question cannot hold quotes or line breaks: " + shell.Visible(w)}
		case w == "" || strings.ContainsAny(w, " \t;{}") || w[0] == '#':
			b.WriteString(` "` + w + `"`)
		default:
			b.WriteString(" " + w)
		}
	}
	return b.String(), nil
}
