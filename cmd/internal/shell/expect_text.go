package shell

import (
	"fmt"
	"math"
	"strings"

	"buzzout/lang"
	"buzzout/verify/meter"
)

func (a expectAnswer) write(p *page) {
	with := ""
	if a.With != "" {
		with = ", with " + a.With
	}
	p.say(0, 2, plain(a.what+", the red probe on "), strong(a.Red), plain(" and the black one on "), strong(a.Black), plain(with+":"))
	p.gap()
	p.say(2, 4, a.headline()...)
	a.writeRivals(p)
	a.writeBounds(p)
	a.writeMakeUp(p)
	a.writeParallel(p)
	a.writeClimbs(p)
	a.writeDirections(p)
	if a.Differs {
		p.gap()
		p.say(0, 2, plain("As drawn it would be "+drawnText(&a.expectRow)+": ask compare."))
	}
	writeCautions(p, a.Cautions, a.mains())
}

func (a *expectAnswer) mains() []string {
	if !a.Mains {
		return nil
	}
	return []string{a.Red, a.Black}
}

// headline is what the display should say, and why where it is no plain figure.
func (a *expectAnswer) headline() []span {
	shown := strong(ohmsSaid(float64(a.Shown)))
	over := strong("over range (OL, open)")
	switch {
	case a.OneConductor:
		return []span{plain("The meter should beep and show "), shown, plain(": the two are one conductor, and that is what its leads have" + a.leads() + ".")}
	case a.Kind == kindNames[meter.Rising] && math.IsInf(a.e.Shown, 1):
		return []span{plain("The reading should climb until it is "), over, plain(", while a capacitor charges.")}
	case a.Kind == kindNames[meter.Rising]:
		return []span{plain("The reading should climb to "), shown, plain(", while a capacitor charges.")}
	case math.IsInf(a.e.Ohms, 1) && len(a.e.Forward.Junctions) == 0:
		return []span{plain("The meter should show "), over, plain(": nothing that carries current leads from one to the other.")}
	case math.IsInf(a.e.Shown, 1) && len(a.e.Forward.Junctions) == 0:
		return []span{plain("The meter should show "), over, plain(": " + ohmsSaid(a.e.Ohms) + " is more than a hand-held meter shows.")}
	case math.IsInf(a.e.Shown, 1):
		return []span{plain("The meter should show "), over, plain(", or less where it drives a diode on.")}
	case len(a.e.Forward.Junctions) > 0:
		return []span{plain("The meter should show "), shown, plain(", or less where it drives a diode on.")}
	case a.e.Ohms < leastOhms:
		return []span{plain("The meter should show "), shown, plain(", which its leads have" + a.leads() + ": what lies between the two has no resistance there.")}
	case a.e.Ohms < 10:
		return []span{plain("The meter should show "), shown, plain(": " + ohmsSaid(a.e.Ohms) + ", and " + ohmsSaid(a.Probes) + " of its leads" + a.leads() + ".")}
	}
	return []span{plain("The meter should show "), shown, plain(".")}
}

// writeRivals says what the reading would be by other sources of the colours.
func (a *expectAnswer) writeRivals(p *page) {
	if len(a.Rivals) == 0 {
		return
	}
	var texts []string
	for _, r := range a.Rivals {
		texts = append(texts, "with "+r.Under+" it would be "+ohmsSaid(float64(r.Ohms)))
	}
	p.say(2, 4, plain("Sources disagree about the colours of "+joinAnd(a.disputed)+". That is with "+a.Under+"; "+joinAnd(texts)+". "+howToSettle(a.disputed)))
}

// leads says where the resistance of the meter's leads is from.
func (a *expectAnswer) leads() string {
	if a.told {
		return ""
	}
	return " (a guess: reading probes tells it)"
}

