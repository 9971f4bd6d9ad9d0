package states

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// An arrangement is a notebook of testdata/arrangements with the tables that
// stand in its comments, written by hand:
//
//	# points: J1.tip V1.g GND
//	# setting         | joined
//	# J1 out          | J1.tip GND
//	# J1 in           | none
//
// Of the points, those named together are one conductor in that setting, sets
// parted by semicolons; all others are apart. A control that a row does not
// name may stand anywhere; the rows cover every setting once.
//
//	# setting         | input | reach   | level | why
//	# J1 in           | J1    | full    | 1     | …
//
// The rows cover every input that is plugged in, in every setting, once. The
// level is what the first grid gets of 1 at the tip, within half a hundredth.
type arrangement struct {
	book   *netlist.Book
	points []netlist.TerminalID
	joined []joinedRow
	inputs []inputRow
}

type joinedRow struct {
	line string
	when map[string][]string // by control, the positions
	sets [][]string
}

type inputRow struct {
	line  string
	when  map[string][]string
	input string
	reach string
	level float64
}

var reachWords = map[string]Reach{"full": Full, "reduced": Reduced, "shorted": Shorted, "cut-off": CutOff, "muted": Muted}

func readArrangement(t *testing.T, path string) *arrangement {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	a := &arrangement{book: netlist.Build(lang.Parse(diag.NewSource(filepath.Base(path), string(text))), nil)}
	for _, m := range a.book.Mistakes {
		t.Fatalf("%s: %s: %s", m.Place, m.Rule, m.Message)
	}
	if !strings.Contains(string(text), "\n# Source: ") {
		t.Error("the arrangement has no source")
	}
	for _, line := range strings.Split(string(text), "\n") {
		line, comment := strings.CutPrefix(line, "# ")
		if points, ok := strings.CutPrefix(line, "points: "); ok && comment {
			for _, name := range strings.Fields(points) {
				a.points = append(a.points, a.terminal(t, name))
			}
			continue
		}
		cells := strings.Split(line, "|")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		switch {
		case !comment || len(cells) == 1 || cells[0] == "setting":
		case len(cells) == 2:
			row := joinedRow{line: line, when: readWhen(t, cells[0])}
			for _, set := range strings.Split(cells[1], ";") {
				if names := strings.Fields(set); set != "none" {
					row.sets = append(row.sets, names)
				}
			}
			a.joined = append(a.joined, row)
		case len(cells) == 5:
			level, err := strconv.ParseFloat(cells[3], 64)
			if _, known := reachWords[cells[2]]; err != nil || !known {
				t.Fatalf("this row cannot be read: %s", line)
			}
			a.inputs = append(a.inputs, inputRow{line, readWhen(t, cells[0]), cells[1], cells[2], level})
		default:
			t.Fatalf("this row cannot be read: %s", line)
		}
	}
	if len(a.points) < 2 || len(a.joined) == 0 {
		t.Fatal("the arrangement has no table")
	}
	return a
}

func (a *arrangement) terminal(t *testing.T, name string) netlist.TerminalID {
	id, problem, _ := a.book.Terminal(name)
	if id == netlist.NoTerminal {
		t.Fatal(problem)
	}
	return id
}

func readWhen(t *testing.T, cell string) map[string][]string {
	when := map[string][]string{}
	if cell == "any" {
		return when
	}
	for _, part := range strings.Split(cell, ",") {
		words := strings.Fields(part)
		if len(words) < 2 {
			t.Fatalf("this setting cannot be read: %s", cell)
		}
		for _, w := range words[1:] {
			if w != "or" {
				when[words[0]] = append(when[words[0]], w)
			}
		}
	}
	return when
}

// controls are the controls of the arrangement that work a contact, and the
// plugs of its inputs. Found anew here, from the kinds.
func (a *arrangement) controls() []netlist.ControlRef {
	var list []netlist.ControlRef
	for _, p := range a.book.Parts {
		for i, c := range p.Kind.Controls {
			works := slices.ContainsFunc(a.inputs, func(r inputRow) bool { return r.input == p.Ref && c.Name == "plug" })
			for _, k := range p.Kind.Contacts {
				works = works || k.Control == i
			}
			if ref := (netlist.ControlRef{Part: p, Control: i}); works || a.named(ref).Plug != nil {
				list = append(list, ref)
			}
		}
	}
	return list
}

