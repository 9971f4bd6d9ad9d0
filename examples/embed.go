// Package examples holds notebooks to try things on, as they stand in this
// folder. The amplifier in them is invented.
package examples

import "embed"

// Files are the notebooks.
//
//go:embed *.buzzout
var Files embed.FS

// Demo is the notebook that the guided start opens: an amplifier with
// mistakes in its wiring.
const Demo = "lantern-faults.buzzout"