// writeBounds says how far off a reading may be, and what makes that so.
func (a *expectAnswer) writeBounds(p *page) {
	if a.OneConductor || math.IsInf(a.e.Ohms, 1) {
		return
	}
	worst := "At the worst"
	if len(a.e.Forward.Junctions) > 0 {
		worst += ", the diode left out,"
	}
	worst += " " + rangeText(a.e.Low, a.e.High, ohmsSaid)
	likely := "Nineteen times of twenty " + rangeText(a.e.LikelyLow, a.e.LikelyHigh, ohmsSaid) + ". "
	if a.e.LikelyLow <= a.e.Low*1.01 && a.e.LikelyHigh >= a.e.High*0.99 {
		likely = "" // one part's tolerance is all that there is
	}
	if a.Exact {
		p.say(2, 4, plain(worst+": parts within their tolerances make it no lower and no higher."))
	} else {
		p.say(2, 4, plain(worst+". These bounds are not exact:"))
		for _, why := range a.whyInexact() {
			p.say(4, 6, plain(why))
		}
	}
	p.say(2, 4, plain(likely+"With its leads and its own error the meter may show "+rangeText(float64(a.ShownLow), float64(a.ShownHigh), ohmsSaid)+"."))
}

// whyInexact tells each thing that the bounds are not exact for.
func (a *expectAnswer) whyInexact() []string {
	var list []string
	var unset []string
	for _, w := range a.Wipers {
		if !w.Set {
			unset = append(unset, w.Control)
			continue
		}
		list = append(list, fmt.Sprintf("The wiper of %s has %.0f to %.0f\u00a0%% of its track below it, and what one side of it gains the other loses.",
			w.Control, w.Least*100, w.Most*100))
	}
	if len(unset) > 0 {
		list = append(list, "Nobody has set "+joinAnd(unset)+": half the track is taken, and the bounds are for all its travel. They are closer with "+unset[0]+" 100%, say.")
	}
	for _, u := range a.Unknown {
		list = append(list, "Nobody has told what "+u.name+" has: "+rangeText(u.piece.Low, u.piece.High, ohmsSaid)+" is taken.")
	}
	return list
}

// writeMakeUp lists what the reading is about, and the way of the current.
func (a *expectAnswer) writeMakeUp(p *page) {
	if len(a.Shares) == 0 {
		return
	}
	p.gap()
	p.say(0, 2, plain("What makes it up:"))
	var rows []row
	rest := 1.0
	for i := range a.Shares {
		s := &a.Shares[i]
		rest -= s.Share
		rows = append(rows, row{cell(fmt.Sprintf("%5s", shareText(s.Share))), {strong(s.name)}, cell(worth(&s.piece.Value)), {faint(basisText(&s.piece.Value))}})
	}
	if rest > 0.005 {
		rows = append(rows, row{cell(fmt.Sprintf("%5s", shareText(rest))), cell("the rest"), {}, {}})
	}
	p.table(2, rows)
	if len(a.Chain) > 1 {
		text, least := "", 1.0
		for i := range a.Chain {
			if i > 0 {
				text += ", then "
			}
			text += a.Chain[i].name
			least = min(least, a.Chain[i].Current)
		}
		how := "All of the meter's current goes through "
		if least < 0.995 {
			how = fmt.Sprintf("Most of the meter's current (%s at the least) goes through ", tied(shareText(least)))
		}
		p.say(2, 4, plain(how+text+"."))
	}
}

// mostParallel is how many parts between the probes are told of at length.
const mostParallel = 2

// writeParallel tells why a part reads less than its value where it sits.
func (a *expectAnswer) writeParallel(p *page) {
	for i := range a.Parallel {
		b := &a.Parallel[i]
		if i == mostParallel {
			var others []string
			for _, o := range a.Parallel[i:] {
				others = append(others, o.name)
			}
			p.gap()
			p.say(0, 2, plain("The same holds for "+joinAnd(others)+"."))
			return
		}
		p.gap()
		p.say(0, 2, strong(b.name), plain(fmt.Sprintf(" is %s and reads %s where it sits, since %s lies beside it%s.",
			tied(worth(&b.piece.Value)), ohmsSaid(a.e.Ohms), ohmsSaid(float64(b.Around)), wayAround(b.Way))))
		b.writeLift(p)
	}
}

// writeLift says what to take off so that a part reads alone.
func (b *besideRow) writeLift(p *page) {
	switch {
	case b.Lift == "":
		p.say(2, 4, plain("No one end lifted makes it read alone: take "), strong(b.Part), plain(" out for that."))
	case b.LiftFrom == "":
		p.say(2, 4, plain("To read it alone, lift "), strong(b.Lift), plain("."))
	default:
		p.say(2, 4, plain("To read it alone, lift "), strong(b.Lift), plain(" off "+b.LiftFrom+"."))
	}
}

