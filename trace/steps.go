package trace

import (
	"context"
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// Steps of a cell: simulated vehicles with severities along it, and at which share of its way.
type steps struct {
	cell     int
	shares   []float64
	vehicles []int
}

// finely takes a cell in two steps.
func (t *Tracer) finely(c int) *steps {
	s := &steps{cell: c, shares: []float64{0, 1}, vehicles: []int{t.vehicleAlong(c, 0), t.vehicleAlong(c, 1)}}
	s.halve(t, 0)
	return s
}

func (s *steps) halve(t *Tracer, i int) {
	share := (s.shares[i] + s.shares[i+1]) / 2
	s.shares = slices.Insert(s.shares, i+1, share)
	s.vehicles = slices.Insert(s.vehicles, i+1, t.vehicleAlong(s.cell, share))
}

// vehicleAlong a cell.
func (t *Tracer) vehicleAlong(i int, share float64) int {
	c := &t.cells[i]
	if c.from == c.to {
		return c.from
	}
	way := c.a + (c.b-c.a)*share
	switch way {
	case 0:
		return c.from
	case 1:
		return c.to
	}
	return t.table.vehicleBetween(place{c.from, int(math.Round(way * parts))})
}

// refine the steps of cells where a reading that was taken is reached at one end of a step and not at the other, or bends between two steps: they are
// halved again, as long as what lies in the step is worth it.
func (t *Tracer) refine(ctx context.Context, observations []observation, procedures, cells []int, worth func(c, from, to int) bool) (map[int]*steps, error) {
	out := map[int]*steps{}
	for _, c := range cells {
		out[c] = t.finely(c)
	}
	for range edgeHalved {
		var fresh []int
		for _, c := range cells {
			s := out[c]
			uneven := t.uneven(observations, s)
			for i := len(s.shares) - 2; i >= 0; i-- {
				if uneven[i] && worth(c, s.vehicles[i], s.vehicles[i+1]) {
					s.halve(t, i)
					fresh = append(fresh, s.vehicles[i+1])
				}
			}
		}
		if len(fresh) == 0 {
			break
		}
		if err := t.table.fill(ctx, procedures, fresh, nil); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// uneven tells of each step whether what lies within it is still unknown.
func (t *Tracer) uneven(observations []observation, s *steps) []bool {
	out := make([]bool, len(s.shares)-1)
	for i := range out {
		out[i] = t.edge(observations, s.vehicles[i], s.vehicles[i+1])
		if i > 0 && t.bent(observations, s, i) {
			out[i-1], out[i] = true, true
		}
	}
	return out
}

// bentBy is by how many spreads of a reading it may lie beside the straight way from one simulated severity to the next but one.
const bentBy = 2.0

// bent tells whether a reading that was taken bends at a step.
func (t *Tracer) bent(observations []observation, s *steps, i int) bool {
	share := (s.shares[i] - s.shares[i-1]) / (s.shares[i+1] - s.shares[i-1])
	return slices.ContainsFunc(observations, func(o observation) bool {
		from, at, to := t.table.values(o.procedure, s.vehicles[i-1]), t.table.values(o.procedure, s.vehicles[i]), t.table.values(o.procedure, s.vehicles[i+1])
		if from == nil || at == nil || to == nil || o.r.Form == procedure.YesNo || t.counted(o.procedure) {
			return false
		}
		off := at[o.reading] - from[o.reading] - share*(to[o.reading]-from[o.reading])
		spread := o.e.Sigma
		if h := t.healthy(o.procedure, o.reading); !math.IsNaN(h) {
			spread = math.Hypot(spread, effectError*(at[o.reading]-h))
		}
		return math.Abs(off) > bentBy*spread // false where one of them is not reached
	})
}

// counted tells whether a procedure goes by a count: its readings jump from one to the next, and no halving makes that straight.
func (t *Tracer) counted(p int) bool {
	return slices.ContainsFunc(t.procedures[p].Readings, func(r procedure.Reading) bool {
		return r.Dimension == circuit.Count && r.Form == procedure.Measured
	})
}

// edge tells whether a reading that was taken gets lost between two vehicles.
func (t *Tracer) edge(observations []observation, from, to int) bool {
	return slices.ContainsFunc(observations, func(o observation) bool {
		a, b := t.table.values(o.procedure, from), t.table.values(o.procedure, to)
		return a != nil && b != nil && math.IsNaN(a[o.reading]) != math.IsNaN(b[o.reading])
	})
}
