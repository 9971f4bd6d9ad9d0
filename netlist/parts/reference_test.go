package parts

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"

	"buzzout/lang"
)

// A row of a table in testdata, by column.
type row map[string]string

// table reads a file of testdata; its origin is told in testdata/README.md.
func table(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = -1
	lines, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, line := range lines[1:] {
		w := make(row)
		for i, v := range line {
			if i < len(lines[0]) {
				w[lines[0][i]] = v
			}
		}
		rows = append(rows, w)
	}
	if len(rows) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return rows
}

// checked reports whether a row may decide a test.
func (r row) checked() bool {
	switch r["status"] {
	case "seen", "quoted", "verified", "derived":
		return true
	}
	return false
}

func kind(t *testing.T, name string) *Kind {
	t.Helper()
	k, ok := Builtin().Kind(name)
	if !ok {
		t.Fatalf("the library has no %s", name)
	}
	return k
}

// at finds a terminal that must be there.
func (k *Kind) at(t *testing.T, name string) int {
	t.Helper()
	list, problem := k.Find(name)
	if len(list) != 1 {
		t.Fatalf("%s.%s: found %v, %s", k.Name, name, list, problem)
	}
	return list[0]
}

// electrodes of pinouts.csv, and what Electrodes says of such a pin.
var electrodes = map[string]string{
	"a": "anode", "g": "grid", "g1": "grid", "g2": "screen grid", "g3": "suppressor grid",
	"k": "cathode", "k,bp": "cathode", "k,g3": "cathode", "h,k": "cathode heater",
	"h": "heater", "hct": "heater", "s": "", "sleeve": "",
}

// TestValvePins holds every pin of every valve against pinouts.csv: makers'
// sheets, keys S01 to S31 of testdata/valve-sources.csv.
func TestValvePins(t *testing.T) {
	memory := 0
	pins := make(map[string]int)
	for _, r := range table(t, "pinouts.csv") {
		names := append([]string{r["valve"]}, strings.Split(r["aliases"], ";")...)
		if !r.checked() {
			memory++
			names = nil
		}
		if _, ok := Builtin().Kind(r["valve"]); !ok {
			t.Errorf("the library has no %s", r["valve"])
		}
		for _, name := range names {
			if name == "" || strings.Contains(name, "near") {
				continue
			}
			k := kind(t, name)
			pin := k.at(t, r["pin"])
			pins[name]++
			is := slices.Clone(k.Electrodes(pin))
			sort.Strings(is)
			terminal := k.Terminals[pin]
			switch e := r["electrode"]; e {
			case "ic":
				if terminal.Empty == "" || len(is) > 0 {
					t.Errorf("%s pin %s is joined inside (%s): nothing may be soldered there", name, r["pin"], r["source"])
				}
			case "nc", "absent", "nc/absent":
				if !terminal.Tie || len(is) > 0 {
					t.Errorf("%s pin %s is not connected (%s): the tag is free", name, r["pin"], r["source"])
				}
			case "f": // a filament is heater at both ends; the diodes are drawn to one of them
				if !slices.Contains(is, "heater") {
					t.Errorf("%s pin %s is filament (%s), the library says %v", name, r["pin"], r["source"], is)
				}
			default:
				want, known := electrodes[e]
				if !known {
					t.Fatalf("what is electrode %s?", e)
				}
				if got := strings.Join(is, " "); got != want || terminal.Tie || terminal.Empty != "" {
					t.Errorf("%s pin %s is %s (%s), the library says %q", name, r["pin"], want, r["source"], got)
				}
			}
		}
	}
	for _, name := range []string{"12ax7", "el84"} {
		if pins[strings.ToUpper(name)] != 9 {
			t.Errorf("%s: %d pins compared, it has nine", name, pins[strings.ToUpper(name)])
		}
	}
	t.Logf("%d rows are from memory and were not compared", memory)
}

