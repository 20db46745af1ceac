// Package explain says in plain words what is happening in a part of a vehicle, and why, at one moment of a run.
//
//	x := explain.New(network)
//	m := x.At(glance, "psi")
//	m.Part("rear_relay").Now // "It delivers: the control line asks for 45 psi and the brakes have 12 psi ..."
//	m.Why("rear_hose")       // where the air in a line comes from, or what keeps air out of it
//
// What a kind of part says is a table of its own (words_*.go), keyed by the kind's name: conditions on passages, pressures,
// controls and rods, and the sentence that holds when they do. A kind is added by adding to the table; the contract test
// fails for a kind without words, and for a sentence about a passage, room or control that its kind lacks.
package explain
