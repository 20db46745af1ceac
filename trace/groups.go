package trace

import (
	"slices"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
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
	v.Inseparable = a.gather(field, members, a.bySignature(field, members))
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

// bySignature groups members that no reading can tell apart, at the severities that fit the findings best.
func (a *analysis) bySignature(field []live, members []int) [][]int {
	readings := 0
	for _, p := range a.procedures {
		readings += len(p.Readings)
	}
	columns, steps := make([][]float64, len(members)), make([]float64, 0, readings)
	for i := range columns {
		columns[i] = make([]float64, 0, readings)
	}
	var c column
	for p := range a.procedures {
		a.columnInto(&c, p, field)
		var others []int // members that make anything else of it than the healthy vehicle
		for i, m := range members {
			if at := &c.cells[m][0]; c.healthy == nil || at.from != nil || at.to != nil {
				others = append(others, i)
			}
		}
		for r := range a.procedures[p].Readings {
			if !slices.ContainsFunc(others, func(i int) bool { return !c.asHealthy(&c.cells[members[i]][0], r) }) {
				continue
			}
			reading := &a.procedures[p].Readings[r]
			step := 2 * reading.Sigma
			if reading.Form == procedure.YesNo {
				step = 0.25
			}
			steps = append(steps, step)
			healthy := a.signature(0, rowOf{p, r}, reading) // of no fault
			for i := range columns {
				columns[i] = append(columns[i], healthy)
			}
			for _, i := range others {
				if at := &c.cells[members[i]][0]; !c.asHealthy(at, r) {
					columns[i][len(steps)-1] = a.signature(at.cell, rowOf{p, r}, reading)
				}
			}
		}
	}
	return reason.Alike(columns, steps)
}

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

// signature of a cell in one reading: its middle, or the chance of a yes.
func (a *analysis) signature(c int, row rowOf, r *procedure.Reading) float64 {
	s := a.stretch(row.procedure, row.reading, &a.cells[c])
	if r.Form == procedure.YesNo && !s.unknown {
		return s.yes(r.Judge)
	}
	return s.middle()
}
