package parts

import (
	"slices"
	"testing"

	"buzzout/lang"
)

func TestStandInOfItself(t *testing.T) {
	if k := kind(t, "pot"); k.StandIn(k) != k {
		t.Error("a kind in its own place is another")
	}
}

// A jack with fewer contacts than planned has those alone, by the names that
// the place has.
func TestStandInJack(t *testing.T) {
	place := kind(t, "jack-break-make")
	plain := kind(t, "jack").StandIn(place)
	if len(plain.Contacts) != 0 || len(plain.Terminals) != len(place.Terminals) || len(plain.Controls) != 1 {
		t.Errorf("a plain jack has contacts %v", plain.Contacts)
	}
	broken := kind(t, "jack-break").StandIn(place)
	if len(broken.Contacts) != 1 {
		t.Fatalf("contacts %v", broken.Contacts)
	}
	c := broken.Contacts[0]
	if c.A != place.at(t, "tip") || c.B != place.at(t, "break") || !slices.Equal(c.Positions, []int{0}) {
		t.Errorf("the break contact is %+v", c)
	}
	if back := place.StandIn(kind(t, "jack-break")); len(back.Contacts) != 1 {
		t.Errorf("a contact at terminals that are not there is kept: %v", back.Contacts)
	}
}

// A two-pole plug pushed into a three-pole jack that stands for a two-pole one
// moves its break contact.
func TestStandInPositions(t *testing.T) {
	k := kind(t, "jack-stereo-break-tip").StandIn(kind(t, "jack-break"))
	if len(k.Contacts) != 1 || !slices.Equal(k.Contacts[0].Positions, []int{0}) {
		t.Errorf("contacts %+v", k.Contacts)
	}
}

// The two ends of parts that share no names are taken in order.
func TestStandInByNumber(t *testing.T) {
	electrolytic := kind(t, "electrolytic")
	film := kind(t, "capacitor").StandIn(electrolytic)
	if len(film.Elements) != 1 || film.Elements[0].Polar || !slices.Equal(film.Elements[0].Ends, []int{0, 1}) {
		t.Errorf("elements %+v", film.Elements)
	}
	farads, _ := lang.ReadFigure("22u")
	if got := film.Deal([]lang.Figure{farads}); len(got) != 1 || got[0].Text != "22u" {
		t.Errorf("figures %v", got)
	}
}

// A valve with another pin-out has its electrodes at its own pins.
func TestStandInValve(t *testing.T) {
	place, other := kind(t, "ecc83"), kind(t, "12ay7")
	as := other.StandIn(place)
	if len(as.Elements) != len(other.Elements) || as.Seat != place.Seat {
		t.Fatalf("elements %+v", as.Elements)
	}
	for i, e := range as.Elements {
		for n, end := range e.Ends {
			if got, want := as.Terminals[end].Name, other.Terminals[other.Elements[i].Ends[n]].Name; got != want {
				t.Errorf("element %d, end %d is on %s, and the pin is %s", i, n, got, want)
			}
		}
	}
}
