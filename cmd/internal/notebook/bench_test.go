package notebook

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A notebook of some 1,500 facts.
var hundredKilobytes = strings.Repeat("lead green R1.1 R2.1 \"a lead of usual length, with a remark\"\n", 1600)

func BenchmarkOpen(b *testing.B) {
	path := filepath.Join(b.TempDir(), "lantern.buzzout")
	if err := os.WriteFile(path, []byte(hundredKilobytes), 0o644); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		n, err := Open(path, Options{ReadOnly: true})
		if err != nil {
			b.Fatal(err)
		}
		n.Close()
	}
}

// Most of it is the disk's time.
func BenchmarkAppend(b *testing.B) {
	path := filepath.Join(b.TempDir(), "lantern.buzzout")
	if err := os.WriteFile(path, []byte(hundredKilobytes), 0o644); err != nil {
		b.Fatal(err)
	}
	n, err := Open(path, Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer n.Close()
	for b.Loop() {
		if err := n.Append("lead green R1.1 R2.1"); err != nil {
			b.Fatal(err)
		}
	}
}
