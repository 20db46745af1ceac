// Package effort follows air to the road: push-rod force and stroke, the slack adjuster's lever, cam torque, wheel force,
// balance over axles and sides, and what the springs hold when the vehicle is parked.
//
// A [Vehicle] is made once of a network and its faults. What a wheel does at one moment is read off a run:
//
//	v, err := effort.New(network, faults)
//	now := v.At(run)               // one Effort a wheel
//	full := v.Apply(100 * circuit.PSI) // the same with that pressure asked for, springs held off
//	b := v.Balance(full)
//
// Strokes are those of the run, with all that its faults do to them; this package adds what no air tells: what a force at the
// rod becomes at the tyre, and what worn foundations leave of it. Sources stand beside each formula; where none is named the
// value is engineering judgement. Units: SI, pressures as spans above the atmosphere.
package effort
