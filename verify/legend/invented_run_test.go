package legend

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"testing"
)

// An outcome is how one invented transformer went.
type outcome struct {
	leads, readings int
	pairs           int // all pairs of leads
	ohms, volts     int
	named           int // leads that are certain, or either way
	wrong           []string
	clash           bool
	name            string
	open            int
	highest         float64 // volts on any winding
}

// runs finds the ends of invented transformers of so many leads.
func runs(t testing.TB, seed uint64, count, least, mostLeads int, n noise) []outcome {
	list := make([]outcome, count)
	var wait sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for w := range workers {
		wait.Go(func() {
			for i := w; i < count; i += workers {
				r := rand.New(rand.NewPCG(seed, uint64(i)))
				in := invent(t, r, least+i%(mostLeads-least+1))
				list[i] = identifyInvented(in, newWorkbench(in, r, n))
			}
		})
	}
	wait.Wait()
	return list
}

func identifyInvented(in *invented, w *workbench) outcome {
	n := len(in.leads)
	o := outcome{leads: n, pairs: n * (n - 1) / 2, name: in.name}
	for range 4 * n * n {
		p := look(n, in.lay, slices.Clone(w.taken), w.meter)
		o.wrong = append(o.wrong, wrongClaims(in, p)...)
		o.clash = o.clash || len(p.clash) > 0
		a, more := p.next(nil)
		if !more {
			o.named, o.open = 0, 0
			for _, c := range p.claims() {
				if c.sure != Open {
					o.named++
				} else {
					o.open++
				}
			}
			break
		}
		if m := w.take(a); m.sort == span {
			o.volts++
		} else {
			o.ohms++
		}
		if a.begins {
			for g := range in.lay.groups {
				ends := in.lay.groups[g].ends
				volts := math.Abs(in.turns[ends[len(ends)-1]]-in.turns[ends[0]]) * w.perTurn
				o.highest = max(o.highest, volts)
			}
		}
	}
	o.readings = len(w.taken)
	return o
}

// wrongClaims are claims of certainty that are not so: wire where there is
// none, a name that is not the lead's or one that may stand for it, or a sense.
func wrongClaims(in *invented, p *picture) []string {
	var wrong []string
	for _, leads := range p.bunches {
		for _, lead := range leads[1:] {
			a, b := in.leads[leads[0]], in.leads[lead]
			if a == none || b == none || in.lay.of[a] != in.lay.of[b] {
				wrong = append(wrong, fmt.Sprintf("leads %d and %d are not on one winding", leads[0], lead))
			}
		}
	}
	for b, leads := range p.bunches {
		l := p.linesOf(b)
		if len(leads) < 3 || !l.known || len(l.orders) != 1 {
			continue
		}
		rising, falling := true, true
		for i := range l.orders[0].row[1:] {
			x, y := in.leads[leads[l.orders[0].row[i]]], in.leads[leads[l.orders[0].row[i+1]]]
			rising = rising && in.turns[x] < in.turns[y]
			falling = falling && in.turns[x] > in.turns[y]
		}
		if !rising && !falling {
			wrong = append(wrong, "an order of taps is wrong")
		}
	}
	for i := range p.ties {
		t := &p.ties[i]
		if t.sense == 0 || p.aside[t.measure] {
			continue
		}
		at := func(lead int) float64 { return in.turns[in.leads[lead]] }
		if same := (at(t.u) > at(t.x)) == (at(t.v) > at(t.y)); same != (t.sense > 0) {
			wrong = append(wrong, "a sense is wrong")
		}
	}
	claims := p.claims()
	chosen := slices.Clone(in.leads)
	for lead, c := range claims {
		if c.sure != Open {
			chosen[lead] = c.end
		}
		if c.sure == Certain && c.end != in.leads[lead] {
			wrong = append(wrong, fmt.Sprintf("lead %d is %s and not %s", lead, endName(in.lay, in.leads[lead]), endName(in.lay, c.end)))
		}
		if c.sure == Open && len(c.open) > 0 && !slices.Contains(c.open, in.leads[lead]) {
			wrong = append(wrong, fmt.Sprintf("lead %d is %s, which is none of what it may be", lead, endName(in.lay, in.leads[lead])))
		}
	}
	// What is chosen either way must be an image of the truth, all leads at once.
	images := p.imagesOf(in.leads, in.lay.same)
	if !slices.ContainsFunc(images, func(image []int) bool {
		for lead, c := range claims {
			if c.sure != Open && in.lay.stands(image[lead]) != in.lay.stands(c.end) {
				return false
			}
		}
		return true
	}) {
		wrong = append(wrong, "what may be either way may not be so")
	}
	return wrong
}

func endName(l *layout, end int) string {
	if end < 0 {
		return "none"
	}
	return l.kind.Terminals[end].Name
}

// Noise as in the trials that the method comes from: a spread of contacts, the
// last digit of 0.1 Ω, probes of 0.1 to 0.5 Ω, and 1 % in volts: the error of
// each range, with a third of it from reading to reading.
var (
	goodContacts = noise{contact: 0.05, scale: 0.01, volts: 0.0035}
	poorContacts = noise{contact: 0.1, scale: 0.01, volts: 0.0035}
)

// A tally sums outcomes up.
type tally struct {
	count, readings, ohms, volts int
	leads, named                 int
	full                         int // every lead certain, or as good as another
	share, most                  float64
	highest                      float64 // volts on any winding while the supply was on
	wrong                        []string
}

