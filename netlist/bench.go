package netlist

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist/parts"
)

// benchLog is all that ever happened at the bench, each thing with the step
// (the index of its fact) at which it happened. The bench at any moment is
// what had happened by then.
type benchLog struct {
	joints   []loggedJoint
	leads    []loggedLead
	fittings []loggedFitting
	sets     []loggedSet
	wirings  []loggedWiring
	trusts   []Trust
	tests    []*Reading // each with what was joined for it
	probes   []loggedProbes
}

type loggedJoint struct {
	Joint
	made   int
	undone int // a step; never: the largest int
	by     *Fact
}

type loggedLead struct {
	Lead
	step int
}

type loggedFitting struct {
	part *Part
	Fitting
	step int
}

type loggedSet struct {
	ref  ControlRef
	to   Position
	step int
}

type loggedWiring struct {
	complete bool
	nets     []NetID // empty: everywhere
	step     int
}

type loggedProbes struct {
	ohms float64
	step int
}

const never = int(^uint(0) >> 1)

// Bench is the bench as it is now, after all facts.
func (b *Book) Bench() *Bench { return b.BenchAt(len(b.Facts)) }

// BenchAt is the bench as it was before Facts[step] counted. Where that fact is
// a reading, test leads that it names are on it: they come off again with it.
func (b *Book) BenchAt(step int) *Bench {
	bench := &Bench{Book: b, Step: step, Fittings: map[*Part]*Fitting{}, Setting: Setting{}, complete: map[NetID]bool{}}
	log := &b.log
	bench.Joints = make([]Joint, 0, len(log.joints))
	for i := range log.joints {
		switch j := &log.joints[i]; {
		case j.made >= step:
		case j.undone < step:
			bench.Undone = append(bench.Undone, Undone{j.Joint, j.by})
		default:
			bench.Joints = append(bench.Joints, j.Joint)
		}
	}
	for _, r := range log.tests {
		if r.Step == step {
			bench.Joints = append(bench.Joints, r.testLeads()...)
		}
	}
	for _, l := range log.leads {
		if l.step < step {
			bench.Leads = append(bench.Leads, l.Lead)
		}
	}
	for i := range log.fittings {
		if f := &log.fittings[i]; f.step < step {
			bench.Fittings[f.part] = &f.Fitting
		}
	}
	for _, s := range log.sets {
		if s.step < step {
			bench.Setting[s.ref] = s.to
		}
	}
	for _, w := range log.wirings {
		if w.step >= step {
			continue
		}
		if len(w.nets) == 0 {
			bench.completeAll = w.complete
			clear(bench.complete)
			continue
		}
		for _, n := range w.nets {
			bench.complete[n] = w.complete
		}
	}
	for _, p := range log.probes {
		if p.step < step {
			bench.Probes = p.ohms
		}
	}
	return bench
}

// Complete says that what is missing on a net is a fault and no longer a
// thing to do.
func (b *Bench) Complete(n NetID) bool {
	if c, ok := b.complete[n]; ok {
		return c
	}
	return b.completeAll
}

// AllComplete says that the wiring as a whole was said to be complete.
func (b *Bench) AllComplete() bool { return b.completeAll }

// bench goes through the facts of the bench in order.
func (b *builder) bench() {
	w := &worker{builder: b, at: map[TerminalID][]int{}}
	for _, f := range b.Facts {
		if f.StruckBy != nil {
			continue
		}
		w.fact = f
		switch s := f.Statement.(type) {
		case *lang.Spot:
			if s.Verb() == "unsolder" {
				w.unsolder(s)
			} else {
				w.spot(s)
			}
		case *lang.Lead:
			w.lead(s)
		case *lang.Fit:
			w.fit(s)
		case *lang.Reading:
			w.reading(s)
		case *lang.Set:
			w.set(s)
		case *lang.Wiring:
			w.wiring(s)
		case *lang.Trust:
			w.trust(s)
		}
	}
	b.oneBenchBolts()
}

