package ohms

import (
	"encoding/csv"
	"math"
	"math/big"
	"os"
	"strconv"
	"strings"
	"testing"
)

// Worked examples with answers from books, published tables and sequences;
// testdata/networks.csv has the source of each. A value with the status
// "derived" was worked out for the collection in three ways.

type example struct {
	id, asked, published, source string
	unit                         float64 // of answer and published, in ohms, volts or amperes
	branches                     []Branch
	points                       map[string]int32
	volts                        float64 // between from and to
	from, to                     string
	answer                       *big.Rat
}

func examples(t *testing.T) []example {
	file, err := os.Open("testdata/networks.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var list []example
	for _, r := range rows[1:] {
		e := example{id: r[0], asked: r[3], published: r[6], source: r[8], points: map[string]int32{}}
		given, source, fed := strings.Cut(r[2], " ; ")
		for _, word := range strings.Fields(given) {
			ends, value, _ := strings.Cut(word, "=")
			a, b, _ := strings.Cut(ends, "-")
			e.branches = append(e.branches, Branch{e.point(a), e.point(b), readOhms(t, value)})
		}
		if fed {
			ends, value, _ := strings.Cut(strings.TrimPrefix(source, "E("), ")=")
			e.from, e.to, _ = strings.Cut(ends, ",")
			e.volts = readOhms(t, value)
		}
		answer, ok := new(big.Rat).SetString(r[4])
		if !ok {
			t.Fatalf("%s: the answer %q is no number", e.id, r[4])
		}
		e.answer, e.unit = answer, 1
		if r[5] == "mA" {
			e.unit = 1e-3
		}
		list = append(list, e)
	}
	return list
}

func (e *example) point(name string) int32 {
	p, known := e.points[name]
	if !known {
		p = int32(len(e.points))
		e.points[name] = p
	}
	return p
}

func readOhms(t *testing.T, text string) float64 {
	if text == "inf" {
		return math.Inf(1)
	}
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		t.Fatalf("%q is no value", text)
	}
	f, _ := r.Float64()
	return f
}

// pair reads "x,y)" or "x->y)".
func (e *example) pair(text string) (int32, int32) {
	text = strings.TrimRight(text, ")|")
	a, b, ok := strings.Cut(text, "->")
	if !ok {
		a, b, _ = strings.Cut(text, ",")
	}
	return e.points[a], e.points[b]
}

func (e *example) solve(c *Circuit) float64 {
	switch {
	case strings.HasPrefix(e.asked, "R("):
		p, q := e.pair(e.asked[2:])
		return c.Between(p, q)
	case strings.HasPrefix(e.asked, "sum of R"):
		sum := 0.0
		for p := range int32(len(e.points)) {
			for q := range p {
				sum += c.Table().Between(p, q)
			}
		}
		return sum
	}
	pr := c.Probe(e.points[e.from], e.points[e.to])
	amperes := e.volts / pr.Ohms
	if rest, ok := strings.CutPrefix(e.asked, "V("); ok {
		a, b, _ := strings.Cut(rest, ")-V(")
		if b == "" {
			b = e.to
		}
		a, b = strings.TrimRight(a, ")"), strings.TrimRight(b, ")")
		return amperes * (pr.Volts(e.points[a]) - pr.Volts(e.points[b]))
	}
	p, q := e.pair(strings.TrimLeft(e.asked, "|I("))
	sum := 0.0
	for i, b := range e.branches {
		switch {
		case b.A == p && b.B == q:
			sum += pr.Current(i)
		case b.A == q && b.B == p:
			sum -= pr.Current(i)
		}
	}
	if e.asked[0] == '|' {
		sum = math.Abs(sum)
	}
	return amperes * sum
}

// cutShort are printed figures whose last place was cut off and not rounded:
// 9.07 for 9.0777 (Mehta, Principles of Electronics, Example 11.14).
var cutShort = map[string]bool{"G3-70b": true}

func TestWorkedExamples(t *testing.T) {
	list := examples(t)
	if len(list) < 120 {
		t.Fatalf("%d examples", len(list))
	}
	for _, e := range list {
		want, _ := e.answer.Float64()
		got := e.solve(New(len(e.points), e.branches)) / e.unit
		if !near(got, want, 1e-9) {
			t.Errorf("%s: %s is %.12g, want %s = %.12g (%s)", e.id, e.asked, got, e.answer, want, e.source)
		}
		if strings.HasPrefix(e.asked, "R(") && len(e.points) <= 20 && wholeOhms(e.branches) {
			p, q := e.pair(e.asked[2:])
			if exact := exactly(len(e.points), e.branches, p, q); exact.Cmp(e.answer) != 0 {
				t.Errorf("%s: in fractions %s, want %s: the reference is wrong", e.id, exact, e.answer)
			}
		}
		printed, err := strconv.ParseFloat(e.published, 64)
		if err != nil || cutShort[e.id] {
			continue
		}
		_, decimals, _ := strings.Cut(e.published, ".")
		if last := math.Pow(10, -float64(len(decimals))); math.Abs(got-printed) > last/2*1.0001 {
			t.Errorf("%s: %s is %.6g, printed as %s in %s", e.id, e.asked, got, e.published, e.source)
		}
	}
}

// wholeOhms says that every value is a number that floating point has exactly.
func wholeOhms(branches []Branch) bool {
	for _, b := range branches {
		if b.Ohms != math.Trunc(b.Ohms) {
			return false
		}
	}
	return true
}
