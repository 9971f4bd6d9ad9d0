package main

import (
	"bytes"
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"buzzout/cmd/internal/shell"
	"buzzout/verify/rules"
	"buzzout/verify/states"
)

var update = flag.Bool("update", false, "write what the program says into README.md")

// TestReadme runs what the README shows. A block of sort "console" is a batch
// command behind "$ " and what it prints; a block of sort "session" begins
// with the command that opens a shell, and then has prompts with what is
// typed, and answers. With -update the answers are written anew.
func TestReadme(t *testing.T) {
	const path = "../../README.md"
	readme, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	bin := filepath.Join(folder, "bin")
	if err := errors.Join(os.Mkdir(bin, 0o777), os.Symlink(self, filepath.Join(bin, "buzzout"))); err != nil {
		t.Fatal(err)
	}
	if err := layOut(filepath.Join(folder, "examples")); err != nil {
		t.Fatal(err)
	}
	run := func(command, stdin string) string {
		c := exec.Command("bash", "-c", command)
		c.Dir = folder
		c.Stdin = strings.NewReader(stdin)
		c.Env = append(os.Environ(), "PATH="+bin+":"+os.Getenv("PATH"), "XDG_STATE_HOME="+filepath.Join(folder, "state"), "NO_COLOR=1")
		out, err := c.CombinedOutput()
		var ended *exec.ExitError
		if err != nil && !errors.As(err, &ended) {
			t.Fatal(err)
		}
		return string(out)
	}
	block := regexp.MustCompile("(?ms)^```(console|session)\n(.*?)^```$")
	shown := block.ReplaceAllStringFunc(string(readme), func(text string) string {
		parts := block.FindStringSubmatch(text)
		var out strings.Builder
		if parts[1] == "console" {
			for line := range strings.Lines(parts[2]) {
				if command, ok := strings.CutPrefix(line, "$ "); ok {
					out.WriteString(line)
					out.WriteString(run(strings.TrimSpace(command), ""))
				}
			}
		} else {
			out.WriteString(session(parts[2], run))
		}
		return "```" + parts[1] + "\n" + out.String() + "```"
	})
	if *update {
		if err := os.WriteFile(path, []byte(shown), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if shown != string(readme) {
		t.Errorf("README.md shows what the program does not say (go test ./cmd/buzzout -run Readme -update writes it anew):\n%s", difference(string(readme), shown))
	}
}

// piped is the place of a complaint in lines that are piped in.
var piped = regexp.MustCompile(`(?m)^input:\d+:`)

// prompts are the lines of a session that were typed.
var prompts = regexp.MustCompile(`(?m)^[a-z-]+> .*\n`)

// session pipes what was typed to the shell, line by line: with one line more
// each time, what is new is the answer to the last.
func session(text string, run func(command, stdin string) string) string {
	command, text, _ := strings.Cut(text, "\n")
	var out, typed strings.Builder
	out.WriteString(command + "\n")
	before := ""
	for _, line := range prompts.FindAllString(text, -1) {
		_, words, _ := strings.Cut(line, "> ")
		typed.WriteString(words)
		// Each run begins with the notebook as it was.
		answer := run("cp -r examples fresh && cd fresh && "+strings.ReplaceAll(strings.TrimPrefix(command, "$ "), "examples/", "")+"; cd .. && rm -r fresh", typed.String())
		out.WriteString(line)
		// A pipe's lines are counted; a person at the prompt has one at a time.
		out.WriteString(piped.ReplaceAllString(strings.TrimPrefix(answer, before), "prompt:1:"))
		before = answer
	}
	return out.String()
}

func difference(want, got string) string {
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range a {
		if i >= len(b) || a[i] != b[i] {
			return strings.Join([]string{"first difference at line", a[i], "the program says", b[min(i, len(b)-1)]}, "\n")
		}
	}
	return "the program says more"
}

// TestReadmeNamesEverything: every question and every rule is in the README,
// and nothing else is in its tables.
func TestReadmeNamesEverything(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	table := func(heading string) []byte {
		_, rest, found := bytes.Cut(readme, []byte("\n## "+heading+"\n"))
		if !found {
			t.Fatalf("no heading %q", heading)
		}
		part, _, _ := bytes.Cut(rest, []byte("\n## "))
		return part
	}
	names := func(part []byte) map[string]bool {
		list := map[string]bool{}
		for _, m := range regexp.MustCompile("(?m)^\\| `([a-z-]+)").FindAllSubmatch(part, -1) {
			list[string(m[1])] = true
		}
		return list
	}
	check := func(heading string, want []string) {
		got := names(table(heading))
		for _, w := range want {
			if !got[w] {
				t.Errorf("%s: `%s` is not there", heading, w)
			}
			delete(got, w)
		}
		for g := range got {
			t.Errorf("%s: `%s` is there, and there is no such thing", heading, g)
		}
	}
	check("What can be asked", shell.QueryNames())
	var list []string
	for _, r := range rules.All() {
		list = append(list, r.Name)
	}
	for _, r := range states.Rules() {
		list = append(list, r.Name)
	}
	check("What is looked for", list)
}
