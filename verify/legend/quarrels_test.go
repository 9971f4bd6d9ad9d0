package legend

import (
	"math/rand/v2"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// Who says the same of the leads in question is a witness, and no case of its own.
func TestOneDisputeForThreeSources(t *testing.T) {
	book := build(t, disputed+"colours T2 lid { blue anode-b, red ht, brown anode-a, black common, orange 4ohm, white 8ohm, grey 16ohm }\n")
	list := Disputes(book, Cheap)
	var told []string
	for _, d := range list {
		said := names(book, d.Leads) + ":"
		for _, s := range d.Said {
			said += " " + s.Source
		}
		told = append(told, said)
	}
	if got := strings.Join(told, "; "); got != "orange white: sheet stickers lid; blue brown: sheet stickers lid" {
		t.Error(got)
	}
	if s := Settle(book, book.Part("T2"), Cheap); len(s.Left)+len(s.Apart) != 0 {
		t.Errorf("left %+v, apart %+v", s.Left, s.Apart)
	}
}

// Sources that say things at random, of parts of every sort, drawn, wired and
// trusted at random, are answered all the same: no question is too odd.
func TestSourcesAtRandom(t *testing.T) {
	kinds := []string{"output-pp { load anode-a anode-b 8k }", "output-pp-taps", "mains-transformer-ct", "mains-transformer-full", "mains-transformer-dual",
		"pot 1M", "inlet", "loudspeaker-2 8", "ecc83"}
	colours := strings.Fields("red blue black white green yellow orange brown grey violet pink green/yellow red/yellow red")
	sources := []string{"sheet", "stickers", "lid"}
	points := strings.Fields("S1 S2 S3 V1.7 V2.7 V1.4 V2.5 D1.a D2.k X9.live X9.neutral")
	for i := range 300 {
		r := rand.New(rand.NewPCG(29, uint64(i)))
		one := func(list []string) string { return list[r.IntN(len(list))] }
		text := "drawing sheet\npart T2 " + one(kinds) + "\npart S1, S2, S3 post\npart V1, V2 el84\npart D1, D2 diode\npart X9 inlet\n"
		terminals := netlist.Build(lang.Parse(&diag.Source{Name: "random", Text: text}), nil).Part("T2").Kind.Terminals
		for n, at := range r.Perm(len(points)) {
			if n < len(terminals) && r.IntN(4) > 0 {
				text += "net " + points[at] + "-net " + points[at] + " T2." + terminals[n].Name + "\n"
			}
		}
		for _, source := range sources[:1+r.IntN(3)] {
			text += "colours T2 " + source + " {"
			for n, at := range r.Perm(len(terminals)) {
				switch {
				case n >= len(colours) || r.IntN(5) == 0:
				case r.IntN(8) == 0:
					text += " " + colours[n] + " unknown,"
				default:
					text += " " + colours[n] + " " + terminals[at].Name + ","
				}
			}
			text += " }\n"
		}
		for range r.IntN(14) {
			text += one([]string{"solder " + one(points) + " T2." + one(colours), "unsolder T2." + one(colours), "trust T2 " + one(sources),
				"reading T2." + one(colours) + " T2." + one(colours) + " " + one([]string{"open", "0.4", "181"})}) + "\n"
		}
		book := netlist.Build(lang.Parse(&diag.Source{Name: "random", Text: text}), nil)
		everything(book, book.Part("T2"))
		Erratum(book, Disputes(book, Cheap))
		InDispute(book)
	}
}
