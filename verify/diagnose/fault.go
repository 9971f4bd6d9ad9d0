package diagnose

import (
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify/meter"
)

// Kind says what is wrong.
type Kind uint8

// The kinds of fault.
const (
	_            Kind = iota
	DryJoint          // a joint that does not join, or a lead that is broken or was forgotten
	MissingPart       // a part that is not there, or not soldered at all
	OpenPart          // a resistor, track, winding, coil, fuse, lamp or heater without way
	LiftedWiper       // a wiper that does not touch its track
	ShortPart         // a part without resistance: a capacitor or diode too
	WrongValue        // a part of another value
	Bridge            // neighbouring points joined by solder, a whisker or a strand
	Exchanged         // two leads or legs on each other's places
	Misplaced         // one lead or leg on the neighbouring place
	WrongSetting      // a control that stands elsewhere than the notebook says
	OpenContact       // a closed contact that does not conduct
	Unlisted          // a fault that is not on the list
)

// A Fault is one thing that may be wrong.
type Fault struct {
	Kind Kind
	Part *netlist.Part // of a part or contact; nil for what lies between parts
	// Piece is what is open, short or of another value: of a MissingPart the
	// first of them; Nature is 0 for a capacitor or diode.
	Piece meter.Piece
	// Value is what a WrongValue would be, in ohms, and Slip how it comes about.
	Value float64
	Slip  Slip
	// A and B are the ends of a joint or contact, or the points of a bridge. Of
	// a Misplaced lead A is the end that stays, B the place where it belongs and
	// C that where it would sit. Of Exchanged ones A belongs on B, and C on D.
	A, B, C, D netlist.TerminalID
	Joint      *netlist.Joint // of a DryJoint, Misplaced or Exchanged, the first; nil from the plan
	Control    netlist.ControlRef
	Position   netlist.Position // of a WrongSetting: where it would stand; not Known of a pot that stands Elsewhere
	Share      float64          // of a pot that stands Elsewhere: how much of its track would lie below the wiper, 0 to 1
	Odds       float64          // prior odds against the other faults of the list

	other   *netlist.Joint // of Exchanged, the second
	contact *parts.Contact // of OpenContact
}

// Slip says how a wrong value or setting comes about.
type Slip uint8

// The slips.
const (
	_          Slip = iota
	DecadeUp        // ten times: a multiplier band misread
	DecadeDown      // a tenth
	NextUp          // the next value of the series, from the neighbouring drawer
	NextDown
	Drifted   // some other value: as Value says, in the middle of a range
	Elsewhere // a pot that stands somewhere else than told, and at no stop
)

// Odds are the prior odds of a kind of fault.
type Odds struct {
	Kind  Kind
	Slip  Slip    // for WrongValue and WrongSetting
	Odds  float64 // of each single one, in units of a bridge between two neighbours
	Basis string
}

const practice = "common practice, no source"

// priorOdds are how often things go wrong in a first build, one against the
// other. Nobody has counted them in public; they are a builder's guess, and
// readings overrule them.
var priorOdds = []Odds{
	{DryJoint, 0, 3, practice},
	{MissingPart, 0, 1.5, practice},
	{OpenPart, 0, 0.7, practice},
	{LiftedWiper, 0, 1, practice},
	{ShortPart, 0, 0.3, practice},
	{WrongValue, DecadeUp, 2, practice},
	{WrongValue, DecadeDown, 2, practice},
	{WrongValue, NextUp, 1, practice},
	{WrongValue, NextDown, 1, practice},
	{WrongValue, Drifted, 0.3, practice},
	{Bridge, 0, 1, practice},
	{Exchanged, 0, 0.7, practice},
	{Misplaced, 0, 0.5, practice},
	{WrongSetting, 0, 2, practice},
	{WrongSetting, Elsewhere, 0.2, practice},
	{OpenContact, 0, 1, practice},
}

// PriorOdds lists the prior odds, so that they can be shown and disputed.
func PriorOdds() []Odds { return append([]Odds(nil), priorOdds...) }

// Odds of what is not one fault, and of what stands out (common practice, no
// source).
const (
	// oddsNothing is the share of all prior odds for nothing being wrong that a
	// cold reading can show: whoever asks has a reason to.
	oddsNothing = 0.05
	// oddsUnlisted is that for a fault that is not on the list.
	oddsUnlisted = 0.02
	// oddsKnown is by how much comparison raises the odds of a fault at a
	// terminal that it has found something about.
	oddsKnown = 5
	// oddsFuse is of a fuse or lamp that is open: what is made to go open does.
	oddsFuse = 4
)

func oddsOf(k Kind, s Slip) float64 {
	for _, o := range priorOdds {
		if o.Kind == k && o.Slip == s {
			return o.Odds
		}
	}
	return 0
}