// TestValveSystems holds which grid belongs to which anode against the column
// section of pinouts.csv.
func TestValveSystems(t *testing.T) {
	systems := make(map[string][]int) // valve and section: pins
	for _, r := range table(t, "pinouts.csv") {
		if !r.checked() || r["section"] == "" || strings.Contains(r["section"], "+") || r["electrode"] == "f" {
			continue
		}
		key := r["valve"] + " " + r["section"]
		systems[key] = append(systems[key], kind(t, r["valve"]).at(t, r["pin"]))
	}
	compared := 0
	for key, pins := range systems {
		valve, _, _ := strings.Cut(key, " ")
		k := kind(t, valve)
		together := slices.ContainsFunc(k.Elements, func(e Element) bool {
			return !slices.ContainsFunc(pins, func(p int) bool { return !slices.Contains(e.Ends, p) })
		})
		if !together {
			t.Errorf("%s: no element has the pins of this system together", key)
		}
		compared++
	}
	if compared < 10 {
		t.Errorf("only %d systems compared", compared)
	}
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b)) }

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// heaterAt finds a heater between two pins.
func (k *Kind) heaterAt(t *testing.T, a, b string) (volts, amperes float64) {
	t.Helper()
	ends := []int{k.at(t, a), k.at(t, b)}
	for _, e := range k.Elements {
		if e.Type != Heater || !sameSet(e.Ends, ends) {
			continue
		}
		v, _ := firstOf(e.Figures, lang.Volts)
		i, _ := firstOf(e.Figures, lang.Amperes)
		return v.Value, i.Value
	}
	t.Errorf("%s has no heater between %s and %s", k.Name, a, b)
	return 0, 0
}

// TestHeaters holds volts, amperes and pins against heaters.csv: makers' sheets.
func TestHeaters(t *testing.T) {
	memory := 0
	for _, r := range table(t, "heaters.csv") {
		if !r.checked() {
			memory++
			continue
		}
		k := kind(t, r["valve"])
		v, i := number(t, r["volts"]), number(t, r["amps"])
		switch r["arrangement"] {
		case "series": // both halves carry the current, each has half the volts
			for _, pin := range []string{"4", "5"} {
				volts, amperes := k.heaterAt(t, pin, "9")
				if !near(volts, v/2) || !near(amperes, i) {
					t.Errorf("%s heater %s-9 is %v V %v A, in series the sheet (%s) gives %v V %v A", k.Name, pin, volts, amperes, r["source"], v, i)
				}
			}
		case "parallel":
			_, a := k.heaterAt(t, "4", "9")
			_, b := k.heaterAt(t, "5", "9")
			if !near(a+b, i) {
				t.Errorf("%s heaters in parallel take %v A, the sheet (%s) gives %v A", k.Name, a+b, r["source"], i)
			}
		default:
			from, to, _ := strings.Cut(r["pins"], "-")
			volts, amperes := k.heaterAt(t, from, to)
			if !near(volts, v) || !near(amperes, i) {
				t.Errorf("%s heater is %v V %v A, the sheet (%s) gives %v V %v A", k.Name, volts, amperes, r["source"], v, i)
			}
		}
	}
	t.Logf("%d rows are from memory and were not compared", memory)
}

var units = map[string]float64{"V": 1, "W": 1, "mA": 1e-3, "Mohm": 1e6, "kohm": 1e3, "ohm": 1, "uF": 1e-6}

