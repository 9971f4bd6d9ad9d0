package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"buzzout/cmd/internal/notebook"
	"buzzout/cmd/internal/shell"
)

// tidy gives notebooks their one look.
func (p *program) tidy() shell.Status {
	if len(p.files) == 0 {
		p.files = []string{"-"}
	}
	var files []string
	for _, name := range p.files {
		found, err := notebooksIn(name)
		if err != nil {
			complain(p.err, "%v", err)
			return shell.NotUnderstood
		}
		files = append(files, found...)
	}
	worst := shell.Sound
	for _, name := range files {
		worst = max(worst, p.tidyOne(name))
	}
	return worst
}

// notebooksIn gives a file as it is, and of a folder the notebooks in it.
func notebooksIn(name string) ([]string, error) {
	if name == "-" || !isFolder(name) {
		return []string{name}, nil
	}
	found, err := filepath.Glob(filepath.Join(escapeGlob(name), "*.buzzout"))
	if err != nil {
		return nil, err
	}
	if len(found) == 0 {
		return nil, fmt.Errorf("there is no notebook in %s", name)
	}
	slices.Sort(found)
	return found, nil
}

// escapeGlob keeps what a folder's name holds from being read as a pattern.
func escapeGlob(name string) string {
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(name)
}

func (p *program) tidyOne(name string) shell.Status {
	text, book, status := p.readForTidy(name)
	if status != shell.Sound {
		return status
	}
	if book != nil {
		defer book.Close()
	}
	tidy, mistakes := shell.Tidy(name, text)
	if len(mistakes) > 0 {
		p.screen().Complaints(mistakes)
		complain(p.err, "%s is left as it is: a text with mistakes is not tidied", shell.Visible(name))
		return shell.NotUnderstood
	}
	same := tidy == text
	switch {
	case p.check:
		if !same {
			fmt.Fprintln(p.out, shell.Visible(name))
			return shell.Bad
		}
	case p.differences:
		if !same {
			fmt.Fprint(p.out, differences(name, text, tidy))
			return shell.Bad
		}
	case p.write && name == "-":
		return p.refuse(&usage{message: "standard input cannot be written to"})
	case p.write:
		if same {
			return shell.Sound
		}
		if err := book.Replace(tidy); err != nil {
			complain(p.err, "%v", err)
			return shell.NotUnderstood
		}
		fmt.Fprintln(p.out, shell.Visible(name))
	default:
		fmt.Fprint(p.out, tidy)
	}
	return shell.Sound
}

// readForTidy reads a text; the notebook is given where it will be written.
func (p *program) readForTidy(name string) (string, *notebook.Notebook, shell.Status) {
	if name == "-" {
		text, err := shell.ReadText(p.in)
		if err != nil {
			complain(p.err, "cannot read standard input: %v", err)
			return "", nil, shell.NotUnderstood
		}
		return text, nil, shell.Sound
	}
	if _, err := os.Stat(name); err != nil {
		complain(p.err, "cannot read %s: there is no such file", shell.Visible(name))
		return "", nil, shell.NotUnderstood
	}
	book, err := notebook.Open(name, notebook.Options{ReadOnly: !p.write})
	if err != nil {
		return "", nil, p.cannotOpen(err)
	}
	return book.Text(), book, shell.Sound
}
