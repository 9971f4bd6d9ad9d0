// Package legend settles which flying lead of a part is which end.
//
// A part with coloured leads is told by several: the drawing, the stickers on
// the leads, the meter, the published colour code. [Sources] puts them side by
// side and finds where they contradict each other. [Consequences] says what
// would follow for the wiring as built if each of them were right, and
// [Prospects] what would follow of wiring by one of them. [Settle] gives the
// fewest readings that tell them apart, and [Identify] finds the ends from
// readings alone. [Disputes] is the record of all of it, and [Erratum] the
// letter to whoever drew the drawing.
//
// # What is assumed of a transformer
//
// All windings of a part share one core, so that between any two ends there
// stand as many volts as the turns between them. Turns go as the volts of a
// "volts" line, and as the square root of the ohms of a "load" line. The ends
// of a winding are told in the order in which they lie along it, and all
// windings of a part in the same sense, starts first: the first ends of two
// windings rise and fall together. Ohms rise along a winding as well, but not
// in the measure of the turns, since outer layers are longer: ohms give the
// order of the ends and no ratio.
//
// # What is certain
//
// A reading stands for a range: what the meter could have shown it for, see
// [Meter]. Something is certain only if every arrangement of the leads that
// fits all ranges has it so; what some arrangement has otherwise is open.
package legend