// worker carries the bench from fact to fact.
type worker struct {
	*builder
	fact *Fact
	at   map[TerminalID][]int // joints ever made at a terminal, as indices of the log
}

func (w *worker) join(j Joint) {
	j.Fact = w.fact
	i := len(w.log.joints)
	w.log.joints = append(w.log.joints, loggedJoint{Joint: j, made: w.fact.Index, undone: never})
	w.at[j.A] = append(w.at[j.A], i)
	if j.B != j.A {
		w.at[j.B] = append(w.at[j.B], i)
	}
}

func (w *worker) undo(i int) {
	w.log.joints[i].undone = w.fact.Index
	w.log.joints[i].by = w.fact
}

func (w *worker) live(i int) bool { return w.log.joints[i].undone == never }

// liveAt are the joints at a terminal that have not been undone.
func (w *worker) liveAt(t TerminalID) []int {
	var list []int
	for _, i := range w.at[t] {
		if w.live(i) {
			list = append(list, i)
		}
	}
	return list
}

// points resolves the terminals of a list; what is wrong in it has been told.
func (w *worker) points(list []lang.Word) (ids []TerminalID, words []lang.Word) {
	for _, word := range w.expand(list) {
		if t, ok := w.terminal(word, w.fact, onBench); ok {
			ids = append(ids, t)
			words = append(words, word)
		}
	}
	return ids, words
}

// spot joins terminals at one spot: the first tie point, else the first
// terminal. Joints are spot to each.
func (w *worker) spot(s *lang.Spot) {
	ids, words := w.points(s.List)
	if len(s.List) == 1 && len(ids) == 1 {
		w.mistake(diag.Diagnostic{Rule: "joint-of-one", Place: words[0].Place,
			Message: fmt.Sprintf("%s is joined to nothing: a joint needs two terminals or more", w.Name(ids[0])),
			Mend:    []string{fmt.Sprintf("name what meets there: %s %s …", s.Verb(), words[0].Text)}})
		return
	}
	if len(ids) < 2 {
		return
	}
	hub := 0
	for i, t := range ids {
		if w.Terminals[t].Tie {
			hub = i
			break
		}
	}
	kind := Solder
	if s.Verb() == "bolt" {
		kind = Bolt
	}
	for i, t := range ids {
		if i != hub && t != ids[hub] {
			w.join(Joint{Kind: kind, A: ids[hub], B: t, Place: words[i].Place, Lead: -1})
		}
	}
}

func (w *worker) lead(l *lang.Lead) {
	lead := Lead{Fact: w.fact}
	told := l.Points
	colour, ok := lang.ReadColour(l.Colour.Text)
	if !ok {
		w.noLeadColour(l)
		if w.find(l.Colour.Text).id != NoTerminal {
			told = append([]lang.Word{l.Colour}, told...) // the colour was left out
		}
	}
	lead.Colour = colour
	if l.Label != nil {
		lead.Label = l.Label.Text
	}
	figures, rest := lang.ReadFigures(told)
	// A word that is a figure by its form may be a terminal all the same.
	var points []lang.Word
	for _, word := range told {
		if slices.ContainsFunc(rest, func(r lang.Word) bool { return r.Place == word.Place }) {
			points = append(points, word)
		} else if w.find(word.Text).id != NoTerminal {
			points = append(points, word)
		}
	}
	for _, f := range figures {
		if w.find(f.Text).id == NoTerminal {
			lead.Figures = append(lead.Figures, f.Figure)
		}
	}
	ids, words := w.points(points)
	lead.Points = ids
	number := len(w.log.leads)
	if len(points) == 1 && len(ids) == 1 {
		w.mistake(diag.Diagnostic{Rule: "joint-of-one", Place: words[0].Place,
			Message: fmt.Sprintf("this lead has one end, at %s: where does the other go?", w.Name(ids[0])),
			Mend:    []string{"name both ends; if the other end hangs loose, write the line when it is soldered"}})
		return
	}
	for i := 1; i < len(ids); i++ {
		if ids[i] == ids[i-1] {
			w.mistake(diag.Diagnostic{Rule: "joint-of-one", Place: words[i].Place, Severity: diag.Caution,
				Message: fmt.Sprintf("this lead goes from %s to %s: from a point to itself", w.Name(ids[i]), w.Name(ids[i]))})
			continue
		}
		w.join(Joint{Kind: Wire, A: ids[i-1], B: ids[i], Place: words[i-1].Place.To(words[i].Place),
			Colour: colour, Label: lead.Label, Lead: number})
	}
	screen, screenWords := w.points(l.Screen)
	lead.Screen = screen
	for i := 1; i < len(screen); i++ {
		w.join(Joint{Kind: Screen, A: screen[i-1], B: screen[i], Place: screenWords[i-1].Place.To(screenWords[i].Place),
			Colour: colour, Label: lead.Label, Lead: number})
	}
	w.log.leads = append(w.log.leads, loggedLead{lead, w.fact.Index})
}

