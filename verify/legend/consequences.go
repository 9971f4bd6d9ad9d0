package legend

import (
	"fmt"
	"maps"
	"slices"

	"buzzout/lang/diag"
	"buzzout/netlist"
)

// Feedback is which way a feedback loop works on what it feeds back from.
type Feedback uint8

// The ways, as the one who follows signals finds them.
const (
	NotAsked Feedback = iota
	NoLoop            // nothing leads back from the loudspeaker side
	Negative          // it takes away, as it should
	Positive          // it adds: the amplifier howls
	Untold            // it cannot be told
)

// A Loop says which way the feedback works on the bench if the leads are what
// a meaning says. It is the business of whoever follows signals; nil leaves it
// unasked.
type Loop func(netlist.Meaning) Feedback

// Under is what follows for the wiring as built if one source is right.
type Under struct {
	Part    *netlist.Part
	Source  string
	Meaning netlist.Meaning // with this part's leads as the source has them
	Wired   int             // leads that are on the bench
	Right   int             // of them, those on the place of their end
	// Exchanges are leads on each other's places; Effects is what they do, the
	// worst last.
	Exchanges []Exchange
	Effects   []Effect
	Loop      Feedback
}

// An Exchange is leads that sit on each other's places: the first on the
// place of the second, and so on round to the first. One alone sits on a place
// of which the lead that belongs there is elsewhere.
type Exchange struct {
	Leads   []netlist.TerminalID
	Ends    []netlist.TerminalID // which each of them is, by the source
	Places  []netlist.TerminalID // the ends on whose place each of them sits
	Weight  Weight
	Message string // a sentence without a full stop
}

// An Effect is one thing that a wrong place does.
type Effect struct {
	Kind     EffectKind
	Severity diag.Severity
	Message  string // a sentence without a full stop
	Then     string // what that does to the amplifier, a sentence without a full stop
	Leads    []netlist.TerminalID
	// Was and Is are the figure that the drawing intends and the one that comes
	// of it: ohms of primary load for LoadChanged, volts for others; both nought
	// where none can be told.
	Was, Is float64
	Origin  string // where the words of Then are from
}

// EffectKind names what a wrong place does.
type EffectKind uint8

// The kinds of effect.
const (
	_               EffectKind = iota
	LoadChanged                // a loudspeaker is on another tap than its place says
	NothingBetween             // two ends of different windings where one winding belongs
	HTForHeaters               // an HT winding is where the heaters hang
	HeatersForHT               // a heater winding is where the HT comes from
	HeaterVolts                // the heaters get other volts
	HTVolts                    // the HT comes out otherwise
	MainsElsewhere             // mains goes onto a winding that is no primary
	MainsTap                   // mains goes onto other turns of the primary
	BiasVolts                  // the bias supply comes out otherwise
	CentreForEnd               // a centre tap is taken for an end, or an end for it
	TapForEnd                  // another tap is
	ScreenCrossed              // a screen tap belongs to the other half
	PhaseTurned                // the signal is turned over
	FeedbackTurned             // the feedback adds instead of taking away
	OtherWinding               // some other winding is taken for this one
	WindingsOpposed            // a winding is turned against another that it may be joined with
	MainsCrossed               // leads of a mains cord are on each other's places
)

var effectNames = [...]string{"", "load-changed", "nothing-between", "ht-for-heaters", "heaters-for-ht", "heater-volts", "ht-volts",
	"mains-elsewhere", "mains-tap", "bias-volts", "centre-for-end", "tap-for-end", "screen-crossed", "phase-turned", "feedback-turned", "other-winding", "windings-opposed", "mains-crossed"}

func (k EffectKind) String() string { return effectNames[k] }

// Consequences says, for each source of a part, what would follow for the
// wiring as built if that source were right: which leads are exchanged, and
// what each exchange does. loop may be nil.
func Consequences(book *netlist.Book, part *netlist.Part, loop Loop) []Under {
	b := newBuild(book, part)
	followed := func(m netlist.Meaning, _ []int) Feedback {
		if loop == nil {
			return NotAsked
		}
		return loop(m)
	}
	var list []Under
	for _, k := range book.KeysOf(part) {
		list = append(list, b.under(namingOf(book, b.leads, k), followed))
	}
	return list
}

// A built is where the leads of a part sit.
type built struct {
	book     *netlist.Book
	part     *netlist.Part
	lay      *layout
	leads    []netlist.TerminalID
	sits     [][]int  // by lead: the ends on whose place it sits, as terminals of the kind; nil: on none
	at       []uint16 // by terminal of the book: what the drawing has on its conductor
	uses     []purpose
	meanings []netlist.Meaning
}

func newBuild(book *netlist.Book, part *netlist.Part) *built {
	b := &built{book: book, part: part, lay: layoutOf(part), leads: leadsOf(book, part), meanings: book.Meanings()}
	b.at = endsAt(book)
	b.uses = usesOf(part, b.lay, b.at)
	b.sits = seats(book, part, b.leads, book.Bench(), b.meanings[0])
	return b
}

