package trace

import (
	"slices"

	"airpath/circuit/airflow"
	"airpath/trace/reason"
)

// alike groups the suspects that the findings so far can't tell apart, and those that no listed reading can.
func (a *analysis) alike(v *Verdict, field []live) {
	var members []int
	for i, l := range field {
		if _, cleared := a.clearings[l.hypothesis]; l.hypothesis >= firstFault && !cleared {
			members = append(members, i)
		}
	}
	v.Inseparable = a.gather(field, members, a.byProfile(field, members))
	v.Alike = a.gather(field, members, a.byFit(field, members))
	for i := range v.Alike {
		v.Alike[i].Separable = !slices.ContainsFunc(v.Inseparable, func(g Alike) bool { return includes(g.Faults, v.Alike[i].Faults) })
	}
}

// includes tells whether every fault of a part is in a group.
func includes(group, part []airflow.Fault) bool {
	for _, f := range part {
		if !slices.ContainsFunc(group, func(g airflow.Fault) bool { return g.Target == f.Target && g.Mode == f.Mode }) {
			return false
		}
	}
	return true
}

// How well a fault fits a finding at its best severity, beside the best fit of any: about as well, poorly, or not at all.
const (
	asWell = 4.0
	poorly = 50.0
)

// byFit groups members that fit each finding about equally well: whatever their priors and the range of their severities, the
// findings don't tell them apart.
func (a *analysis) byFit(field []live, members []int) [][]int {
	columns := make([][]float64, len(members))
	var steps []float64
	n := len(a.nuisances.draws)
	for o := range a.observations {
		f := a.takenAt(o)
		steps = append(steps, 0.5)
		fits := make([]float64, len(members))
		for i, m := range members {
			h := &a.list[field[m].hypothesis]
			for c := h.cell; c < h.cell+h.cells; c++ {
				fits[i] = max(fits[i], f.Mean(c, n))
			}
		}
		for i := range members {
			class := 0.0
			switch best := slices.Max(fits); {
			case fits[i]*poorly < best:
				class = 2
			case fits[i]*asWell < best:
				class = 1
			}
			columns[i] = append(columns[i], class)
		}
	}
	return reason.Alike(columns, steps)
}

// rowOf a signature: one reading of one procedure.
type rowOf struct{ procedure, reading int }

// gather makes groups of two and more, the most probable first.
func (a *analysis) gather(field []live, members []int, groups [][]int) []Alike {
	var out []Alike
	for _, g := range groups {
		if len(g) < 2 {
			continue
		}
		var group Alike
		for _, i := range g {
			h := field[members[i]].hypothesis
			group.Faults = append(group.Faults, a.faultOf(h))
			group.Titles = append(group.Titles, a.list[h].title(a.circuit))
			group.Weight += field[members[i]].weight
		}
		out = append(out, group)
	}
	slices.SortStableFunc(out, func(x, y Alike) int { return -compareCoarse(x.Weight, y.Weight) })
	return out
}