// named is where the notebook puts a control.
func (a *arrangement) named(ref netlist.ControlRef) netlist.Position {
	return a.book.Bench().Setting[ref]
}

// every goes through all settings of the controls with a counter.
func (a *arrangement) every(controls []netlist.ControlRef, visit func(netlist.Setting)) {
	total := 1
	for _, c := range controls {
		total *= len(c.Part.Kind.Controls[c.Control].Positions)
	}
	for n := range total {
		s := netlist.Setting{}
		for ref, p := range a.book.Bench().Setting {
			s[ref] = p // tracks stay where they are
		}
		for _, c := range controls {
			positions := len(c.Part.Kind.Controls[c.Control].Positions)
			p := netlist.Position{Index: n % positions, Known: true}
			if named := a.named(c); named.Plug != nil && named.Index == p.Index {
				p = named
			}
			s[c] = p
			n /= positions
		}
		visit(s)
	}
}

// meets says that a setting is one of those that a row speaks of.
func meets(when map[string][]string, controls []netlist.ControlRef, s netlist.Setting) bool {
	met := 0
	for _, c := range controls {
		if positions, told := when[c.Name()]; told {
			met++
			if !slices.Contains(positions, c.Part.Kind.Controls[c.Control].Positions[s[c].Index]) {
				return false
			}
		}
	}
	return met == len(when)
}

func told(controls []netlist.ControlRef, s netlist.Setting) string {
	var list []string
	for _, c := range controls {
		list = append(list, c.Name()+" "+c.Part.Kind.Controls[c.Control].Positions[s[c].Index])
	}
	return strings.Join(list, ", ")
}

func arrangements(t *testing.T) []string {
	files, err := filepath.Glob("testdata/arrangements/*.buzzout")
	if err != nil || len(files) < 20 {
		t.Fatalf("%d arrangements, at least 20 are wanted: %v", len(files), err)
	}
	return files
}

// TestArrangements checks the tables against a plain search, a harness drawn
// for each setting, a walk through all settings, and the table of each pair.
func TestArrangements(t *testing.T) {
	for _, path := range arrangements(t) {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".buzzout"), func(t *testing.T) {
			a := readArrangement(t, path)
			controls := a.controls()
			used := make([]bool, len(a.joined))
			expected := map[string][][]bool{} // by setting, for each two points
			a.every(controls, func(s netlist.Setting) {
				row := a.rowFor(t, controls, s, used)
				if row == nil {
					return
				}
				colour := spread(a.book, s)
				h := a.book.Planned(netlist.Meaning{}, s)
				one := make([][]bool, len(a.points))
				for x, px := range a.points {
					one[x] = make([]bool, len(a.points))
					for y, py := range a.points {
						one[x][y] = x == y || row.joins(a.book.Name(px), a.book.Name(py))
						if got := colour[px] == colour[py]; got != one[x][y] {
							t.Errorf("%s: %s and %s joined: %v by a plain search, and the table has %v", told(controls, s), a.book.Name(px), a.book.Name(py), got, one[x][y])
						}
						if got := h.Joined(px, py); got != one[x][y] {
							t.Errorf("%s: %s and %s joined: %v in a harness, and the table has %v", told(controls, s), a.book.Name(px), a.book.Name(py), got, one[x][y])
						}
					}
				}
				expected[told(controls, s)] = one
			})
			for i, row := range a.joined {
				if !used[i] {
					t.Errorf("no setting is that of the row %s", row.line)
				}
			}
			if t.Failed() {
				return
			}
			a.walk(t, controls, expected)
			a.tables(t, controls, expected)
		})
	}
}

func (a *arrangement) rowFor(t *testing.T, controls []netlist.ControlRef, s netlist.Setting, used []bool) *joinedRow {
	var found *joinedRow
	for i := range a.joined {
		if meets(a.joined[i].when, controls, s) {
			if found != nil {
				t.Errorf("two rows speak of %s", told(controls, s))
			}
			found = &a.joined[i]
			used[i] = true
		}
	}
	if found == nil {
		t.Errorf("no row speaks of %s", told(controls, s))
	}
	return found
}

func (r *joinedRow) joins(x, y string) bool {
	return slices.ContainsFunc(r.sets, func(set []string) bool { return slices.Contains(set, x) && slices.Contains(set, y) })
}

func (a *arrangement) web() *Web {
	s := a.book.Bench().Setting
	return NewWeb(a.book.Planned(netlist.Meaning{}, s), s)
}

