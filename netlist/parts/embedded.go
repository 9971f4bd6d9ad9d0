package parts

import (
	"embed"
	"strings"
	"sync"
)

//go:embed library/*.buzzout
var files embed.FS

// A group is a file of the library.
type group struct{ name, text string }

// Builtin is the library that comes with the tool. The first call looks
// through the text for where each kind begins; a kind is read when it is
// first asked for.
func Builtin() *Library { return builtin() }

var builtin = sync.OnceValue(func() *Library { return embedded(groups()) })

func groups() []group {
	list, err := files.ReadDir("library")
	if err != nil {
		panic(err)
	}
	var groups []group
	for _, f := range list {
		text, err := files.ReadFile("library/" + f.Name())
		if err != nil {
			panic(err)
		}
		groups = append(groups, group{strings.TrimSuffix(f.Name(), ".buzzout"), string(text)})
	}
	return groups
}
