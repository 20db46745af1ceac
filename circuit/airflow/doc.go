// Package airflow makes the air move in a circuit.
//
// A circuit is compiled once into a [Network]: rooms that hold air, elements that pass it, latches that remember, and the
// operator's controls. A [Run] carries one vehicle (with its faults and its scatter) through time:
//
//	n, err := airflow.Compile(c)
//	r, err := n.Start([]airflow.Fault{{Target: "tank", Mode: "primary leaking", Severity: 0.8e-3}}, airflow.Scatter{})
//	err = r.Set("engine", c.Engine.Rated.SI, 1)
//	fired, err := r.Until(300, airflow.Event{Latch: "governor.cutout", Value: true})
//	p := r.Pressure("tank.primary")
//
// What a kind of component adds to the network is its [Law], in a table keyed by the kind's name; what each of its fault
// modes does there is in the law's Modes. The solver knows neither kinds nor modes, so that a kind is added by adding.
//
// Topology never changes: each thing that a fault or a procedure can open (a leak, a worn seal, a line taken off) is a
// dormant element from the start, and costs nothing while it is shut.
//
// # Model
//
// The state of an isothermal room is x = m·R·T0 = p·V (J), its pressure a closed form of x even where a piston moves;
// reservoirs carry the energy E = p·V beside it. Every restriction and valve is one kind of element: the flow of ISO 6358
// times an opening that hangs on pressures, controls and latches (flow.go, flow_warm.go). RODAS3, a linearly implicit method
// with exact derivatives and a sparse factorisation of fixed pattern, takes the steps (solver.go, sparse.go); latches and
// awaited events are located on them by secant (event.go). Mass is kept to rounding, and what leaves at each place is counted
// (tally.go). A run is the same bit by bit on every repetition on one processor architecture.
//
// Units: SI, absolute pressure.
package airflow
