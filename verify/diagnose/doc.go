// Package diagnose turns readings of a cold amplifier into the most likely
// fault and the best next reading. It is built on package meter.
//
// [New] takes the wiring and lists every single fault that it can have: parts
// open, short, of another value or not there, joints that do not join, bridges
// between neighbours, leads exchanged or on the neighbour's place, controls in
// another position. Each has prior odds, which are told ([PriorOdds]).
// [Diagnosis.Suspect] weighs them by the readings (Bayes' rule): what each
// would make of every reading is known in closed form, with the tolerances of
// the parts. What no reading can tell apart is one suspect. Single faults come
// first; where none fits, pairs are tried. [Diagnosis.WhereNext] proposes the
// reading that is expected to tell most, preferring points that are safe and
// easy to reach, and says when nothing more can be learnt. Then it proposes
// another setting that would tell apart what is left, and where a second fault
// would show beside the first. Where nobody has set a pot, what a turn of it
// explains accuses nothing.
//
// The choice of explicit hypotheses over conflict sets, and the entropy of the
// next probe, follow J. de Kleer and B. C. Williams, Diagnosing multiple
// faults (1987), with a fault model for every part.
package diagnose
