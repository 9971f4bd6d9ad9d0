package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// From the start of the process to the verdict on the demo.
func BenchmarkProcessToVerdict(b *testing.B) {
	tool := filepath.Join(b.TempDir(), "buzzout")
	if out, err := exec.Command("go", "build", "-o", tool, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	folder := filepath.Join(b.TempDir(), "lantern")
	if err := layOut(folder); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		cmd := exec.Command(tool, "check", "lantern-faults.buzzout")
		cmd.Dir = folder
		if out, err := cmd.Output(); err == nil || cmd.ProcessState.ExitCode() != 1 {
			b.Fatalf("status %d\n%s", cmd.ProcessState.ExitCode(), out)
		}
	}
}

// The same without a notebook: what the program costs by itself.
func BenchmarkProcessAlone(b *testing.B) {
	tool := filepath.Join(b.TempDir(), "buzzout")
	if out, err := exec.Command("go", "build", "-o", tool, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	for b.Loop() {
		if err := exec.Command(tool, "--version").Run(); err != nil {
			b.Fatal(err)
		}
	}
	_ = os.Remove(tool)
}
