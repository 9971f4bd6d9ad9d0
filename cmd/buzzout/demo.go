package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"buzzout/cmd/internal/shell"
	"buzzout/examples"
)

// guide is what a person is told at the start of the demo.
const guide = `This is the Lantern 14, an amplifier that nobody has built, with mistakes in its
wiring. It lies in a folder of its own, so that whatever you type does no harm:
%s

Type these lines, one after another. Tab completes, help explains, quit ends.

  check                   the verdict: what is wrong, the worst last
  explain pins-shifted    why one of these matters, and how to check it
  todo                    what is left to wire, place by place
  at V1.2-grid            everything at one pin
  path V1.2-grid R1.2     the way between two points, joint by joint
  follow J1               the way of the signal, and what stops it
  mutes                   which input is heard, for every way of plugging in
  sources T2              who says what of coloured leads, and what would follow
  expect R31              what a meter should read there without power, and why
  try unsolder J1.tip     what that would change, without writing it down
  note "my first line"    a fact, in the file at once; undo takes it back

`

// demo opens the shell on a copy of the example with mistakes, in a folder of
// its own or in one that was named.
func (p *program) demo() shell.Status {
	folder, err := p.demoFolder()
	if err == nil {
		err = copyExamples(folder)
	}
	if err != nil {
		complain(p.err, "cannot lay out the demo: %v", err)
		return shell.NotUnderstood
	}
	// From inside the folder the notebooks go by short names.
	if err := os.Chdir(folder); err != nil {
		complain(p.err, "cannot go to the demo: %v", err)
		return shell.NotUnderstood
	}
	return p.shell(examples.Demo, fmt.Sprintf(guide, "  "+shell.Visible(folder)))
}

func (p *program) demoFolder() (string, error) {
	if len(p.words) == 0 {
		return os.MkdirTemp("", "buzzout-demo-")
	}
	folder := p.words[0]
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return "", err
	}
	return folder, nil
}

// copyExamples writes the example notebooks, and never over anything: what a
// person tried there before is kept.
func copyExamples(folder string) error {
	names, err := fs.Glob(examples.Files, "*.buzzout")
	if err != nil {
		return err
	}
	for _, name := range names {
		text, err := examples.Files.ReadFile(name)
		if err != nil {
			return err
		}
		f, err := os.OpenFile(filepath.Join(folder, name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if os.IsExist(err) {
			continue
		}
		if err != nil {
			return err
		}
		_, err = f.Write(text)
		if closed := f.Close(); err == nil {
			err = closed
		}
		if err != nil {
			return err
		}
	}
	return nil
}
