package states

import "buzzout/verify"

// Rules gives the rules over settings: what can go wrong in positions of the
// plugs and switches other than those in which they stand. One file each.
//
// Each goes through all settings of the controls that its question can depend
// on, up to Bound of them (where levels are worked out, maxSelections), and
// says what it has not moved beyond that.
func Rules() []verify.Rule {
	return []verify.Rule{
		inputFloatsDrawn, inputMutesDrawn, contactDoesNothing, emptyPosition, samePositions,
		loadOpensDrawn, bleederLostDrawn,
		inputFloats, inputMutes, loadOpens, bleederLost,
	}
}
