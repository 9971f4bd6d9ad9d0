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
