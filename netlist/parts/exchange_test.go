package parts

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// moves writes a permutation as the terminals that change places.
func moves(k *Kind, perm []int) string {
	var list []string
	for from, to := range perm {
		switch {
		case to < 0:
			list = append(list, k.Terminals[from].Name+">off")
		case to != from:
			list = append(list, k.Terminals[from].Name+">"+k.Terminals[to].Name)
		}
	}
	return strings.Join(list, " ")
}

func TestExchanges(t *testing.T) {
	tests := []struct{ part, want string }{
		{"resistor 100k", "1>2 2>1"},
		{"capacitor-foil 22n", "1>2 2>1 hum"},
		{"electrolytic 22u", ""},
		{"diode", ""},
		{"loudspeaker 8", "+>- ->+ phase"},
		{"ecc83", "1>6 2>7 3>8 6>1 7>2 8>3; 4>5 5>4"},
		{"el84", "4>5 5>4"},
		{"ez81", "1>7 7>1; 4>5 5>4"},
		// sections of a can: only onto one of like figures
		{"can-3 50u", "triangle>square square>triangle; square>half-round half-round>square"},
		{"can-3", "triangle>square square>triangle; square>half-round half-round>square"},
		{"can-3 32u 32u 16u", "triangle>square square>triangle"},
		{"can-3 16u 32u 32u", "square>half-round half-round>square"},
		{"can-2 32u 16u", ""},
		// the same figure, written otherwise
		{"can-2 0.05u 50n", "triangle>square square>triangle"},
		// windings: end for end with phase where no line says otherwise
		{"interstage-se", "anode>ht ht>anode phase; grid>return return>grid phase"},
		{"output-pp", "anode-a>anode-b anode-b>anode-a phase"},
		{"heater-transformer", "mains-0>mains-230 mains-230>mains-0; h-a>h-b h-b>h-a"},
		{"toggle-2x2", "a>b a1>b1 a2>b2 b>a b1>a1 b2>a2"},
		{"pot 1M", ""},
		{"pot-concentric 1M 500k", ""},
		{"pot-dual 220k", "a1>b1 a2>b2 a3>b3 b1>a1 b2>a2 b3>a3"},
		{"pot-dual 220k 100k", ""},
		{"board { terminals a b c d; alike a with b; resistance a c 1k; resistance b c 1k; resistance b d 1k }", ""},
		{"board { terminals a b c; alike a with b; resistance a c 1k; resistance c b 2k }", ""},
		{"board { terminals a b c; alike a with b; resistance a c 1k; resistance c b 1k }", "a>b b>a"},
		{"board { terminals a b c; alike a with b; diode a c; diode c b }", ""},
		{"capacitor-feedthrough 1n", "1>2 2>1"},
		{"board { terminals a b c d e; joined b c; joined a c; joined e d; alike a with b; resistance c e 1k }", "a>b b>a"},
	}
	for _, test := range tests {
		in := one(t, "part X1 "+test.part)
		var got []string
		for _, e := range in.Kind.Exchanges(in.Values) {
			s := moves(in.Kind, e.Perm)
			switch e.But {
			case Hum:
				s += " hum"
			case Phase:
				s += " phase"
			}
			got = append(got, s)
		}
		if strings.Join(got, "; ") != test.want {
			t.Errorf("%s: %s, want %s", test.part, strings.Join(got, "; "), test.want)
		}
	}
}

func TestTurns(t *testing.T) {
	tests := []struct {
		part  string
		count int
		some  []string // turns that must be among them
	}{
		{"electrolytic", 1, []string{"reversed 0: +>- ->+"}},
		{"transformer { winding p a b c }", 0, nil},
		{"chassis", 0, nil},
		{"connector 3", 5, []string{"reversed 0: 1>3 3>1", "shifted 1: 1>2 2>3 3>off", "shifted -2: 1>off 2>off 3>1"}},
		{"bridge", 7, []string{"reversed 0: +>- ac-1>ac-2 ac-2>ac-1 ->+"}},
		{"toggle-2x2", 6, []string{"reversed 0: a1>a2 a2>a1 b1>b2 b2>b1", "reversed 0: a>b a1>b2 a2>b1 b>a b1>a2 b2>a1"}},
		// eight places to be off by, nine ways to count the wrong way round
		{"ecc83", 17, []string{
			"shifted 1: 1>2 2>3 3>4 4>5 5>6 6>7 7>8 8>9 9>1",
			"mirrored 0: 1>9 2>8 3>7 4>6 6>4 7>3 8>2 9>1",
		}},
	}
	sorts := []string{"reversed", "shifted", "mirrored"}
	for _, test := range tests {
		in := one(t, "part X1 "+test.part)
		var got []string
		for _, turn := range in.Kind.Turns() {
			got = append(got, fmt.Sprintf("%s %d: %s", sorts[turn.Sort], turn.By, moves(in.Kind, turn.Perm)))
		}
		if len(got) != test.count {
			t.Errorf("%s: %d turns, want %d: %v", test.part, len(got), test.count, got)
		}
		for _, want := range test.some {
			if !slices.Contains(got, want) {
				t.Errorf("%s: %q is not among %v", test.part, want, got)
			}
		}
	}
}
