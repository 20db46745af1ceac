package trace

import (
	"slices"

	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// alike groups the suspects that the readings so far can't tell apart, and those that no listed reading can.
func (a *analysis) alike(v *Verdict, field []live) {
	var members []int
	for i, l := range field {
		if _, cleared := a.clearings[l.hypothesis]; l.hypothesis >= firstFault && !cleared {
			members = append(members, i)
		}
	}
	var taken, all []rowOf
	for p := range a.procedures {
		for r := range a.procedures[p].Readings {
			row := rowOf{p, r}
			all = append(all, row)
			key := keyOf(a.procedures[p], &a.procedures[p].Readings[r])
			if slices.ContainsFunc(a.observations, func(o observation) bool { return o.key == key }) {
				taken = append(taken, row)
			}
		}
	}
	v.Alike = a.grouped(field, members, taken)
	v.Inseparable = a.grouped(field, members, all)
	for i := range v.Alike {
		if !slices.ContainsFunc(v.Inseparable, func(g Alike) bool {
			return len(g.Faults) == len(v.Alike[i].Faults) && g.Faults[0] == v.Alike[i].Faults[0]
		}) {
			v.Alike[i].Separable = true
		}
	}
}

// rowOf a signature: one reading of one procedure.
type rowOf struct{ procedure, reading int }

// grouped puts members with the same signature together; groups of one are left out.
func (a *analysis) grouped(field []live, members []int, rows []rowOf) []Alike {
	columns := make([][]float64, len(members))
	steps := make([]float64, len(rows))
	for k, row := range rows {
		r := &a.procedures[row.procedure].Readings[row.reading]
		steps[k] = 2 * r.Sigma
		if r.Form == procedure.YesNo {
			steps[k] = 0.25
		}
		for i, m := range members {
			columns[i] = append(columns[i], a.signature(field[m].cells[0], row, r))
		}
	}
	var out []Alike
	for _, g := range reason.Alike(columns, steps) {
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
