// Package airflow makes the air move in a circuit.
//
// A circuit is compiled once into a [Network]: nodes that hold air, elements that pass it, latches that remember, and the
// operator's controls. A [Run] carries one vehicle (with its faults and its scatter) through time.
//
// What a kind of component adds to the network is its [Law], in a table keyed by the kind's name; what each of its fault
// modes does there is in the law's Modes. The solver knows neither kinds nor modes, so that a kind is added by adding.
//
// Topology never changes: each thing that a fault or a procedure can open (a leak, a worn seal, a line taken off) is a
// dormant element from the start.
//
// Units: SI, absolute pressure. The state of an isothermal node is x = m·R·T0 = p·V (in J); reservoirs carry the energy
// E = p·V beside it. The equations and their sources stand beside the code that works them: flow.go, flow_warm.go, solver.go.
package airflow
