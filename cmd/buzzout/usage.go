package main

import (
	"fmt"
	"strings"
)

// commandHelp is the help on the commands that are no queries, and on the
// command line as a whole.
var commandHelp = map[string]string{
	"": `buzzout keeps the bench notebook of a valve amplifier, and says whether the
wiring is the intended circuit.

  buzzout demo                       try it on a made-up amplifier with mistakes
  buzzout lantern.buzzout            open the shell on a notebook
  buzzout check lantern.buzzout      ask one question
  buzzout about V1 lantern.buzzout   a question with a word
  buzzout ask "todo; joints J1" lantern.buzzout
  buzzout tidy --write lantern.buzzout
  buzzout help about                 all about one word

A question can be asked of several notebooks. "-" is standard input, "--" ends
the flags, and what stands behind it is a notebook whatever its name. Lines piped
to  buzzout FILE  are taken as if they were typed, one after another.

The exit status is 0 if nothing bad was found, 1 if a danger or a fault was, 2 if
the notebook or the command line could not be understood, 3 if the program failed.

`,
	"ask": `buzzout ask "QUESTION; QUESTION" FILE…

  Several questions at once, each as it would be typed in the shell. With --json
  there is one document for all of them:
  {"schema": "buzzout/1", "answers": [ … ]}, one answer for each question and file.
  A fact among them holds for the questions behind it, and is not written; to
  write it, type it in the shell or pipe it to  buzzout FILE.

  For example:  buzzout ask "todo; joints J1" lantern.buzzout
`,
	"tidy": `buzzout tidy [--write | --differences | --check] FILE… | FOLDER…

  One look for a notebook: what belongs together is aligned, and nothing but
  blanks and line ends is changed. Without a flag the tidy text is printed;
  without a file it is read from standard input. A text with mistakes is left alone.

  --write         write the files
  --differences   show what would change; status 1 if anything would
  --check         name the files that would change; status 1 if any would

  For example:  buzzout tidy --write lantern.buzzout
`,
	"demo": `buzzout demo [FOLDER]

  Opens the shell on a made-up amplifier with mistakes in its wiring, in a fresh
  folder for passing things or in the one named. What is in that folder already is kept.

  For example:  buzzout demo
`,
}

// flagHelp lists the flags.
func flagHelp() string {
	var b strings.Builder
	b.WriteString("Flags, before or after the names of files:\n")
	for _, f := range flags {
		if f.line != "" {
			fmt.Fprintf(&b, "  %-14s %s\n", f.name, f.line)
		}
	}
	return b.String()
}
