package trace

import (
	"context"
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// A fault that acts only where there is never any pressure during a procedure leaves all of its readings as they are on the
// healthy vehicle: a hole, a seat or a bore with the atmosphere's pressure on both sides passes nothing, whatever its size, so
// that the healthy vehicle's run satisfies the faulty one's equations too. Such runs are not made.

// still is how far from the atmosphere a room's pressure may have been, Pa, for it to count as never having had any.
const still = 1.0

// quietRooms lists the rooms that hold no pressure at any moment of a procedure on the healthy vehicle, from the empty vehicle
// on, with the healthy readings.
func quietRooms(ctx context.Context, n *airflow.Network, p *procedure.Procedure) (map[string]bool, []float64, error) {
	bench, err := procedure.NewBench(n, nil, airflow.Scatter{})
	if err != nil {
		return nil, nil, err
	}
	bench.KeepExtremes()
	outcome, err := bench.Do(ctx, p)
	if err != nil {
		return nil, nil, err
	}
	quiet := map[string]bool{circuit.Atmosphere: true}
	for _, room := range n.Rooms() {
		low, high, ok := bench.Extremes(room)
		quiet[room] = ok && math.Abs(low-circuit.AtmospherePressure) < still && math.Abs(high-circuit.AtmospherePressure) < still
	}
	return quiet, outcome.Values, nil
}

// leavesAlone tells whether a fault can't matter in a procedure: all that it changes lies between quiet rooms.
func leavesAlone(changes []airflow.Change, quiet map[string]bool, p *procedure.Procedure, ends func(passage string) (from, to string)) bool {
	for _, c := range changes {
		switch c.Effect {
		case airflow.Leaks:
			if !quiet[c.Room] {
				return false
			}
		case airflow.Swells:
			// A changed chamber also moves its rod otherwise.
			if !quiet[c.Room] || readsRods(p) {
				return false
			}
		case airflow.Opens, airflow.Shuts, airflow.Shifts:
			from, to := ends(c.Passage)
			if !quiet[from] || !quiet[to] {
				return false
			}
		default:
			return false
		}
	}
	return true
}

// readsRods tells whether a procedure looks at push-rods.
func readsRods(p *procedure.Procedure) bool {
	for i := range p.Readings {
		if p.Readings[i].Dimension == circuit.Length {
			return true
		}
	}
	return false
}
