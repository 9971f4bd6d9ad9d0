// Package rules holds the rules: one file each, with the text that explains
// it. [All] is the list.
//
// A rule looks at elements and terminals and never at the name of a kind, so
// that a kind of the builder's own takes part in everything: where mains
// enters is a part with terminals called live and neutral, the chassis is a
// part whose terminals are one conductor however many there are. No rule
// calls another; what several need is in the files conductors, mains, bench
// and telling.
//
// Rules without a Look are found elsewhere, by reading the notebook or by
// comparing plan and wiring; their texts are here all the same, so that there
// is one list.
package rules

import (
	"buzzout/verify"
)

// All gives the rules in the order in which a person meets them: reading the
// notebook, checking the plan, comparing, checking the bench, and last what
// could hurt somebody.
func All() []verify.Rule {
	return []verify.Rule{
		// Found while the notebook is read.
		notText, tooLong, tooManyMistakes, badCharacter, openText, openBrace, strayLine, factInBraces,
		unknownWord, questionInFile, wrongForm, reservedName, wrongQuestion,
		unknownName, sameNameTwice, drawnTwice, drawingsDiffer, capitals, badFigure, badRange, badKind, cannotUse,
		jointOfOne, unclearEnd, noSuchJoint, boltNamedOnce, noSuchControl, noSuchPosition, nothingToStrike,
		badQuestion, cannotRead, cannotWrite, givenUp,

		// The plan.
		idlePart, idleContact, loneTerminal, emptyPinDrawn, shorted,
		gridFloats, noCurrentPath, heaterFloats, transformerColour,

		// Found by comparison.
		missingJoint, misplaced, exchanged, bridged, reversed, pinsShifted, unfitted, notOnDrawing, endsExchanged, leftOut,

		// The bench.
		goesNowhere, legInTheAir, spareUsed, emptyPin, sameLeadTwice, screenBothEnds,
		otherValue, otherKind, otherTag, wireColour, earthColour,

		// What could hurt somebody.
		noBleederDrawn, noBleeder, fusedNeutral, fuseEnd, switchedNeutralDrawn, switchedNeutral, unfusedLiveDrawn, unfusedLive,
		noEarthDrawn, noEarth, mainsOnChassisDrawn, mainsOnChassis,
	}
}