// limitOf is the name of a limit for a row of ratings.csv.
func limitOf(t *testing.T, r row) string {
	t.Helper()
	condition := r["condition"]
	switch q := r["quantity"]; q {
	case "-Vg":
		if strings.Contains(condition, "peak") {
			return "grid-negative-peak"
		}
		return "grid-negative"
	case "Pg2":
		if strings.Contains(condition, "peak") {
			return "screen-watts-peak"
		}
		return "screen-watts"
	case "Rg":
		switch {
		case strings.Contains(condition, "fixed bias"):
			return "grid-resistor-fixed-bias"
		case strings.Contains(condition, "cathode bias"), strings.Contains(condition, "class A"):
			return "grid-resistor-cathode-bias"
		}
		return "grid-resistor"
	case "Vhk":
		switch {
		case strings.Contains(condition, "heater negative"), strings.Contains(condition, "cathode positive"):
			return "heater-cathode-heater-negative"
		case strings.Contains(condition, "heater positive"), strings.Contains(condition, "cathode negative"):
			return "heater-cathode-heater-positive"
		}
		return "heater-cathode"
	default:
		name, ok := map[string]string{
			"Va": "anode-volts", "Va0": "anode-volts-cold", "Pa": "anode-watts", "Pa+g2": "anode-screen-watts",
			"Vg2": "screen-volts", "Vg20": "screen-volts-cold", "Ik": "cathode-current", "+Vg": "grid-positive",
			"Rhk": "heater-cathode-resistor", "Vh": "heater-volts", "PIV": "inverse-volts", "ia_pk": "peak-current",
			"ia_transient": "switch-on-current", "Va_rms": "supply-volts", "Iout": "output-current",
			"Cres": "reservoir", "Rlim": "anode-resistance",
		}[q]
		if !ok {
			t.Fatalf("what limit is %s?", q)
		}
		return name
	}
}

// TestLimits holds the limits of valves against ratings.csv, both ways: every
// limit of the library is a row of the table, and every row from a sheet has a
// limit with a figure that some sheet gives. A limit that only memory gives
// must say so.
func TestLimits(t *testing.T) {
	type figures struct{ sheet, memory []float64 }
	rows := make(map[string]*figures) // kind and limit
	for _, r := range table(t, "ratings.csv") {
		valve := r["valve"]
		if issue := r["rating_system"] + r["condition"]; strings.Contains(issue, "6V6GTA") {
			valve = "6v6gta" // a kind of its own
		} else if strings.Contains(issue, "12AX7A") || strings.Contains(issue, "6SN7GTB") || strings.Contains(issue, "6550A") {
			continue // later issues, from memory; the library has the earlier
		}
		key := kind(t, valve).Name + " " + limitOf(t, r)
		if rows[key] == nil {
			rows[key] = new(figures)
		}
		value := number(t, r["value"]) * units[r["unit"]]
		if r.checked() {
			rows[key].sheet = append(rows[key].sheet, value)
		} else {
			rows[key].memory = append(rows[key].memory, value)
		}
	}
	holds := func(list []float64, v float64) bool {
		return slices.ContainsFunc(list, func(other float64) bool { return near(other, v) })
	}
	told := make(map[string]bool)
	remembered := 0
	for _, s := range Builtin().Summaries() {
		if s.Group != "valves" {
			continue
		}
		k := kind(t, s.Name)
		for _, l := range k.Limits {
			key := k.Name + " " + l.Name
			told[key] = true
			f := rows[key]
			if f == nil && k.Name == "6v6gta" { // what the later issue does not change
				f = rows["6v6gt "+l.Name]
			}
			switch {
			case f == nil:
				t.Errorf("%s: no row gives this limit", key)
			case holds(f.sheet, l.Figure.Value):
				if l.FromMemory() {
					t.Errorf("%s: a sheet gives %s, yet it says from memory", key, l.Figure.Text)
				}
			case len(f.sheet) > 0:
				t.Errorf("%s is %s, the sheets give %v", key, l.Figure.Text, f.sheet)
			case !l.FromMemory():
				t.Errorf("%s: only memory gives %s, and it does not say so", key, l.Figure.Text)
			case !holds(f.memory, l.Figure.Value):
				t.Errorf("%s is %s, remembered are %v", key, l.Figure.Text, f.memory)
			default:
				remembered++
			}
		}
	}
	for key, f := range rows {
		if len(f.sheet) > 0 && !told[key] {
			t.Errorf("%s: a sheet gives %v, the library tells nothing", key, f.sheet)
		}
	}
	t.Logf("%d limits of the library are from memory", remembered)
}

