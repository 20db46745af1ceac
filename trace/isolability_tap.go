package trace

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// Minutes to get a gauge to a place. Engineering judgement.
const (
	minutesTank  = 10 // at the drain or a plugged boss of a reservoir
	minutesTee   = 15 // a line undone, a tee put in
	minutesProbe = 5  // a test lamp on a terminal
)

// portMinutes are the kinds that a gauge is simply put on.
var portMinutes = map[string]float64{"test-connection": 2}

// tapStep is the difference that a service gauge on an added port shows: two of its σ of 1 psi.
const tapStep = 2 * circuit.PSI

// A spot is a place where a gauge could be fitted.
type spot struct {
	room    string
	words   string
	minutes float64
}

// spots lists every room that a line is fastened to, once, at its cheapest place, by room.
func (t *Tracer) spots() []spot {
	best := map[string]spot{}
	offer := func(s spot) {
		if old, ok := best[s.room]; s.room != "" && s.room != circuit.Atmosphere && (!ok || s.minutes < old.minutes) {
			best[s.room] = s
		}
	}
	reservoirs := map[string]bool{}
	for _, r := range t.circuit.Reservoirs() {
		reservoirs[r.Room] = true
	}
	for _, l := range t.circuit.Lines {
		if l.Type.Medium() != circuit.Air {
			continue
		}
		for _, ref := range []circuit.PortRef{l.From, l.To} {
			c := t.circuit.Component(ref.Component)
			room := t.circuit.Room(ref)
			if c == nil || slices.Contains(t.network.Gauges(), c.ID) {
				continue
			}
			port, isPort := portMinutes[c.Kind.Name]
			switch {
			case isPort:
				offer(spot{room, "the " + nameOf(t.circuit, c.ID), port})
			case reservoirs[room]:
				offer(spot{room, "a spare boss or the drain of the " + nameOf(t.circuit, c.ID) + roomOf(room), minutesTank})
			default:
				offer(spot{room, fmt.Sprintf("a tee where the %s meets the %s", nameOf(t.circuit, l.ID), nameOf(t.circuit, c.ID)), minutesTee})
			}
		}
	}
	var out []spot
	for _, s := range best {
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b spot) int { return strings.Compare(a.room, b.room) })
	return out
}

// roomOf names the compartment that a room is.
func roomOf(room string) string {
	if _, name, ok := strings.Cut(room, "."); ok && name != "air" && len(name) > 2 {
		return ", " + name + " compartment"
	}
	return ""
}

// A look is what every room holds after every step of every procedure, on one vehicle.
type look [][][]float64 // by procedure, moment and spot

// findTaps finds for each group the cheapest place at which a gauge would split it. Listening rounds are left out: they stand
// in the same states as the tests with gauges, and take half an hour each.
func (t *Tracer) findTaps(ctx context.Context, groups [][]member, progress func(done, total int)) ([]*Tap, error) {
	spots := t.spots()
	var vehicles []int
	for _, g := range groups {
		if t.probe(g) != nil {
			continue
		}
		for _, m := range g[1:] {
			vehicles = append(vehicles, m.own[0], m.own[1], m.first[0], m.first[1])
		}
	}
	vehicles = slices.Compact(slices.Sorted(slices.Values(vehicles)))
	looks := make([]look, len(vehicles))
	var next, done atomic.Int64
	var work sync.WaitGroup
	var reporting sync.Mutex
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	for range min(runtime.GOMAXPROCS(0), len(vehicles)) {
		work.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(vehicles) {
					return
				}
				l, err := t.lookAt(ctx, vehicles[i], spots)
				if err != nil {
					cancel(err)
					return
				}
				looks[i] = l
				if n := int(done.Add(1)); progress != nil {
					reporting.Lock()
					progress(n, len(vehicles))
					reporting.Unlock()
				}
			}
		})
	}
	work.Wait()
	if ctx.Err() != nil {
		return nil, context.Cause(ctx)
	}
	of := map[int]look{}
	for i, v := range vehicles {
		of[v] = looks[i]
	}
	out := make([]*Tap, len(groups))
	for i, g := range groups {
		if out[i] = t.probe(g); out[i] == nil {
			out[i] = t.cheapest(g, spots, of)
		}
	}
	return out, nil
}

