package trace

import (
	"context"
	"math"
	"slices"

	"airpath/trace/reason"
)

// A closer look at what leads. The common draws tell hundreds of hypotheses apart quickly and coarsely: there are few of them for
// what they stand for, a severity is taken anew in every reading, and readings move as on a healthy vehicle. What leads is worth more.
// For each of its cells the severity is one number in all readings, what is shared within the vehicle is drawn where the findings
// put it on this hypothesis (importance sampling around the mode, which is found by Gauss and Newton), and readings
// move with it as they do on a vehicle with this fault.

const (
	mostClose  = 5    // hypotheses at a time
	leastClose = 1e-2 // of the likeliest one
	leastNear  = 1e-3 // of the likeliest of its hypothesis
	edgeHalved = 3    // times
	mostLooks  = 3    // until nothing else leads
	closeDraws = 128
	fromPrior  = 0.25 // of the draws: so that no mode that was missed is left out altogether
	wider      = 1.2  // than the normal at the mode, the others are drawn
	modeSteps  = 5
)

// lookCloser at the leading hypotheses.
func (t *Tracer) lookCloser(ctx context.Context, observations []observation, belief *reason.Belief) error {
	if len(observations) == 0 {
		return nil
	}
	var procedures []int
	for i := range observations {
		procedures = append(procedures, observations[i].procedure)
	}
	more := map[int]float64{} // by cell
	bases := map[int]int{}    // by hypothesis
	normal := reason.Draws(closeDraws, t.nuisances.dims())
	for range mostLooks {
		cells, fine, fresh := t.leadingCells(belief.Posterior(), more, bases)
		if len(cells) == 0 {
			return nil
		}
		if err := t.table.fill(ctx, procedures, fine, nil); err != nil {
			return err
		}
		steps, err := t.refine(ctx, observations, procedures, cells)
		if err != nil {
			return err
		}
		for _, base := range fresh {
			if err := t.table.fill(ctx, t.table.changedIn(procedures, base), t.aside(base), nil); err != nil {
				return err
			}
		}
		gazes := map[int]*gaze{}
		for _, c := range cells {
			h := t.cells[c].hypothesis
			if gazes[h] == nil {
				gazes[h] = t.gazeAt(observations, bases[h], normal)
			}
			rest := belief.LogMeans(c, func(key string) bool { return gazes[h].keys[key] == 0 }) // complaints and logs
			more[c] = gazes[h].at(steps[c]) + rest - belief.LogLikelihood(c)
		}
		belief.LookCloser(more)
	}
	return nil
}

// leadingCells of the leading hypotheses that have not been looked at, the vehicles with their severities, and the bases that are new.
func (t *Tracer) leadingCells(p reason.Posterior, seen map[int]float64, bases map[int]int) (cells, fine, fresh []int) {
	for _, h := range t.leaders(p) {
		list := &t.list[h]
		best := likeliest(p, list)
		for c := list.cell; c < list.cell+list.cells; c++ {
			if _, ok := seen[c]; ok || p.Singles[c] < leastNear*p.Singles[best] {
				continue
			}
			cells = append(cells, c)
			fine = append(fine, t.finely(c).vehicles...)
		}
		if _, ok := bases[h]; !ok {
			bases[h] = t.baseOf(best)
			fresh = append(fresh, bases[h])
		}
	}
	return cells, fine, fresh
}

// changedIn are the procedures in which a vehicle reads otherwise than the healthy one. In all others it moves as that one does.
func (t *table) changedIn(procedures []int, vehicle int) []int {
	var out []int
	for _, p := range procedures {
		if t.changed(vehicle, p) {
			out = append(out, p)
		}
	}
	return out
}

func (t *table) changed(vehicle, p int) bool {
	return !alikeAll(t.procedures[p], t.values(p, vehicle), t.values(p, 0))
}

// aside are the vehicles that lie a σ up from one.
func (t *Tracer) aside(base int) []int {
	var out []int
	first := t.table.around(base)
	for k := range t.nuisances.dims() - 1 {
		out = append(out, first+2*k)
	}
	return out
}

// leaders are the hypotheses that are looked at more closely, in order.
func (t *Tracer) leaders(p reason.Posterior) []int {
	var out []int
	for h := range t.list {
		if h != somethingElse {
			out = append(out, h)
		}
	}
	slices.SortStableFunc(out, func(x, y int) int { return -compareCoarse(p.Alone[x], p.Alone[y]) })
	n := 0
	for n < min(len(out), mostClose) && p.Alone[out[n]] >= leastClose*p.Alone[out[0]] {
		n++
	}
	return out[:n]
}

// baseOf a cell: the simulated vehicle around which its readings are taken to move.
func (t *Tracer) baseOf(c int) int {
	if t.cells[c].b > 0.75 {
		return t.table.alias[t.cells[c].to]
	}
	return t.table.alias[t.cells[c].from]
}

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

// refine the steps of cells where a reading that was taken is reached at one end of a step and not at the other: at which severity it gets lost
// is halved and halved again.
func (t *Tracer) refine(ctx context.Context, observations []observation, procedures, cells []int) (map[int]*steps, error) {
	out := map[int]*steps{}
	for _, c := range cells {
		out[c] = t.finely(c)
	}
	for range edgeHalved {
		var fresh []int
		for _, c := range cells {
			s := out[c]
			for i := len(s.shares) - 2; i >= 0; i-- {
				if t.edge(observations, s.vehicles[i], s.vehicles[i+1]) {
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

// edge tells whether a reading that was taken gets lost between two vehicles.
func (t *Tracer) edge(observations []observation, from, to int) bool {
	return slices.ContainsFunc(observations, func(o observation) bool {
		a, b := t.table.values(o.procedure, from), t.table.values(o.procedure, to)
		return a != nil && b != nil && math.IsNaN(a[o.reading]) != math.IsNaN(b[o.reading])
	})
}
