package netlist

import (
	"fmt"
	"slices"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist/parts"
)

// An Opener reads the book that a use fact names. from is the name of the
// book with the use fact, path is as written there. An error says in a
// person's words why it cannot be read.
type Opener func(from, path string) (*lang.File, error)

// Build resolves a notebook. open is asked for each book that is used; nil
// refuses them all. Mistakes are in Book.Mistakes, with those of the
// language; the book is usable whatever they are.
func Build(file *lang.File, open Opener) *Book {
	b := &builder{
		Book: &Book{
			Library:    parts.Builtin().With(),
			partByName: map[string]*Part{},
			netByName:  map[string]NetID{},
		},
		open:       open,
		exact:      map[string]TerminalID{},
		drawings:   map[string]*Drawing{},
		untold:     map[string]bool{},
		struckWord: map[*Fact]map[string]bool{},
	}
	b.collect(file, nil)

	// Kinds, parts, colour keys and nets hold whatever their order, so each
	// pass has all that the one before it made.
	b.strikes()
	b.kinds()
	b.parts()
	b.colours()
	b.nets()
	b.prints()
	b.spares()
	b.bench()

	b.reportUnknownParts()
	b.Mistakes = diag.Sort(b.Mistakes)
	return b.Book
}

// builder is a book in the making, with what is needed only until it is made.
type builder struct {
	*Book
	open       Opener
	read       []string // names of the books read, the notebook first
	exact      map[string]TerminalID
	drawings   map[string]*Drawing
	unknown    []*unknownPart
	untold     map[string]bool           // references of parts whose kind is unknown, which has been told
	struckWord map[*Fact]map[string]bool // members that a strike took out of a list
}

// collect puts the facts of a file in order, those of used books where the
// use fact stands. chain is the books that are open, outermost first.
func (b *builder) collect(file *lang.File, chain []string) {
	chain = append(slices.Clip(chain), file.Source.Name)
	b.read = append(b.read, file.Source.Name)
	b.Mistakes = append(b.Mistakes, file.Mistakes...)
	var drawing *Drawing
	for _, s := range file.Statements {
		f, ok := s.(lang.Fact)
		if !ok {
			continue
		}
		fact := &Fact{Index: len(b.Facts), Statement: f, Drawing: drawing}
		b.Facts = append(b.Facts, fact)
		switch f := f.(type) {
		case *lang.Amplifier:
			if b.Title == "" {
				b.Title = f.Title.Text
			}
		case *lang.Drawing:
			drawing = b.drawing(f)
			fact.Drawing = drawing
		case *lang.Use:
			b.use(f, file.Source.Name, chain)
		}
	}
}

func (b *builder) drawing(f *lang.Drawing) *Drawing {
	key := lang.Fold(f.Name.Text)
	d := b.drawings[key]
	if d == nil {
		d = &Drawing{Name: f.Name.Text}
		b.drawings[key] = d
		b.Drawings = append(b.Drawings, d)
	}
	if f.Remark != nil && d.Remark == "" {
		d.Remark = f.Remark.Text
	}
	return d
}

func (b *builder) use(f *lang.Use, from string, chain []string) {
	place := f.Path.Place
	if b.open == nil {
		b.mistake(diag.Diagnostic{Rule: "cannot-use", Place: place,
			Message: fmt.Sprintf("%q cannot be read here: other books are not open to this question", f.Path.Text)})
		return
	}
	used, err := b.open(from, f.Path.Text)
	if err != nil {
		b.mistake(diag.Diagnostic{Rule: "cannot-use", Place: place, Message: err.Error()})
		return
	}
	name := used.Source.Name
	if slices.Contains(chain, name) {
		b.mistake(diag.Diagnostic{Rule: "cannot-use", Place: place,
			Message: fmt.Sprintf("%s is being read already: the books use each other in a ring", name),
			Mend:    []string{"take out one of the `use` lines of the ring"}})
		return
	}
	if slices.Contains(b.read, name) {
		return // one name space: what it says has been heard
	}
	b.collect(used, chain)
}

func (b *builder) mistake(d diag.Diagnostic) {
	if d.Severity == 0 {
		d.Severity = diag.Fault
	}
	b.Mistakes = append(b.Mistakes, d)
}

func (b *builder) kinds() {
	for _, f := range b.Facts {
		if k, ok := f.Statement.(*lang.Kind); ok && f.StruckBy == nil {
			b.Mistakes = append(b.Mistakes, b.Library.Define(k)...)
		}
	}
	b.Mistakes = append(b.Mistakes, b.Library.Settle()...)
}

// expand is the words of a list with ranges written out, each with the place
// of the word that it came from.
func (b *builder) expand(list []lang.Word) []lang.Word {
	for i, w := range list {
		if _, isRange, _ := lang.Expand(w); isRange {
			out := slices.Clone(list[:i])
			for _, w := range list[i:] {
				names, isRange, problem := lang.Expand(w)
				switch {
				case !isRange:
					out = append(out, w)
				case problem != "":
					b.mistake(diag.Diagnostic{Rule: "bad-range", Place: w.Place, Message: problem})
				default:
					for _, name := range names {
						out = append(out, lang.Word{Text: name, Place: w.Place})
					}
				}
			}
			return out
		}
	}
	return list
}