// settingAt is a setting of the arrangement for where the web's controls stand.
func settingAt(w *Web, at []uint8) netlist.Setting {
	s := netlist.Setting{}
	for i, ref := range w.Controls {
		s[ref] = netlist.Position{Index: int(at[i])}
	}
	return s
}

// walk compares a walk through all settings of the web with the table.
func (a *arrangement) walk(t *testing.T, controls []netlist.ControlRef, expected map[string][][]bool) {
	w := a.web()
	all := make([]int, len(w.Controls))
	for i := range all {
		all[i] = i
	}
	w.Walk(all, make([]uint8, len(all)), func(walk *Walk) bool {
		one := expected[told(controls, settingAt(w, walk.At))]
		for x, px := range a.points {
			for y, py := range a.points {
				if got := walk.Joined(w.Conductor(px), w.Conductor(py)); got != one[x][y] {
					t.Errorf("%s: %s and %s joined: %v on a walk, and the table has %v", told(controls, settingAt(w, walk.At)), a.book.Name(px), a.book.Name(py), got, one[x][y])
				}
			}
		}
		return true
	})
}

// tables compares the conditions for each two points with the table.
func (a *arrangement) tables(t *testing.T, controls []netlist.ControlRef, expected map[string][][]bool) {
	w := a.web()
	for x, px := range a.points {
		for y, py := range a.points[:x] {
			table := w.Table(w.Conductor(px), w.Conductor(py), make([]uint8, len(w.Controls)))
			a.every(controls, func(s netlist.Setting) {
				covered := 0
				for _, c := range table.Holds {
					in := true
					for i, ref := range table.Controls {
						in = in && c[i]>>s[ref].Index&1 != 0
					}
					if in {
						covered++
					}
				}
				if one := expected[told(controls, s)][x][y]; one != (covered == 1) || covered > 1 {
					t.Errorf("%s: %d conditions for %s and %s, and the table has %v", told(controls, s), covered, a.book.Name(px), a.book.Name(py), one)
				}
			})
		}
	}
}

// TestArrangementsOfInputs checks reach and level of each input in every
// setting against the tables, and the levels against a solution of the whole
// network by other means.
func TestArrangementsOfInputs(t *testing.T) {
	seen := 0
	for _, path := range arrangements(t) {
		a := readArrangement(t, path)
		if len(a.inputs) == 0 {
			continue
		}
		seen++
		t.Run(strings.TrimSuffix(filepath.Base(path), ".buzzout"), func(t *testing.T) {
			controls := a.controls()
			used := make([]bool, len(a.inputs))
			a.every(controls, func(s netlist.Setting) {
				for _, m := range Mutes(planned(a.book), s, netlist.NoTerminal) {
					a.mixing(t, controls, s, &m, used)
				}
			})
			for i, row := range a.inputs {
				if !used[i] {
					t.Errorf("nothing is told of the row %s", row.line)
				}
			}
		})
	}
	if seen < 10 {
		t.Errorf("only %d arrangements have inputs", seen)
	}
}

func (a *arrangement) mixing(t *testing.T, controls []netlist.ControlRef, s netlist.Setting, m *Mixing, used []bool) {
	plugs := 0
	for i, in := range m.Inputs {
		if s[in.Plug].Index != 0 {
			plugs |= 1 << i
		}
	}
	for i, in := range m.Inputs {
		if s[in.Plug].Index == 0 {
			continue
		}
		fate := m.Rows[plugs].At[i]
		found := false
		for k, row := range a.inputs {
			if row.input != in.Jack.Ref || !meets(row.when, controls, s) {
				continue
			}
			if found {
				t.Errorf("%s: two rows speak of %s", told(controls, s), row.input)
			}
			found, used[k] = true, true
			if fate.Reach != reachWords[row.reach] || math.Abs(fate.Level-row.level) > 0.005 {
				t.Errorf("%s: %s has reach %d, level %.4f, and the table has %s, %g", told(controls, s), row.input, fate.Reach, fate.Level, row.reach, row.level)
			}
			if whole := wholeLevel(a.book, s, m.Inputs, i, m.Grid); math.Abs(whole-row.level) > 0.005 {
				t.Errorf("%s: the whole network gives %s %.4f, and the table has %g", told(controls, s), row.input, whole, row.level)
			}
		}
		if !found {
			t.Errorf("%s: no row speaks of %s", told(controls, s), in.Jack.Ref)
		}
	}
}