func tallied(list []outcome) tally {
	t := tally{count: len(list)}
	for _, o := range list {
		t.readings += o.readings
		t.ohms += o.ohms
		t.volts += o.volts
		t.leads += o.leads
		t.named += o.named
		share := float64(o.readings) / float64(o.pairs)
		t.share += share / float64(len(list))
		t.most = max(t.most, share)
		t.highest = max(t.highest, o.highest)
		if o.open == 0 {
			t.full++
		}
		if o.clash {
			t.wrong = append(t.wrong, "readings that were right are said to contradict each other")
		}
		t.wrong = append(t.wrong, o.wrong...)
	}
	return t
}

func (t tally) String() string {
	n := float64(t.count)
	return fmt.Sprintf("%d transformers, %.1f readings each (%.1f in ohms, %.1f in volts), %.3f of all pairs of leads (at most %.3f); %.0f %% of all leads named, all leads of %d; at most %.0f V on any winding",
		t.count, float64(t.readings)/n, float64(t.ohms)/n, float64(t.volts)/n, t.share, t.most, 100*float64(t.named)/float64(t.leads), t.full, t.highest)
}

// Of a thousand invented transformers, after every single reading, nothing is
// called certain that is not so, and no reading that is right is doubted. A
// supply of up to 12 V never makes more than 60 V anywhere, the most that
// IEC 62368-1 Table 4 has in its lowest class (direct volts).
func TestNoWrongClaim(t *testing.T) {
	if testing.Short() {
		t.Skip("counted over many trials")
	}
	for _, trial := range []struct {
		name  string
		count int
		noise noise
	}{{"good contacts", 1000, goodContacts}, {"poor contacts", 60, poorContacts}} {
		sum := tallied(runs(t, 1, trial.count, 5, 14, trial.noise))
		t.Logf("%s: %s", trial.name, sum)
		for _, w := range sum.wrong {
			t.Errorf("%s: %s", trial.name, w)
		}
		if sum.highest > lowVolts {
			t.Errorf("%s: the supply made %.0f V on some winding", trial.name, sum.highest)
		}
		if sum.full < trial.count/3 {
			t.Errorf("%s: only %d of %d were named in full", trial.name, sum.full, trial.count)
		}
	}
}

// From 14 leads up all that can be told takes at most 0.4 times the readings
// of measuring all pairs of leads in ohms, volts and phase included.
func TestFewerReadingsThanPairs(t *testing.T) {
	if testing.Short() {
		t.Skip("counted over many trials")
	}
	for _, leads := range []int{14, 16} {
		sum := tallied(runs(t, 3, 40, leads, leads, goodContacts))
		t.Logf("%d leads: %s", leads, sum)
		if sum.share > 0.4 {
			t.Errorf("%d leads take %.3f of all pairs", leads, sum.share)
		}
		for _, w := range sum.wrong {
			t.Error(w)
		}
	}
}

// What the asked readings leave open, all readings together leave open too:
// every pair of leads in ohms and in volts, and every two windings clipped
// together.
func TestNothingMoreToTell(t *testing.T) {
	less, leads := 0, 0
	for i := range 60 {
		r := rand.New(rand.NewPCG(5, uint64(i)))
		in := invent(t, r, 6+i%7)
		w := newWorkbench(in, r, goodContacts)
		identifyInvented(in, w)
		n := len(in.leads)
		asked := look(n, in.lay, slices.Clone(w.taken), w.meter)
		if asked.supply() < 0 {
			continue // no winding is safe to drive, and volts are half the answer
		}
		for a := range n {
			for b := range a {
				w.take(ask{sort: through, red: b, black: a})
				if w.joined(a, b) {
					w.take(ask{sort: span, red: b, black: a})
				}
			}
		}
		all := look(n, in.lay, slices.Clone(w.taken), w.meter)
		claims, more := asked.claims(), all.claims()
		for lead := range claims {
			leads++
			if claims[lead].sure == Open && more[lead].sure != Open {
				less++
			}
		}
	}
	t.Logf("%d of %d leads could have been told by more readings", less, leads)
	if less*50 > leads {
		t.Errorf("%d of %d leads could have been told by more readings", less, leads)
	}
}

// Written down as facts of a notebook, with leads clipped together and taken
// apart again, the readings come to what is so.
func TestReadingsOfANotebook(t *testing.T) {
	certain := 0
	for i := range 60 {
		r := rand.New(rand.NewPCG(11, uint64(i)))
		in := invent(t, r, 5+i%10)
		w := newWorkbench(in, r, goodContacts)
		identifyInvented(in, w)
		text := notebook(in, w)
		book := build(t, text)
		part := book.Part("T1")
		id := Identify(book, part, Cheap)
		if len(id.Contradictions) > 0 || len(id.Leads) != len(in.leads) {
			t.Errorf("%s\n%+v", text, id.Contradictions)
			continue
		}
		for lead, l := range id.Leads {
			if l.Sure != Certain {
				continue
			}
			certain++
			if is := in.leads[lead]; is == none != l.NoEnd || is != none && l.End != part.Terminals[is] {
				t.Errorf("%s is %s\n%s", book.Name(l.Lead), endName(in.lay, is), text)
			}
		}
	}
	if certain < 150 {
		t.Errorf("only %d leads are certain", certain)
	}
}
