package shell

import (
	"fmt"
	"strings"

	"buzzout/netlist"
	"buzzout/verify/diagnose"
	"buzzout/verify/meter"
)

var faultKinds = [...]string{
	diagnose.DryJoint: "dry-joint", diagnose.MissingPart: "missing-part", diagnose.OpenPart: "open-part",
	diagnose.LiftedWiper: "lifted-wiper", diagnose.ShortPart: "short-part", diagnose.WrongValue: "wrong-value",
	diagnose.Bridge: "bridge", diagnose.Exchanged: "exchanged", diagnose.Misplaced: "misplaced",
	diagnose.WrongSetting: "wrong-setting", diagnose.OpenContact: "open-contact", diagnose.Unlisted: "unlisted",
}

var slipNames = [...]string{
	diagnose.DecadeUp: "ten-times", diagnose.DecadeDown: "a-tenth", diagnose.NextUp: "next-value-up",
	diagnose.NextDown: "next-value-down", diagnose.Drifted: "drifted", diagnose.Elsewhere: "elsewhere",
}

// slipText says how a wrong value comes about.
func slipText(s diagnose.Slip) string {
	switch s {
	case diagnose.DecadeUp:
		return "ten times, as by a misread multiplier band"
	case diagnose.DecadeDown:
		return "a tenth, as by a misread multiplier band"
	case diagnose.NextUp, diagnose.NextDown:
		return "the next value of the series, as from the neighbouring drawer"
	}
	return "drifted, or another part"
}

// faultText tells a fault as a fact.
func (s *Session) faultText(f *diagnose.Fault) string {
	name := s.nameOrNone
	switch f.Kind {
	case diagnose.DryJoint:
		if f.Joint == nil {
			return name(f.A) + " is not joined to its conductor: a dry joint, a broken lead, or none"
		}
		return s.jointText(f.Joint) + " does not join: a dry joint, a break, or never made"
	case diagnose.MissingPart:
		return f.Part.Ref + " is not there, or not soldered at all"
	case diagnose.OpenPart:
		return s.faultPiece(f) + " is open"
	case diagnose.LiftedWiper:
		return "the wiper of " + f.Part.Ref + " (" + name(f.Piece.B) + ") does not touch its track"
	case diagnose.ShortPart:
		return s.faultPiece(f) + " is a short"
	case diagnose.WrongValue:
		return s.wrongValueText(f)
	case diagnose.Bridge:
		return name(f.A) + " and " + name(f.B) + " touch: solder, a whisker or a strand"
	case diagnose.Exchanged:
		return name(f.A) + " and " + name(f.C) + " are on each other's places: " + name(f.A) + " sits on " + name(f.D) + ", and " + name(f.C) + " on " + name(f.B)
	case diagnose.Misplaced:
		return name(f.A) + " leads to " + name(f.C) + ", next to " + name(f.B) + " where it belongs"
	case diagnose.WrongSetting:
		if f.Slip == diagnose.Elsewhere {
			return fmt.Sprintf("%s stands elsewhere than the notebook has it, with some %.0f\u00a0%% of its track below the wiper", f.Control.Name(), 100*f.Share)
		}
		return f.Control.Name() + " stands at " + f.Control.PositionName(f.Position) + ", and not where the notebook has it"
	case diagnose.OpenContact:
		return "the contact of " + f.Part.Ref + " between " + name(f.A) + " and " + name(f.B) + " is closed and does not conduct"
	}
	return "a fault that is not on the list"
}

// wrongValueText names both values; a track has the ohms of its whole.
func (s *Session) wrongValueText(f *diagnose.Fault) string {
	is := "is"
	if f.Slip == diagnose.Drifted {
		is = "is some"
	}
	what, instead := s.faultPiece(f), ""
	if f.Piece.Nature == meter.TrackBelow {
		what = "the track of " + f.Part.Ref
	} else {
		instead = " in place of " + ohmsSaid(f.Piece.Ohms)
	}
	return fmt.Sprintf("%s %s %s%s: %s", what, is, ohmsSaid(f.Value), instead, slipText(f.Slip))
}

// faultPiece names the piece of a fault; a capacitor or a diode is its part.
func (s *Session) faultPiece(f *diagnose.Fault) string {
	if f.Piece.Nature == 0 {
		if f.A != f.B && len(f.Part.Terminals) > 2 {
			return f.Part.Ref + " between " + s.nameOrNone(f.A) + " and " + s.nameOrNone(f.B)
		}
		return f.Part.Ref
	}
	return s.pieceName(&f.Piece)
}

// jointText says what joins two points, as "the green lead from A to B".
func (s *Session) jointText(j *netlist.Joint) string {
	how := howJoined(*j)
	if j.Kind == netlist.Wire {
		how = strings.TrimSpace(j.Colour.String() + " lead")
	}
	return "the " + how + " from " + s.book.Name(j.A) + " to " + s.book.Name(j.B)
}

// mendText says what to do about a fault.
func (s *Session) mendText(f *diagnose.Fault) string {
	name := s.nameOrNone
	switch f.Kind {
	case diagnose.DryJoint:
		if f.Joint == nil {
			return "look at " + name(f.A) + ": join it, or heat its joint again with fresh solder"
		}
		return "heat the joints at " + name(f.Joint.A) + " and " + name(f.Joint.B) + " again with fresh solder, and buzz from one to the other"
	case diagnose.MissingPart:
		return "look whether " + f.Part.Ref + " is there and soldered at each end"
	case diagnose.OpenPart, diagnose.WrongValue, diagnose.ShortPart:
		return "lift one end of " + f.Part.Ref + ", measure it alone, and replace it if it is so"
	case diagnose.LiftedWiper:
		return "turn " + f.Part.Ref + " to and fro while you measure, and replace it if that changes nothing"
	case diagnose.Bridge:
		return "look between " + name(f.A) + " and " + name(f.B) + " with a lens, and clean it"
	case diagnose.Exchanged:
		return "exchange " + name(f.A) + " and " + name(f.C)
	case diagnose.Misplaced:
		return "move it from " + name(f.C) + " to " + name(f.B)
	case diagnose.WrongSetting:
		return "look where " + f.Control.Name() + " stands, and say so by set"
	case diagnose.OpenContact:
		return "work the contact of " + f.Part.Ref + " some times, clean it, and buzz from " + name(f.A) + " to " + name(f.B)
	}
	return ""
}

// explanationText tells one fault, or two, in a sentence without its stop.
func (s *Session) explanationText(e *diagnose.Explanation) string {
	if len(e.Faults) == 0 {
		return "nothing is wrong that a cold reading can show"
	}
	var texts []string
	for i := range e.Faults {
		texts = append(texts, s.faultText(&e.Faults[i]))
	}
	return strings.Join(texts, "; and ")
}
