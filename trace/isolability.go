package trace

import (
	"context"
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// Isolability says which faults of a vehicle its procedures can show, and which they can tell apart: by numbers, from what is
// simulated, and by structure, from which parts hang together. It is a lint of the vehicle, not of a case.
type Isolability struct {
	Faults       int            // in the catalogue
	Detectable   int            // by numbers: those that some reading shows at their typical severity
	Undetectable []Undetectable // the others, in the order of the catalogue
	Groups       []Inseparable  // of the detectable ones, by size, single ones left out
	Sizes        map[int]int    // how many detectable faults are in groups of each size

	Structure StructureReport
}

// Undetectable is a fault that no reading of any procedure shows at its typical severity.
type Undetectable struct {
	Fault      airflow.Fault
	Title      string
	WithoutAir bool   // it moves no air, no needle and no lamp: oil, water, wear of linings
	Tap        *Tap   // the cheapest added test port that shows it; nil where none does
	Look       string // how it is proven by hand
}

// StructureReport is the same by structure alone: what it can't tell apart no reading of these procedures can, however exact.
type StructureReport struct {
	Faults     int // that act on air or a gauge
	Detectable int
	Groups     int // of the detectable ones, single ones included
	Largest    int // size of the largest
}

// Inseparable is a group of faults that no reading of any procedure tells apart: each, at its typical severity, looks as
// another of them would at some severity.
type Inseparable struct {
	Faults []airflow.Fault
	Titles []string
	Tap    *Tap   // the cheapest added test port that splits it; nil where none does
	Look   string // how one of them is proven by hand, which splits the group in any case
	LookAt string // the part that it is about
}

// A Tap is a test port that the vehicle lacks, or an observation that no procedure asks for.
type Tap struct {
	Room    string  // where pressure would be read, "" for an electrical one
	At      string  // in words: "a tee where the rear control line meets the rear relay valve"
	Minutes float64 // to fit it; engineering judgement
	Reads   string  // in which procedure it tells most, with the two readings
	Parts   [][]int // what it splits the group into, by index
	Gap     float64 // Pa: the widest gap between neighbours
}

// typical is the vehicle with a hypothesis's typical fault.
func (h *hypothesis) typical() int {
	for i, p := range h.points {
		if p == h.severity.Typical {
			return h.vehicle + i
		}
	}
	return h.vehicle + len(h.points)/2
}

// columns are the readings of the faults as numbers to compare, with the step that each can show.
type columns struct {
	t    *Tracer
	rows []rowOf
}

func (t *Tracer) columns() *columns {
	c := &columns{t: t}
	for p := range t.procedures {
		for r := range t.procedures[p].Readings {
			c.rows = append(c.rows, rowOf{p, r})
		}
	}
	return c
}

// step is the difference that a reading can show.
func (c *columns) step(k int, value float64) float64 {
	r := &c.t.procedures[c.rows[k].procedure].Readings[c.rows[k].reading]
	if r.Form == procedure.YesNo {
		return 0.25
	}
	s := r.Sigma
	if !math.IsNaN(value) && r.Sense != procedure.Needle {
		s = math.Hypot(s, modelError*value)
	}
	return 2 * s
}

// of a vehicle: the exact values, or the chance of a yes.
func (c *columns) of(vehicle int) []float64 {
	out := make([]float64, len(c.rows))
	for k, row := range c.rows {
		out[k] = math.NaN()
		v := c.t.table.values(row.procedure, vehicle)
		if v == nil {
			continue
		}
		out[k] = v[row.reading]
		if r := &c.t.procedures[row.procedure].Readings[row.reading]; r.Form == procedure.YesNo {
			out[k] = r.Judge.Says(out[k])
		}
	}
	return out
}

// differ tells whether some reading shows a difference.
func (c *columns) differ(a, b []float64) bool {
	for k := range a {
		if math.IsNaN(a[k]) != math.IsNaN(b[k]) || math.Abs(a[k]-b[k]) > c.step(k, b[k]) {
			return true
		}
	}
	return false
}

// passes tells whether a fault, seen as a column, would pass for a hypothesis at some severity, and between which two of its
// simulated vehicles that lies. Between two simulated severities every reading may lie anywhere between the two.
func (c *columns) passes(seen []float64, h *hypothesis, own [][]float64) (between [2]int, ok bool) {
	if len(own) == 1 {
		return [2]int{h.vehicle, h.vehicle}, !c.differ(seen, own[0])
	}
	for g := range len(own) - 1 {
		a, b := own[g], own[g+1]
		fits := true
		for k := range seen {
			s := c.step(k, seen[k])
			if math.IsNaN(a[k]) || math.IsNaN(b[k]) || math.IsNaN(seen[k]) {
				if !c.lostBetween(k, seen[k], a[k], b[k]) {
					fits = false
					break
				}
				continue
			}
			low, high := min(a[k], b[k]), max(a[k], b[k])
			if seen[k] < low-s || seen[k] > high+s {
				fits = false
				break
			}
		}
		if fits {
			return [2]int{h.vehicle + g, h.vehicle + g + 1}, true
		}
	}
	return between, false
}

// lostBetween tells whether a reading may be had between two severities at one of which, or at both, it is never reached. A
// time gets longer and longer before it is never reached; anything else is there as at the other end, or not at all.
func (c *columns) lostBetween(k int, seen, a, b float64) bool {
	if math.IsNaN(seen) {
		return math.IsNaN(a) || math.IsNaN(b)
	}
	reached := a
	if math.IsNaN(a) {
		reached = b
	}
	if math.IsNaN(reached) {
		return false
	}
	row := c.rows[k]
	slower := c.t.procedures[row.procedure].Readings[row.reading].Dimension == circuit.Time && seen > reached
	return slower || math.Abs(seen-reached) <= c.step(k, seen)
}

// Isolability of the vehicle. It simulates every fault through every procedure, and the members of the groups once more with
// a look at every room; progress, where given, hears how far that is.
func (t *Tracer) Isolability(ctx context.Context, progress func(done, total int)) (*Isolability, error) {
	if err := t.Prepare(ctx, progress); err != nil {
		return nil, err
	}
	t.turn.Lock()
	defer t.turn.Unlock()
	c := t.columns()
	healthy := c.of(0)
	out := &Isolability{Faults: len(t.list) - firstFault, Sizes: map[int]int{}}
	var shown, hidden []int // hypotheses
	for h := firstFault; h < len(t.list); h++ {
		if list := &t.list[h]; len(list.points) > 0 && c.differ(c.of(list.typical()), healthy) {
			shown = append(shown, h)
		} else {
			hidden = append(hidden, h)
		}
	}
	out.Detectable = len(shown)
	groups := c.group(shown)
	var several [][]member
	for _, g := range groups {
		out.Sizes[len(g)] += len(g)
		if len(g) > 1 {
			several = append(several, g)
		}
	}
	slices.SortStableFunc(several, func(a, b []member) int { return len(b) - len(a) })
	wanted := slices.Clone(several)
	for _, h := range hidden { // beside the healthy vehicle
		v := t.list[h].typical()
		m := member{hypothesis: h, own: [2]int{v, v}} // the first is the healthy vehicle
		wanted = append(wanted, []member{{hypothesis: noFault}, m})
	}
	taps, err := t.findTaps(ctx, wanted, progress)
	if err != nil {
		return nil, err
	}
	for i, g := range several {
		out.Groups = append(out.Groups, t.inseparable(g, taps[i]))
	}
	for i, h := range hidden {
		list := &t.list[h]
		out.Undetectable = append(out.Undetectable, Undetectable{list.fault, list.title(t.circuit), len(list.points) == 0, taps[len(several)+i], list.words.Confirm})
	}
	if out.Structure, err = t.structureReport(ctx); err != nil {
		return nil, err
	}
	return out, nil
}

// A member of a group: a hypothesis, and at which severities it is like the first of the group. Each of the two lies between
// two simulated vehicles, which may be one and the same.
type member struct {
	hypothesis int
	own        [2]int // vehicles
	first      [2]int // vehicles of the group's first
}

// group faults so that in each group every one passes for every other. Every fault goes to the first group that has room for
// it, in the order of the catalogue, so that equal vehicles give equal groups.
func (c *columns) group(faults []int) [][]member {
	typical, own := map[int][]float64{}, map[int][][]float64{}
	for _, h := range faults {
		list := &c.t.list[h]
		typical[h] = c.of(list.typical())
		for v := range list.points {
			own[h] = append(own[h], c.of(list.vehicle+v))
		}
	}
	passes := func(a, b int) (between [2]int, ok bool) { // does a, typical, pass for b?
		return c.passes(typical[a], &c.t.list[b], own[b])
	}
	var groups [][]member
next:
	for _, h := range faults {
		for g := range groups {
			joins := member{hypothesis: h}
			fits := true
			for k, m := range groups[g] {
				own, ok := passes(m.hypothesis, h)
				first := [2]int{c.t.list[m.hypothesis].typical(), c.t.list[m.hypothesis].typical()}
				if !ok {
					first, ok = passes(h, m.hypothesis)
					own = [2]int{c.t.list[h].typical(), c.t.list[h].typical()}
				}
				if !ok {
					fits = false
					break
				}
				if k == 0 {
					joins.own, joins.first = own, first
				}
			}
			if fits {
				groups[g] = append(groups[g], joins)
				continue next
			}
		}
		groups = append(groups, []member{{hypothesis: h}})
	}
	return groups
}

func (t *Tracer) inseparable(g []member, tap *Tap) Inseparable {
	var out Inseparable
	for _, m := range g {
		out.Faults = append(out.Faults, t.list[m.hypothesis].fault)
		out.Titles = append(out.Titles, t.list[m.hypothesis].title(t.circuit))
	}
	out.Tap = tap
	// The likeliest of them is looked at first.
	best := g[0].hypothesis
	for _, m := range g {
		if t.list[m.hypothesis].words.Prior > t.list[best].words.Prior {
			best = m.hypothesis
		}
	}
	out.Look, out.LookAt = t.list[best].words.Confirm, nameOf(t.circuit, t.list[best].fault.Target)
	return out
}
