package diagnose

import (
	"math"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/verify/meter"
)

// An observation is a reading in the view of its moment.
type observation struct {
	reading *netlist.Reading
	m       *moment
	pair    pair
	sound   forecast // of the reading without a fault
	meter   meter.Meter
	sign    string
	ohms    float64 // of the figure, the leads taken off; of "over", what it is over
	driven  float64 // the least that a junction may let it read; +Inf where none conducts
	climbs  bool    // a capacitor makes it climb
	taught  bool    // it taught the value of a piece
	stale   bool    // it was taken before the last work on the bench: a fault may have come since

	rough    float64     // how likely sound wiring makes it, with a broad spread, as a logarithm
	foreseen []*foreseen // by hypothesis
}

// observe puts a reading into its view. It fails for what is not read cold.
func observe(r *netlist.Reading, at *moment, m meter.Meter) (observation, bool) {
	o := observation{reading: r, m: at, pair: at.pair(r.Red, r.Black), meter: m, sign: r.Sign, driven: math.Inf(1)}
	if r.Sign == "" || r.Sign == "over" {
		if r.Value.Quantity != lang.Ohms {
			return o, false
		}
		o.ohms = r.Value.Value
		if r.Sign == "" {
			o.ohms = max(0, o.ohms-m.Probes)
		}
	}
	o.climbs = at.n.Climbs(o.pair.pr)
	if d := at.n.Direction(o.pair.pr.P, o.pair.pr.Q); len(d.Junctions) > 0 {
		o.driven = d.Low
	}
	o.sound = at.sound.predict(&o.pair)
	return o, true
}

// How often meters and hands err, as shares of all readings (common practice,
// no source).
const (
	// wild is how often a reading is no reading at all: a probe on the wrong tag,
	// a finger across the tips, a slip of the pen.
	wild = 0.005
	// mistyped is how often a reading is noted with k for M, or the other way.
	mistyped = 0.002
	// early is how often a climbing reading is taken before it stands still.
	early = 0.1
	// never is how often a meter shows a figure where there is no way, or none
	// where there is one.
	never = 0.002
	// climbsUnseen, climbsShort and climbsSeen are how often one notes that a
	// reading climbs: where no capacitor makes it, at a short, and where one does.
	climbsUnseen, climbsShort, climbsSeen = 0.05, 0.01, 0.9
)

const (
	// span is how far readings may lie apart, as a natural logarithm: from half an
	// ohm to the 20 megohm at the top of the meter's range.
	span = 17.5
	// floor is added to ohms before the logarithm is taken, so that tenths of an
	// ohm do not count as decades.
	floor = 0.5
	// shortMost is up to how many ohms what lies across a capacitor counts as a
	// short, so that nothing climbs.
	shortMost = 5
)

// level is the logarithm in which readings are compared.
func level(ohms float64) float64 { return math.Log(ohms + floor) }

// noise is the standard deviation of the meter's own error, in the logarithm.
func (o *observation) noise(ohms float64) float64 {
	return o.meter.Slack(ohms) / 2 / (ohms + floor)
}

// wildly is how likely a figure is where it is not the reading that it should
// be: wild, or with its unit mistaken.
func (o *observation) wildly(f *forecast) float64 {
	density := wild / span
	if f.ohms > o.meter.Most {
		return density
	}
	sd := o.deviation(f)
	for _, by := range units {
		if ohms, shown := o.inUnit(by); shown {
			density += mistyped * f.density(level(ohms), sd)
		}
	}
	return density
}

// units are by how much a figure changes with the next unit.
var units = [...]float64{1000, 1.0 / 1000}

// inUnit is what a figure would be with another unit, the leads taken off: so
// many times what the meter showed. It fails for what no meter shows.
func (o *observation) inUnit(by float64) (ohms float64, shown bool) {
	figure := o.reading.Value.Value * by
	return max(0, figure-o.meter.Probes), figure >= o.meter.Resolution(figure)
}

// deviation is the standard deviation of a figure about its forecast, in the
// logarithm: the parts' and the meter's.
func (o *observation) deviation(f *forecast) float64 {
	return math.Hypot(f.spread*f.ohms/(f.ohms+floor), o.noise(f.ohms))
}

// isWild says that a hypothesis explains the observation no better than a slip
// of the probes would.
func (o *observation) isWild(d *Diagnosis, h hypothesis) bool {
	if h.first == unlisted || o.taught {
		return false
	}
	f := o.m.prepareBoth(d, h).predict(&o.pair)
	likely := o.weigh(&f)
	if o.sign == "" {
		return likely < math.Log(2*o.wildly(&f))
	}
	return likely < math.Log(2*never)
}

