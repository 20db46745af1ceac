// Package trace says what the findings of a case come to: which faults they leave standing, with what probability, by which
// path and at what severity; what they clear, and by what; which faults they can't tell apart; and which procedure tells
// most for the next minutes.
//
// A [Tracer] is made once for a vehicle, and asked about any number of cases ([Tracer.Trace]). Two arms work on each case.
//
// Paths: the healthy circuit's open passages at each moment of a procedure (atlas.go) tell which faults have an open way to
// an abnormal reading (accuse.go, paths.go), which would have shown at a place that holds (clearing.go), and which smallest
// sets of faults explain everything (explain.go).
//
// Numbers: each fault at several severities is simulated through each procedure (severity.go, hypothesis.go, signature.go).
// A reading is then a density (likelihood.go), with what is shared within the vehicle, such as the own error of a gauge, drawn
// once for the whole case and summed out over all of its findings (nuisance.go). The arithmetic is package reason's.
//
// What to do next is chosen among the procedures with those of their readings that tell most (outcomes.go, figures.go, sorts.go,
// joint.go), by looking ahead to where it would be known what is the matter (next.go; [reason.Search]). What is set up already need
// not be done again: looking ahead each procedure leaves the vehicle to the next, and what the last one was the case says (setup.go).
// When nothing is worth its minutes any more it is said what is left, and how a repair parts it (stop.go). Suspects that no reading parts at severities that
// fit the findings are named as one group (profile.go).
//
// What may lead is then looked at more closely (closer.go, closer_pairs.go): at a glance by what has been simulated, then with its own severities, which are
// simulated where they matter and are one number in all readings (steps.go), then with readings that move with the vehicle as they do with that fault (bend.go).
// What gets such a look is not what seems likely but what may turn out to be (closer_hope.go), and what lies in line with a fault that leads
// (closer_beside.go): which severities happen to be simulated must not tell one fault from another.
// What is shared is drawn where the findings put it (gaze.go, crest.go), and drawn again until enough draws count (points.go); the own error of a gauge in
// good order lies evenly within its tolerance (evenly.go), and that of a faulty one is its fault;
// what the simulation itself is off by is partly the same in all readings of a sort (shared.go).
// What nobody would have noticed brings no vehicle in (noticed.go), and what it came in for is one of all the things that its fault shows
// (reported.go).
//
// A complaint in trade words is weak evidence through the readings it is about (complaint*.go). Which faults the procedures can
// show and tell apart at all, and which added test port would split the rest, is a question about the vehicle alone
// (isolability*.go); split.go asks it of one verdict's groups.
//
// A recorded gauge log is weighed as a curve (logs.go, curvefit.go): each simulated severity gives one, what is not known of the
// vehicle is left free within its prior and summed out in closed form, and neighbouring samples count as one. The leading
// suspects' sizes are then fitted by simulating anew (logfit.go).
//
// What a person reads of each fault, how common it is, how it is proven by hand and mended, is in words*.go. A new fault mode
// needs a line there, and nothing else in this package.
package trace