// lookAt every room of one vehicle, step by step.
func (t *Tracer) lookAt(ctx context.Context, vehicle int, spots []spot) (look, error) {
	v := t.table.vehicles[vehicle]
	bench, err := procedure.NewBench(t.network, v.faults, v.scatter)
	if err != nil {
		return nil, err
	}
	bench.Tune(airflow.Coarse)
	out := make(look, len(t.procedures))
	for p, pr := range t.procedures {
		if pr.Round() {
			continue
		}
		bench.Watch(func(step int, r *airflow.Run) {
			moment := make([]float64, len(spots))
			for i, s := range spots {
				moment[i] = r.Pressure(s.room)
			}
			out[p] = append(out[p], moment)
		})
		if _, err := bench.Do(ctx, pr); err != nil {
			if ctx.Err() != nil {
				return nil, err
			}
			out[p] = nil // broke off: says nothing
		}
	}
	return out, nil
}

// cheapest spot that splits a group: the fewest minutes, then the most parts, then the widest gap.
func (t *Tracer) cheapest(g []member, spots []spot, looks map[int]look) *Tap {
	var best *Tap
	for s := range spots {
		for p := range t.procedures {
			moments := math.MaxInt
			for _, m := range g[1:] {
				for _, v := range [...]int{m.own[0], m.own[1], m.first[0], m.first[1]} {
					moments = min(moments, len(looks[v][p]))
				}
			}
			for k := range moments {
				shows := make([]float64, len(g)) // beside the first
				for i, m := range g[1:] {
					at := func(v int) float64 { return looks[v][p][k][s] }
					shows[i+1] = beside(at(m.own[0]), at(m.own[1]), at(m.first[0]), at(m.first[1]))
				}
				parts, gap := apartBy(shows, tapStep)
				if len(parts) < 2 {
					continue
				}
				tap := &Tap{Room: spots[s].room, At: "a gauge at " + spots[s].words, Minutes: spots[s].minutes, Parts: parts, Gap: gap, Reads: t.readsAt(p, k)}
				if best == nil || tap.Minutes < best.Minutes || tap.Minutes == best.Minutes && (len(parts) > len(best.Parts) || len(parts) == len(best.Parts) && gap > 1.05*best.Gap) {
					best = tap
				}
			}
		}
	}
	return best
}

// beside is how far the stretch from a to b lies above the one from c to d, below it (negative), or, where they overlap, nought.
func beside(a, b, c, d float64) float64 {
	if low, high := min(a, b), max(c, d); low > high {
		return low - high
	}
	if high, low := max(a, b), min(c, d); high < low {
		return high - low
	}
	return 0
}

// readsAt says at which moment of a procedure: moment 0 is its start.
func (t *Tracer) readsAt(p, moment int) string {
	pr := t.procedures[p]
	if moment == 0 {
		return fmt.Sprintf("%s, at its start", pr.Title)
	}
	if moment-1 < len(pr.Steps) {
		return fmt.Sprintf("%s, after its step %d", pr.Title, moment)
	}
	return pr.Title
}

// apartBy puts values into classes between which there is more than a step; gap is the widest.
func apartBy(shows []float64, step float64) (parts [][]int, gap float64) {
	order := make([]int, len(shows))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case shows[a] < shows[b]:
			return -1
		case shows[a] > shows[b]:
			return 1
		}
		return 0
	})
	for k, i := range order {
		if k == 0 || shows[i]-shows[order[k-1]] > step {
			if k > 0 {
				gap = max(gap, shows[i]-shows[order[k-1]])
			}
			parts = append(parts, nil)
		}
		parts[len(parts)-1] = append(parts[len(parts)-1], i)
	}
	for _, part := range parts {
		slices.Sort(part)
	}
	return parts, gap
}

// probe is for groups of electrical faults alone: a test lamp on the terminal of one of their parts tells whether the current
// gets there. It is put on the part at one end of the wiring.
func (t *Tracer) probe(g []member) *Tap {
	var parts []string
	for _, m := range g {
		f := t.list[m.hypothesis]
		if len(f.changes) == 0 || slices.ContainsFunc(f.changes, func(c airflow.Change) bool { return c.Effect != airflow.Signals }) {
			return nil
		}
		if !slices.Contains(parts, f.fault.Target) {
			parts = append(parts, f.fault.Target)
		}
	}
	// A component's terminal can be reached; a wire's ends are those.
	at := slices.IndexFunc(parts, func(id string) bool { return t.circuit.Component(id) != nil })
	if at < 0 || len(parts) < 2 {
		return nil
	}
	tap := &Tap{At: "a test lamp on the terminal of the " + nameOf(t.circuit, parts[at]), Minutes: minutesProbe, Reads: "with the key on", Parts: make([][]int, 2)}
	for i, m := range g {
		k := 1
		if t.list[m.hypothesis].fault.Target == parts[at] {
			k = 0
		}
		tap.Parts[k] = append(tap.Parts[k], i)
	}
	return tap
}