func (w *worker) noLeadColour(l *lang.Lead) {
	d := diag.Diagnostic{Rule: "unknown-name", Place: l.Colour.Place,
		Message: fmt.Sprintf("%s is not a colour", l.Colour.Text)}
	if found := w.find(l.Colour.Text); found.id != NoTerminal {
		d.Message = fmt.Sprintf("%s is a terminal: the lead's colour comes first", w.Name(found.id))
		d.Mend = []string{"put the colour behind the word lead, or `bare` for a wire without insulation"}
	} else {
		d.Nearest, _ = lang.Nearest(l.Colour.Text, lang.ColourNames())
		d.Mend = []string{"a lead is a colour and its points: lead green TB1.4 V1.2"}
	}
	w.mistake(d)
}

// unsolder undoes joints: between terminals, or with one terminal all of it.
func (w *worker) unsolder(s *lang.Spot) {
	ids, words := w.points(s.List)
	switch {
	case len(ids) == 0 || len(ids) < 2 && len(w.expand(s.List)) > 1:
		return // what is wrong has been told
	case len(ids) == 1:
		live := slices.DeleteFunc(w.liveAt(ids[0]), func(i int) bool { return w.log.joints[i].Kind == Pad })
		if len(live) == 0 {
			w.mistake(diag.Diagnostic{Rule: "no-such-joint", Place: words[0].Place,
				Message: fmt.Sprintf("nothing is joined at %s", w.Name(ids[0]))})
		}
		for _, i := range live {
			w.undo(i)
		}
		return
	}
	for n := 1; n < len(ids); n++ {
		w.unsolderPair(ids[0], ids[n], words[0].Place.To(words[n].Place))
	}
}

func (w *worker) unsolderPair(a, b TerminalID, place diag.Place) {
	found := false
	var third TerminalID = NoTerminal
	for _, i := range w.liveAt(a) {
		j := &w.log.joints[i]
		other := j.A + j.B - a
		if j.A == j.B {
			other = a
		}
		if other == b && j.Kind != Pad {
			w.undo(i)
			found = true
		}
		for _, k := range w.liveAt(b) {
			l := &w.log.joints[k]
			if l.A+l.B-b == other && other != b {
				third = other
			}
		}
	}
	if found {
		return
	}
	d := diag.Diagnostic{Rule: "no-such-joint", Place: place,
		Message: fmt.Sprintf("there is no joint between %s and %s", w.Name(a), w.Name(b))}
	if third != NoTerminal {
		d.Notes = []string{fmt.Sprintf("Both are joined to %s.", w.Name(third))}
		d.Mend = []string{fmt.Sprintf("say which comes off: unsolder %s %s, or unsolder %s %s", w.Name(third), w.Name(a), w.Name(third), w.Name(b))}
	}
	w.mistake(d)
}