// TestMemoryIsTold: a valve with a remembered pin or heater has a line
// "source memory", and one that no table has does, or names another source.
func TestMemoryIsTold(t *testing.T) {
	remembered := make(map[string]bool)
	known := make(map[string]bool)
	for _, file := range []string{"pinouts.csv", "heaters.csv"} {
		for _, r := range table(t, file) {
			name := kind(t, r["valve"]).Name
			known[name] = true
			remembered[name] = remembered[name] || !r.checked()
		}
	}
	for _, s := range Builtin().Summaries() {
		if s.Group != "valves" {
			continue
		}
		k := kind(t, s.Name)
		says := slices.ContainsFunc(k.Origins, func(o Origin) bool { return o.Status == "memory" })
		if remembered[k.Name] && !says {
			t.Errorf("%s has pins or a heater from memory and does not say so", k.Name)
		}
		if !known[k.Name] && len(k.Rings) > 0 && len(k.Origins) == 0 {
			t.Errorf("%s says nothing of where its pins are from", k.Name)
		}
		for _, l := range k.Limits {
			if l.FromMemory() && !says {
				t.Errorf("%s has a limit from memory and no line about it", k.Name)
			}
		}
	}
}

// TestBases holds the holders against bases.csv and base-rules.csv: pins count
// clockwise from the gap seen from the solder side, which is the order of a
// ring line.
func TestBases(t *testing.T) {
	holder := map[string]string{"octal": "socket-octal", "B9A": "socket-b9a", "B7G": "socket-b7g"}
	rules := table(t, "base-rules.csv")
	for _, id := range []string{"cw", "p1"} {
		if !slices.ContainsFunc(rules, func(r row) bool { return r["id"] == id && r.checked() }) {
			t.Fatalf("rule %s is not in the table", id)
		}
	}
	for _, r := range table(t, "bases.csv") {
		k := kind(t, holder[r["base"]])
		n := int(number(t, r["pins"]))
		if len(k.Terminals) != n || len(k.Rings) != 1 || len(k.Rings[0]) != n {
			t.Errorf("%s has %d pins, the library %d in a ring of %v", r["base"], n, len(k.Terminals), k.Rings)
			continue
		}
		for i, pin := range k.Rings[0] {
			if k.Terminals[pin].Name != strconv.Itoa(i+1) {
				t.Errorf("%s: pin %d clockwise from the gap is called %s", r["base"], i+1, k.Terminals[pin].Name)
			}
		}
		for _, other := range strings.Split(r["other_names"], ", ") {
			if other == "noval" || other == "K8A" {
				if kind(t, other) != k {
					t.Errorf("%s is not another name of %s", other, r["base"])
				}
			}
		}
	}
	// A valve's ring is that of its base.
	for _, r := range table(t, "pinouts.csv") {
		base, _, _ := strings.Cut(r["base"], " ")
		if got, want := len(kind(t, r["valve"]).Rings[0]), len(kind(t, holder[base]).Rings[0]); got != want {
			t.Errorf("%s has a ring of %d on a %s base", r["valve"], got, base)
		}
	}
}

// closed reports whether two terminals are in contact in a position.
func (k *Kind) closed(a, b int, control, position string) bool {
	for _, c := range k.Contacts {
		if !sameSet([]int{c.A, c.B}, []int{a, b}) || k.Controls[c.Control].Name != control {
			continue
		}
		for _, p := range c.Positions {
			if k.Controls[c.Control].Positions[p] == position {
				return true
			}
		}
	}
	return false
}