// plain says that the observation is a figure that is compared with a
// prediction in the ordinary way.
func (o *observation) plain(f *forecast) bool {
	return o.sign == "" && !o.taught && !o.stale && f.ohms <= o.meter.Most && math.IsInf(o.driven, 1) &&
		!o.sound.travels() && !f.travels()
}

// allowed is the density of a figure that a hypothesis allows, where it depends
// on a control that nobody has set, as if it were known to a twentieth. All
// figures that depend on that control depend on the same turn of it, so that
// they speak against a hypothesis that does not allow them at any turn, and for
// none: otherwise one coincidence would count as often as it is read.
var allowed = normal(0, 0, 0.05)

// weigh is the logarithm of how likely the observation is by a forecast.
func (o *observation) weigh(f *forecast) float64 {
	if o.stale && !same(f.ohms, o.sound.ohms) {
		return math.Log((math.Exp(o.weighNow(f)) + math.Exp(o.weighNow(&o.sound))) / 2)
	}
	return o.weighNow(f)
}

// weighNow is weigh for a fault that was there when the reading was taken.
func (o *observation) weighNow(f *forecast) float64 {
	if o.taught {
		return o.weighTaught(f.ohms)
	}
	over := f.ohms > o.meter.OverFrom()
	switch o.sign {
	case "":
		return math.Log(o.density(f))
	case "open":
		if over {
			return math.Log(1 - never)
		}
		return math.Log(never)
	case "over":
		// How far above is not told; near the figure it may go either way.
		return math.Log(never + (1-2*never)*normalAbove(level(f.ohms), level(o.ohms), math.Hypot(f.spread, 0.02)))
	case "rising":
		switch {
		case !o.climbs:
			return math.Log(climbsUnseen)
		case f.ohms < shortMost:
			return math.Log(climbsShort)
		}
		return math.Log(climbsSeen)
	}
	buzzes := 0.5
	switch {
	case f.travels(): // the pot may stand either way
	case f.ohms <= meter.SurelyBuzzes:
		buzzes = 1 - never
	case f.ohms >= meter.SurelySilent:
		buzzes = never
	}
	if o.sign == "silent" {
		buzzes = 1 - buzzes
	}
	return math.Log(buzzes)
}

// density is that of a figure, in the logarithm.
func (o *observation) density(f *forecast) float64 {
	at := level(o.ohms)
	sound := never / span
	if f.ohms <= o.meter.Most {
		sound = f.density(at, o.deviation(f))
		if o.sound.travels() {
			sound = f.allows(at, o.deviation(f)) * allowed
		}
		if o.climbs && at < level(f.ohms) {
			sound = (1-early)*sound + early/span
		}
	}
	if !math.IsInf(o.driven, 1) {
		// The junction conducts in some meters: anything down to what it lets
		// through.
		low := level(o.driven) - 0.2
		through := 0.0
		if at >= low && (f.ohms > o.meter.Most || at <= level(f.ohms)) {
			through = 1 / span
		}
		sound = (sound + through) / 2
	}
	return (1-wild-2*mistyped)*sound + o.wildly(f)
}

// Of a fault that is not on the list: how often it touches a reading, and
// what a reading says then, as shares: a figure, no way at all or one that
// climbs, or the one and the other of a beeper (common practice, no source).
const (
	touched    = 0.15
	anyFigure  = 0.8
	anyOpen    = 0.2
	eitherBuzz = 0.5
)

// loose is the logarithm of how likely the observation is for a fault that is
// not on the list: mostly it does not touch this reading, and otherwise
// anything may stand there.
func (o *observation) loose(sound *forecast) float64 {
	anything := anyOpen
	switch o.sign {
	case "":
		anything = anyFigure / span
	case "buzz", "silent":
		anything = eitherBuzz
	}
	return math.Log((1-touched)*math.Exp(o.weigh(sound)) + touched*anything)
}

func normal(x, middle, sd float64) float64 {
	z := (x - middle) / sd
	return math.Exp(-z*z/2) / (sd * math.Sqrt(2*math.Pi))
}

// normalAbove is how likely a value about middle is above x.
func normalAbove(middle, x, sd float64) float64 {
	if math.IsInf(middle, 1) {
		return 1
	}
	return math.Erfc((x-middle)/(sd*math.Sqrt2)) / 2
}