func (w *worker) wiring(s *lang.Wiring) {
	var nets []NetID
	for _, word := range s.Nets {
		net := w.NetNamed(word.Text)
		if net == nil {
			d := diag.Diagnostic{Rule: "unknown-name", Place: word.Place, Message: fmt.Sprintf("no net is called %s", word.Text)}
			d.Nearest, _ = lang.Nearest(word.Text, w.netNames())
			w.mistake(d)
			continue
		}
		nets = append(nets, net.ID)
	}
	if len(s.Nets) > 0 && len(nets) == 0 {
		return
	}
	w.log.wirings = append(w.log.wirings, loggedWiring{s.Complete, nets, w.fact.Index})
}

func (b *Book) netNames() []string {
	names := make([]string, len(b.Nets))
	for i, n := range b.Nets {
		names[i] = n.Name
	}
	return names
}

func (w *worker) trust(s *lang.Trust) {
	part := w.Part(s.Part.Text)
	if part == nil {
		w.unknownPart(s.Part.Text, s.Part.Place, w.nearestRef(s.Part.Text))
		return
	}
	var origins []string
	for _, k := range w.KeysOf(part) {
		origins = append(origins, k.Origin)
		if lang.Fold(k.Origin) == lang.Fold(s.Origin.Text) {
			trust := Trust{Key: k, Fact: w.fact}
			if s.Reason != nil {
				trust.Reason = s.Reason.Text
			}
			w.log.trusts = append(w.log.trusts, trust)
			return
		}
	}
	if lang.Fold(s.Origin.Text) == Published {
		w.mistake(diag.Diagnostic{Rule: "reserved-name", Place: s.Origin.Place,
			Message: "the published codes are never trusted by themselves: they say what a colour meant to those who wrote them, and nothing of this part",
			Mend:    []string{"see what would settle it: settle " + part.Ref}})
		return
	}
	d := diag.Diagnostic{Rule: "unknown-name", Place: s.Origin.Place,
		Message: fmt.Sprintf("no source called %s says anything of the leads of %s", s.Origin.Text, part.Ref)}
	switch len(origins) {
	case 0:
	case 1:
		d.Notes = []string{fmt.Sprintf("There is %s.", origins[0])}
	default:
		d.Notes = []string{fmt.Sprintf("There are %s.", parts.Listed(origins))}
	}
	d.Nearest, _ = lang.Nearest(s.Origin.Text, origins)
	w.mistake(d)
}

// wordIn is where a word stands in a place, or all of it where the word is written
// otherwise, as in a range.
func wordIn(p diag.Place, word string) diag.Place {
	for i, text := 0, p.Text(); i+len(word) <= len(text); i++ {
		if strings.EqualFold(text[i:i+len(word)], word) && (i+len(word) == len(text) || strings.IndexByte(" \t,\n\r}", text[i+len(word)]) >= 0) {
			p.Start += i
			p.End = p.Start + len(word)
			return p
		}
	}
	return p
}

// oneBenchBolts notes bolts that one bench fact alone names: a slip of the
// pen makes a new bolt, silently.
func (b *builder) oneBenchBolts() {
	uses := map[TerminalID]int{}
	for _, j := range b.log.joints {
		uses[j.A]++
		uses[j.B]++
	}
	for id := range b.Terminals {
		t := &b.Terminals[id]
		if t.Part == nil || !t.Part.Kind.JoinedAny || t.Index >= 0 || b.netOf[id] != NoNet || uses[TerminalID(id)] != 1 {
			continue
		}
		d := diag.Diagnostic{Rule: "bolt-named-once", Severity: diag.Remark, Place: wordIn(t.Named.Place(), b.Name(TerminalID(id))),
			Message: fmt.Sprintf("%s is named here and nowhere else", b.Name(TerminalID(id))),
			Notes:   []string{fmt.Sprintf("It is taken as one more bolt of %s.", t.Part.Ref)}}
		var others []string
		for _, other := range t.Part.Terminals {
			if other != TerminalID(id) {
				others = append(others, b.Terminals[other].Name)
			}
		}
		if near, ok := lang.Nearest(t.Name, others); ok {
			d.Nearest = t.Part.Ref + "." + near
		}
		b.mistake(d)
	}
}