// TestJackContacts holds every jack of the library against jack-contacts.csv.
func TestJackContacts(t *testing.T) {
	states := make(map[string]row)
	for _, r := range table(t, "jack-contacts.csv") {
		states[r["contact"]] = r
	}
	want := func(contact, column string) bool {
		r, ok := states[contact]
		if !ok || !r.checked() {
			t.Fatalf("no row for %s", contact)
		}
		return strings.HasPrefix(r[column], "CLOSED")
	}
	normals := []struct{ spring, contact, row string }{
		{"tip", "tn", "tip normal (TN)"}, {"ring", "rn", "ring normal (RN)"}, {"sleeve", "sn", "sleeve normal (SN)"},
	}
	jacks := 0
	for _, s := range Builtin().Summaries() {
		if !strings.HasPrefix(s.Name, "jack") {
			continue
		}
		jacks++
		k := kind(t, s.Name)
		columns := map[string]string{"out": "no_plug", "in": "mono_plug_in"}
		if strings.HasPrefix(s.Name, "jack-stereo") {
			columns = map[string]string{"out": "no_plug", "mono": "mono_plug_in", "stereo": "stereo_plug_in"}
			// The row of the ring is "mixed": that the sleeve of a two-pole
			// plug meets it is common practice, and the library says so.
			ring, sleeve := k.at(t, "ring"), k.at(t, "sleeve")
			if !k.closed(ring, sleeve, "plug", "mono") || k.closed(ring, sleeve, "plug", "out") || k.closed(ring, sleeve, "plug", "stereo") {
				t.Errorf("%s: ring and sleeve meet with a two-pole plug alone", s.Name)
			}
		}
		if len(columns) != len(k.Controls[0].Positions) || k.Controls[0].Positions[0] != "out" {
			t.Errorf("%s rests without a plug, its positions are %v", s.Name, k.Controls[0].Positions)
		}
		for position, column := range columns {
			for _, n := range normals {
				list, _ := k.Find(n.contact)
				if len(list) == 0 {
					continue
				}
				if got := k.closed(k.at(t, n.spring), list[0], "plug", position); got != want(n.row, column) {
					t.Errorf("%s: %s with plug %s: closed is %v, the reference says %v", s.Name, n.contact, position, got, !got)
				}
			}
			apart := states["isolated make / break / change-over"]
			for _, pair := range []struct{ a, b, word string }{
				{"make-1", "make-2", "make: "}, {"break-1", "break-2", "break: "},
				{"common", "make", "make: "}, {"common", "break", "break: "},
			} {
				if len(k.byNames(pair.a, pair.b)) != 2 {
					continue
				}
				says := apart[column]
				if says == "as mono" {
					says = apart["mono_plug_in"]
				}
				_, says, _ = strings.Cut(says, pair.word)
				ends := k.byNames(pair.a, pair.b)
				if got := k.closed(ends[0], ends[1], "plug", position); got != strings.HasPrefix(says, "CLOSED") {
					t.Errorf("%s: %s-%s with plug %s: closed is %v, the reference says %q", s.Name, pair.a, pair.b, position, got, says)
				}
			}
		}
	}
	if jacks < 15 {
		t.Errorf("only %d jacks", jacks)
	}
}

func (k *Kind) byNames(names ...string) []int {
	var list []int
	for _, n := range names {
		if found, _ := k.Find(n); len(found) == 1 {
			list = append(list, found[0])
		}
	}
	return list
}

// TestPotTerminals holds which tag is which against pot-terminals.csv. That the
// wiper is 2 was read; that 1 and 3 are the ends in this order is common
// practice, no source, and the kinds say so.
func TestPotTerminals(t *testing.T) {
	role := map[string]string{"CCW end": "ccw", "wiper": "wiper", "CW end": "cw"}
	for _, r := range table(t, "pot-terminals.csv") {
		for _, name := range []string{"pot", "pot-switched", "pot-tapped", "pot-slide", "trimmer"} {
			k := kind(t, name)
			if got := k.Terminals[k.at(t, role[r["terminal"]])].Name; got != r["usual_number"] {
				t.Errorf("%s: the %s is %s, usual is %s (%s)", name, r["terminal"], got, r["usual_number"], r["status"])
			}
		}
	}
}

// TestFuseHolder holds which contact gets the incoming live against the row
// "holder" of fuses.csv (EDNFUSE): line to the far (tip) contact.
func TestFuseHolder(t *testing.T) {
	for _, r := range table(t, "fuses.csv") {
		if r["id"] != "holder" {
			continue
		}
		k := kind(t, "fuse")
		if !strings.Contains(r["value"], "line to the far (tip) contact, load to the side contact") {
			t.Fatalf("the row says %s", r["value"])
		}
		if k.at(t, "tip") != k.at(t, "end") || k.at(t, "side") == k.at(t, "end") {
			t.Error("tip is not the end contact")
		}
		return
	}
	t.Error("no row holder")
}
