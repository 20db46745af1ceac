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
// # Adding a procedure
//
// Write a function that takes a *vehicle and returns procedures, beside its like (charging.go, leaking.go, applying.go,
// warning.go, supply.go, listening.go), and add it to groups in catalogue.go. Nothing else needs to know. A vehicle that
// lacks the parts gets none: return nil.
package procedure