// wayAround names the parts on the way round.
func wayAround(links []linkRow) string {
	if len(links) == 0 {
		return ""
	}
	var names []string
	for i := range links {
		names = append(names, links[i].name)
	}
	most := ""
	if links[0].Current < 0.995 {
		most = "most of it "
	}
	return ": " + most + "by way of " + strings.Join(names, ", then ")
}

func (a *expectAnswer) writeClimbs(p *page) {
	for i, c := range a.Climbs {
		if i == 0 {
			p.gap()
		}
		what := c.Part
		for _, other := range a.Climbs[:i] {
			if other.Part == c.Part {
				what = ""
			}
		}
		if what == "" {
			continue
		}
		first := "begins near " + ohmsSaid(roundTo(float64(c.First), 1))
		if float64(c.First) < leastOhms {
			first = "begins near nought"
		}
		ends := "stands after " + secondsSaid(float64(c.Seconds))
		if math.IsInf(float64(c.Seconds), 1) {
			ends = "goes on to over range: nothing lies across it"
		}
		p.say(0, 2, strong(what), plain(" charges from the meter: the reading "+first+", climbs, and "+ends+". One that does not climb at all has "+what+" shorted or not there."))
	}
}

func (a *expectAnswer) writeDirections(p *page) {
	if len(a.Directions) == 0 {
		return
	}
	p.gap()
	p.say(0, 2, plain("A diode has a part in it. Some meters drive it on when they measure ohms, and some do not:"))
	for i := range a.Directions {
		d := &a.Directions[i]
		text := "the red probe on " + d.Red + " and the black one on " + d.Black + ": " + ohmsSaid(a.e.Ohms)
		if len(d.Diodes) > 0 {
			text += "; " + joinAnd(d.Diodes) + " driven on, anything down to " + ohmsSaid(float64(d.Low)) + ", most likely some " +
				tied(lang.FormatQuantity(roundTo(float64(d.Driven), 1), lang.Ohms))
		} else {
			text += ", no diode in the way"
		}
		p.say(2, 4, plain(text+"."))
	}
}

func drawnText(r *expectRow) string {
	if math.IsInf(float64(r.Drawn), 1) {
		return "over range"
	}
	return ohmsSaid(float64(r.Drawn))
}

// writeCautions comes last, where the eye rests: what may be charged where a
// probe goes, and that it is to be discharged, and that verified.
func writeCautions(p *page, list []cautionRow, mains []string) {
	if len(mains) > 0 {
		p.gap()
		p.say(0, 2, span{dangerStyle, "Mains."}, plain(" The mains comes to "+joinAnd(mains)+" or to what is joined there. "+
			"Pull the plug out of the wall, and keep it where you see it, before a probe goes there."))
	}
	if len(list) == 0 {
		return
	}
	p.gap()
	p.say(0, 2, span{dangerStyle, "Discharge first."}, plain(" A capacitor keeps its charge with the power off. It can kill whoever touches it, and it destroys a meter on ohms:"))
	for i := range list {
		p.say(2, 4, plain(list[i].text()))
	}
	p.say(2, 4, plain("Pull the mains plug, discharge through a resistor of some kilohm, and verify with the meter on volts, between the two points named, "+
		"that nothing is left. Only then put the meter on ohms."))
}

// text says where a charge may be, and how long it would stay.
func (c *cautionRow) text() string {
	text := fmt.Sprintf("%s, %s rated %s, between %s and %s.", c.Part, tied(lang.FormatQuantity(c.Farads, lang.Farads)),
		tied(lang.FormatQuantity(c.Volts, lang.Volts)), c.Plus, c.Minus)
	switch {
	case math.IsInf(float64(c.Seconds), 1):
		return text + " Nothing discharges it: it may be charged for days."
	case float64(c.Seconds) <= 0:
		return text
	}
	return text + fmt.Sprintf(" What lies across it takes %s to bring it down to %d\u00a0V, if all of that is sound.",
		secondsSaid(float64(c.Seconds)), meter.Touchable)
}
