package parts

import (
	"slices"
	"strconv"
	"strings"
	"testing"
)

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
