package states

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/big"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The tables of testdata are rows of the reference's worked examples, copied
// with the status and the source of each.

func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, column := range records[0] {
			row[column] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// A net of resistors with one source, as the column given of dividers.csv
// tells it: "a-b=6 b-c=4 ; E(a,c)=10".
type resistors struct {
	number map[string]int32
	list   []passive
}

func (r *resistors) at(name string) int32 {
	n, ok := r.number[name]
	if !ok {
		n = int32(len(r.number))
		r.number[name] = n
	}
	return n
}

func readResistors(t *testing.T, given string) *resistors {
	r := &resistors{number: map[string]int32{}}
	given, _, _ = strings.Cut(given, ";")
	for _, word := range strings.Fields(given) {
		ends, ohms, _ := strings.Cut(word, "=")
		a, b, ok := strings.Cut(ends, "-")
		value, known := new(big.Rat).SetString(ohms)
		if !ok || !known {
			t.Fatalf("this cannot be read: %s", word)
		}
		f, _ := value.Float64()
		r.list = append(r.list, passive{a: r.at(a), b: r.at(b), admittance: complex(1/f, 0)})
	}
	return r
}

// volts is the voltage of a point with a source between two others.
func (r *resistors) volts(plus, minus string, source float64, at string) float64 {
	v := voltageAt(r.list, newSets(len(r.number)+1), []feeder{{r.at(plus), complex(source, 0)}}, []int32{r.at(minus)}, r.at(at))
	return real(v)
}

// between cuts "R(a,c)" or "|I(2,3)|" into its two points.
func between(asked string) (a, b string) {
	_, rest, _ := strings.Cut(asked, "(")
	rest = strings.Trim(rest, ")|")
	rest = strings.ReplaceAll(rest, "->", ",")
	a, b, _ = strings.Cut(rest, ",")
	return a, b
}

// TestVoltagesAgainstWorkedExamples solves the networks of dividers.csv: rows
// G1 and G3 of the reference, the source beside each row.
func TestVoltagesAgainstWorkedExamples(t *testing.T) {
	rows := table(t, "dividers")
	if len(rows) < 70 {
		t.Fatalf("only %d rows", len(rows))
	}
	for _, row := range rows {
		t.Run(row["id"], func(t *testing.T) {
			if row["status"] == "" || strings.HasPrefix(row["status"], "from memory") {
				t.Fatal("the row has no source that a test may rest on")
			}
			exact, ok := new(big.Rat).SetString(row["answer_exact"])
			if !ok {
				t.Fatalf("this is no fraction: %s", row["answer_exact"])
			}
			want, _ := exact.Float64()
			if row["unit"] == "mA" {
				want /= 1000
			}
			got, ok := solveRow(t, row)
			if !ok || math.Abs(got-want) > 1e-9*math.Abs(want)+1e-12 {
				t.Errorf("%s, %s: %.12g, want %s (%s, %s)", row["title"], row["asked"], got, row["answer_exact"], row["source"], row["locus"])
			}
		})
	}
}

func solveRow(t *testing.T, row map[string]string) (float64, bool) {
	asked := row["asked"]
	if asked == "reading" { // a divider with a meter across its lower half
		var e, upper, lower, meter float64
		if _, err := fmt.Sscanf(row["given"], "E=%g R1=%g R2=%g Rmeter=%g", &e, &upper, &lower, &meter); err != nil {
			t.Fatal(err)
		}
		r := readResistors(t, fmt.Sprintf("top-tap=%g tap-foot=%g tap-foot=%g", upper, lower, meter))
		return r.volts("top", "foot", e, "tap"), true
	}
	r := readResistors(t, row["given"])
	a, b := between(asked)
	if strings.HasPrefix(asked, "R(") {
		// One ohm in front of what is asked for: the divider gives its ohms.
		r.list = append(r.list, passive{a: r.at("source"), b: r.at(a), admittance: 1})
		v := r.volts("source", b, 1, a)
		return v / (1 - v), true
	}
	_, source, _ := strings.Cut(row["given"], "E(")
	ends, size, _ := strings.Cut(source, ")=")
	plus, minus, _ := strings.Cut(ends, ",")
	e, err := strconv.ParseFloat(strings.TrimSpace(size), 64)
	if err != nil {
		t.Fatal(err)
	}
	volts := func(at string) float64 { return r.volts(plus, minus, e, at) }
	switch {
	case strings.HasPrefix(asked, "V(") && strings.Contains(asked, "-"):
		one, other, _ := strings.Cut(asked, "-")
		return volts(strings.Trim(one, "V()")) - volts(strings.Trim(other, "V()")), true
	case strings.HasPrefix(asked, "V("):
		return volts(a), true
	case strings.Contains(asked, "I("):
		i := (volts(a) - volts(b)) * r.siemens(a, b)
		if strings.HasPrefix(asked, "|") {
			i = math.Abs(i)
		}
		return i, true
	}
	return 0, false
}

// siemens is the conductance straight between two points.
func (r *resistors) siemens(a, b string) float64 {
	sum := 0.0
	for _, p := range r.list {
		if p.a == r.at(a) && p.b == r.at(b) || p.a == r.at(b) && p.b == r.at(a) {
			sum += real(p.admittance)
		}
	}
	return sum
}

// edgesOf reads the column given of graphs.csv: "0-1 1-2".
func edgesOf(t *testing.T, given string) (edges [][2]int32, points int) {
	for _, word := range strings.Fields(given) {
		var a, b int32
		if _, err := fmt.Sscanf(word, "%d-%d", &a, &b); err != nil {
			t.Fatal(err)
		}
		edges = append(edges, [2]int32{a, b})
		points = max(points, int(a)+1, int(b)+1)
	}
	return edges, points
}

// TestBlocksAgainstPublishedCases finds bridges, cut points and blocks of the
// cases in graphs.csv (rows G2 of the reference: unit tests of a published
// library, and an encyclopaedia's statement) by blockOf alone: a bridge is a
// block of one edge, and a cut point is in two blocks or more.
func TestBlocksAgainstPublishedCases(t *testing.T) {
	for _, row := range table(t, "graphs") {
		t.Run(row["id"], func(t *testing.T) {
			edges, points := edgesOf(t, row["given"])
			var bridges []string
			var blocks []string
			in := make([][]string, points)
			for e := range edges {
				block := blockOf(points, edges, e)
				if !slices.Contains(block, e) {
					t.Fatalf("the block of edge %d does not have it", e)
				}
				if len(block) == 1 {
					bridges = append(bridges, fmt.Sprintf("%d-%d", edges[e][0], edges[e][1]))
				}
				var members []int
				for _, k := range block {
					for _, p := range edges[k] {
						if !slices.Contains(members, int(p)) {
							members = append(members, int(p))
						}
					}
				}
				slices.Sort(members)
				name := strings.ReplaceAll(strings.Trim(fmt.Sprint(members), "[]"), " ", ",")
				if !slices.Contains(blocks, "{"+name+"}") {
					blocks = append(blocks, "{"+name+"}")
					for _, p := range members {
						in[p] = append(in[p], name)
					}
				}
			}
			var cuts []string
			for p, list := range in {
				if len(list) > 1 {
					cuts = append(cuts, fmt.Sprint(p))
				}
			}
			slices.Sort(blocks)
			var got string
			switch row["asked"] {
			case "bridges":
				got = strings.Join(bridges, " ")
			case "cut vertices":
				got = strings.Join(cuts, " ")
			case "cut vertices / bridges":
				got = fmt.Sprintf("%d / %d", len(cuts), len(bridges))
			default:
				got = strings.Join(blocks, " ")
			}
			want := strings.Fields(row["answer_exact"])
			if strings.HasPrefix(row["asked"], "blocks") {
				slices.Sort(want)
			}
			if got != strings.Join(want, " ") {
				t.Errorf("%s: %s are %q, want %q (%s)", row["title"], row["asked"], got, row["answer_exact"], row["source"])
			}
		})
	}
}

// TestBetweenOnPublishedCases: on the same cases, the edges between two points
// are those on some way that passes no point twice, found by going every such
// way; and the least cut is as large as an exhaustive search finds it.
func TestBetweenOnPublishedCases(t *testing.T) {
	for _, row := range table(t, "graphs") {
		edges, points := edgesOf(t, row["given"])
		if len(edges) > 30 {
			continue // too many ways to go them all
		}
		t.Run(row["id"], func(t *testing.T) {
			// A web by hand: a contact for each edge, with a control of its own.
			w := &Web{conductors: points}
			arcs := make([]*Contact, len(edges))
			for i, e := range edges {
				w.Contacts = append(w.Contacts, Contact{Control: i, a: e[0], b: e[1]})
			}
			for i := range arcs {
				arcs[i] = &w.Contacts[i]
			}
			for a := range int32(points) {
				for b := range a {
					if got, want := w.Between(a, b), everyWay(edges, a, b); !slices.Equal(got, want) {
						t.Errorf("between %d and %d: %v, by every way %v", a, b, got, want)
					}
					cut := leastCut(arcs, newSets(points), a, b)
					if !parted(edges, a, b, func(e int) bool { return slices.Contains(cut, arcs[e]) }) {
						t.Errorf("the cut between %d and %d does not part them", a, b)
					}
					if smaller := partedBy(edges, a, b, len(cut)-1); smaller {
						t.Errorf("%d and %d are parted by fewer than %d", a, b, len(cut))
					}
				}
			}
		})
	}
}

// everyWay gives the edges that lie on a way from a to b without a point twice.
func everyWay(edges [][2]int32, a, b int32) []int {
	on := make([]bool, len(edges))
	var way []int
	passed := map[int32]bool{a: true}
	var walk func(at int32)
	walk = func(at int32) {
		if at == b {
			for _, e := range way {
				on[e] = true
			}
			return
		}
		for e, ends := range edges {
			next := int32(-1)
			switch at {
			case ends[0]:
				next = ends[1]
			case ends[1]:
				next = ends[0]
			}
			if next < 0 || passed[next] {
				continue
			}
			passed[next] = true
			way = append(way, e)
			walk(next)
			way = way[:len(way)-1]
			passed[next] = false
		}
	}
	walk(a)
	var list []int
	for e := range on {
		if on[e] {
			list = append(list, e)
		}
	}
	return list
}

// parted says that two points are apart once some edges are out.
func parted(edges [][2]int32, a, b int32, out func(int) bool) bool {
	reached := map[int32]bool{a: true}
	for grew := true; grew; {
		grew = false
		for e, ends := range edges {
			if !out(e) && reached[ends[0]] != reached[ends[1]] {
				reached[ends[0]], reached[ends[1]] = true, true
				grew = true
			}
		}
	}
	return !reached[b]
}

// partedBy says that some set of that many edges parts two points.
func partedBy(edges [][2]int32, a, b int32, size int) bool {
	if size < 0 {
		return false
	}
	out := map[int]bool{}
	var choose func(from, left int) bool
	choose = func(from, left int) bool {
		if left == 0 {
			return parted(edges, a, b, func(e int) bool { return out[e] })
		}
		for e := from; e < len(edges); e++ {
			out[e] = true
			if choose(e+1, left-1) {
				return true
			}
			delete(out, e)
		}
		return false
	}
	return choose(0, size)
}