// seats finds on whose place each lead sits: the ends of the part whose net
// the drawing has on the conductor that the lead is soldered to. Switches do
// not count, since they join places only for a while.
func seats(book *netlist.Book, part *netlist.Part, leads []netlist.TerminalID, bench *netlist.Bench, m netlist.Meaning) [][]int {
	h := bench.Built(netlist.Meaning{}, bench.Setting)
	root := make([]netlist.TerminalID, len(book.Terminals))
	for t := range root {
		root[t] = netlist.TerminalID(t)
	}
	find := func(t netlist.TerminalID) netlist.TerminalID {
		for root[t] != t {
			root[t] = root[root[t]]
			t = root[t]
		}
		return t
	}
	for i := range h.Joins {
		switch j := &h.Joins[i]; j.Kind {
		case netlist.ByJoint, netlist.Inside:
			a, c := find(j.A), find(j.B)
			root[max(a, c)] = min(a, c)
		}
	}
	nets := map[netlist.TerminalID][]netlist.NetID{}
	for t := range book.Terminals {
		id := netlist.TerminalID(t)
		if book.Terminals[t].Part == part {
			continue
		}
		net := book.Net(id)
		if end, ok := m.Ends[id]; ok && net == netlist.NoNet {
			net = book.Net(end) // another part's lead
		}
		if net != netlist.NoNet {
			nets[find(id)] = append(nets[find(id)], net)
		}
	}
	sits := make([][]int, len(leads))
	for i, lead := range leads {
		for k := range part.Kind.Terminals {
			if net := book.Net(part.Terminals[k]); net != netlist.NoNet && slices.Contains(nets[find(lead)], net) {
				sits[i] = append(sits[i], k)
			}
		}
	}
	return sits
}

// under works out one source. feedback is asked with the windings of the signal's way that are
// turned end for end, as groups of the layout.
func (b *built) under(n naming, feedback func(m netlist.Meaning, turned []int) Feedback) Under {
	u := Under{Part: b.part, Source: n.origin}
	ends := b.named(n)
	u.Meaning = b.meaning(n.origin, ends)
	places := b.places(ends)
	for i := range b.leads {
		if places[i] == none {
			continue
		}
		u.Wired++
		if places[i] == ends[i] {
			u.Right++
		}
	}
	u.Exchanges = b.exchanged(ends, places)
	e := b.arranged(ends, b.finished(ends, places))
	u.Loop = feedback(u.Meaning, slices.DeleteFunc(e.turned(), func(g int) bool { return !e.signal(g) }))
	u.Effects = e.tell(u.Loop)
	return u
}

// named are the ends of all leads if a source is right: those that it does not
// name are what they are taken to be.
func (b *built) named(n naming) []int {
	ends := slices.Clone(n.ends)
	for i, lead := range b.leads {
		if end, open := holds(b.meanings, lead); ends[i] == none && !open && end != netlist.NoTerminal && !slices.Contains(ends, b.book.Terminals[end].Index) {
			ends[i] = b.book.Terminals[end].Index
		}
	}
	return ends
}

func (b *built) meaning(origin string, ends []int) netlist.Meaning {
	m := netlist.Meaning{Origins: maps.Clone(b.meanings[0].Origins), Ends: maps.Clone(b.meanings[0].Ends), Loose: b.meanings[0].Loose}
	m.Origins[b.part] = origin
	for i, lead := range b.leads {
		delete(m.Ends, lead)
		if ends[i] != none {
			m.Ends[lead] = b.part.Terminals[ends[i]]
		}
	}
	return m
}

// places gives each lead that is wired one place: its own where it sits on
// that, else one that no other lead has. none is for a lead that is on no
// place of the part, or of which nobody knows what it is. Leads of one colour
// are told apart by nothing but where they fit: a pair of which each sits on
// the other's place is right.
func (b *built) places(ends []int) []int {
	places := make([]int, len(ends))
	taken := map[int]bool{}
	for i := range places {
		places[i] = none
		if ends[i] != none && slices.Contains(b.sits[i], ends[i]) {
			places[i] = ends[i]
			taken[ends[i]] = true
		}
	}
	for i, sits := range b.sits {
		if places[i] != none || ends[i] == none {
			continue
		}
		for _, at := range sits {
			if !taken[at] {
				places[i], taken[at] = at, true
				break
			}
		}
		if places[i] == none && len(sits) > 0 {
			places[i] = sits[0] // with another lead
		}
	}
	return places
}

// finished gives the places with leads that are not wired yet on theirs, where
// no other lead sits: what a wrong place does shows when the rest is wired.
func (b *built) finished(ends, places []int) []int {
	all := slices.Clone(places)
	for i := range all {
		if all[i] == none && len(b.sits[i]) == 0 && ends[i] != none && b.hasPlace(ends[i]) && !slices.Contains(all, ends[i]) {
			all[i] = ends[i]
		}
	}
	return all
}

// exchanged finds leads that sit on each other's places.
func (b *built) exchanged(ends, places []int) []Exchange {
	at := naming{ends: places}
	is := naming{ends: slices.Clone(ends)}
	for i := range places {
		if places[i] == none {
			is.ends[i] = none
		}
	}
	all := b.lay.weigh(is.ends, at.ends)
	var list []Exchange
	for _, c := range cycles(at, is) {
		only := slices.Clone(is.ends)
		x := Exchange{}
		var names []string
		for _, lead := range c.leads {
			only[lead] = at.ends[lead]
			x.Leads = append(x.Leads, b.leads[lead])
			x.Ends = append(x.Ends, b.part.Terminals[is.ends[lead]])
			x.Places = append(x.Places, b.part.Terminals[at.ends[lead]])
			names = append(names, b.book.Terminals[b.leads[lead]].Name)
		}
		x.Weight = min(all, b.lay.weigh(is.ends, only))
		switch {
		case c.whole && len(names) == 2:
			x.Message = fmt.Sprintf("%s are exchanged", listed(names))
		case c.whole:
			x.Message = fmt.Sprintf("%s go round: each sits on the place of the next", listed(names))
		default:
			x.Message = fmt.Sprintf("%s is %s and sits on the place of %s", names[0], b.end(is.ends[c.leads[0]]), b.end(at.ends[c.leads[0]]))
		}
		list = append(list, x)
	}
	return list
}

func (b *built) end(t int) string { return b.book.NameWithin(b.part.Terminals[t]) }
