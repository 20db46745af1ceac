// Package procedure holds the tests that a technician does on a vehicle, as data, and carries them out on a simulated one.
//
// A [Procedure] is a starting state, steps and readings. Each [Step] is an [Action]: it has the words that a person is told
// and the deed that the simulator does, made from the same fields, so that instruction and prediction cannot disagree. The
// same goes for the starting states ([Start]): they too are lists of steps.
//
// [For] expands the templates over a vehicle's circuit. A [Bench] is one vehicle with its faults and scatter; [Bench.Do]
// carries out a procedure on it and returns one exact value per reading. How an exact value becomes a yes or a no (a hiss
// that is heard, a needle that lags) is told by the reading's [Judge]. [Bind] finds the reading that a finding is about.
//
// # What no air tells
//
// Some readings move no air: strokes and free travel, forces at the tyre and drums that they warm (package effort, package heat), water
// and oil in the drains (package moisture), the pedal's play, a lamp with a plug pulled off. They are worked out from the state that the
// steps have brought about. [Keys] tells vehicles apart by them where the air does not. One thing is reckoned on instead of being
// simulated to the end: the applications after the first in applications-until-warning, each of which takes the same share of what
// is left (see fan).
//
// What is the same in several procedures is carried out once (stem.go), so that a new one costs what it adds: readings on a run that is
// there are free, each new transient is not.
//
// # Adding a procedure
//
// Write a function that takes a *vehicle and returns procedures, beside its like (charging.go, leaking.go, applying.go,
// balancing.go, wheels.go, warning.go, comparing.go, supplying.go, listening.go, towing.go, workshop.go), and add it to groups in catalogue.go. Nothing else needs to know. A vehicle that
// lacks the parts gets none: return nil.
package procedure
