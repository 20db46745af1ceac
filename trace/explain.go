package trace

import (
	"fmt"
	"slices"
	"strings"

	"airpath/circuit/airflow"
	"airpath/trace/reason"
)

// mostExplanations bounds what is listed; the smallest come first.
const mostExplanations = 12

// explain finds the smallest sets of parts that explain all abnormal findings by paths alone, and says where that and the
// numbers differ, and which findings nobody explains.
func (a *analysis) explain(v *Verdict) {
	index := map[string]int{}
	for h := firstFault; h < len(a.list); h++ {
		index[a.list[h].fault.Target+"/"+a.list[h].fault.Mode] = h
	}
	var conflicts [][]string
	for i, abnormal := range a.paths.abnormal {
		if !abnormal {
			continue
		}
		var accused []string
		for h := firstFault; h < len(a.list); h++ {
			if a.paths.routes[i][h] != nil && !a.pathCleared(h) {
				accused = append(accused, a.list[h].fault.Target+"/"+a.list[h].fault.Mode)
			}
		}
		if len(accused) > 0 {
			conflicts = append(conflicts, accused)
		}
	}
	if len(conflicts) > 0 {
		for _, d := range reason.Diagnoses(conflicts, 3) {
			if len(v.Explanations) == mostExplanations {
				break
			}
			var e Explanation
			for _, class := range d {
				var faults []airflow.Fault
				for _, name := range class {
					faults = append(faults, a.list[index[name]].fault)
				}
				e = append(e, faults)
			}
			v.Explanations = append(v.Explanations, e)
		}
	}
	v.TakesMore = a.takesMore(v.Explanations)
	a.unexplained(v)
	a.disagreements(v)
}

// mostInClass faults are named that can stand in for one another.
const mostInClass = 3

// takesMore says that by paths no one part explains all that is abnormal, and which may together: of each the likeliest.
func (a *analysis) takesMore(e []Explanation) string {
	if len(e) == 0 || len(e[0]) < 2 {
		return ""
	}
	var sides []string
	for _, class := range e[0] {
		var members []int
		for _, f := range class {
			members = append(members, a.hypothesisOf(f.Target, f.Mode))
		}
		slices.SortStableFunc(members, func(x, y int) int { return -compareCoarse(a.posterior.Hypotheses[x], a.posterior.Hypotheses[y]) })
		var names []string
		for _, h := range members {
			names = append(names, a.short(h))
		}
		side := "one of " + listed(names, mostInClass)
		if len(names) == 1 {
			side = names[0]
		}
		sides = append(sides, side)
	}
	return fmt.Sprintf("By paths alone no one part explains all that is abnormal. It takes %d: %s.", len(sides), strings.Join(sides, "; and "))
}

// pathCleared tells whether a place that holds clears a fault: air that it lets through would have been found there.
func (a *analysis) pathCleared(h int) bool {
	for i := range a.observations {
		if r := a.paths.routes[i][h]; r != nil && !r.indirect && a.holds(i) {
			return true
		}
	}
	return false
}

// clearlyMore is how much more likely a finding must be with a fault than on a healthy vehicle for the fault to explain it.
const clearlyMore = 3.0

// explains tells whether a cell explains an observation.
func (a *analysis) explains(c, i int) bool {
	return a.takenAt(i).MeanRatio(c, a.drawWeights(c)) > clearlyMore
}

// givenBesides tells whether a suspect most likely stands beside another that gave an observation rather than the suspect itself.
func (a *analysis) givenBesides(h, i int) bool {
	f := a.takenAt(i)
	all, beside := a.posterior.Alone[h], 0.0
	for k, p := range a.belief.Pairs() {
		own, other := p.A, p.B
		if a.cells[other].hypothesis == h {
			own, other = other, own
		}
		if a.cells[own].hypothesis != h {
			continue
		}
		all += a.posterior.Pairs[k]
		if f.Mean(other, a.space.Draws) > f.Mean(own, a.space.Draws) {
			beside += a.posterior.Pairs[k]
		}
	}
	return beside > all/2
}

// takenAt is the factor of an observation.
func (a *analysis) takenAt(i int) *reason.Taken { return a.belief.Taken(a.observations[i].key) }

// findStrays marks the abnormal observations that the leading suspects, each by itself, don't explain.
func (a *analysis) findStrays() {
	a.strays = make([]bool, len(a.observations))
	for i := range a.observations {
		if !a.paths.abnormal[i] {
			continue
		}
		explained, total := 0.0, 0.0
		for c, w := range a.posterior.Cells {
			if a.cells[c].hypothesis < firstFault || w < a.leading {
				continue
			}
			total += w
			if a.explains(c, i) {
				explained += w
			}
		}
		a.strays[i] = explained < total/3
	}
}

// unexplained findings are said openly.
func (a *analysis) unexplained(v *Verdict) {
	for i := range a.observations {
		if a.strays[i] {
			o := &a.observations[i]
			v.Unexplained = append(v.Unexplained, Unexplained{o.finding.ID, fmt.Sprintf("%s: none of the leading suspects explains it; check the reading, or look for a second fault", a.found(o))})
		}
	}
}

// disagreements says where the two arms differ about a suspect that matters. What another fault gave besides is no difference.
func (a *analysis) disagreements(v *Verdict) {
	if !slices.Contains(a.paths.abnormal, true) {
		return
	}
	for _, h := range a.standing() {
		if a.posterior.Hypotheses[h] < 0.1 {
			break
		}
		title := a.list[h].title(a.circuit)
		for i, abnormal := range a.paths.abnormal {
			if abnormal && a.paths.routes[i][h] == nil && !a.givenBesides(h, i) {
				v.Disagree = append(v.Disagree, fmt.Sprintf("By numbers: %s. By paths no open way leads from it to %q in the healthy circuit; the numbers may rest on a misread finding.", title, a.observations[i].r.Title))
			}
		}
		for i := range a.observations {
			if r := a.paths.routes[i][h]; r != nil && !r.indirect && a.holds(i) {
				v.Disagree = append(v.Disagree, fmt.Sprintf("By numbers: %s. By paths it should have shown in %q, by way of %s; it stands because it may be too small to show there, or missed.", title, a.found(&a.observations[i]), inWords(r.steps)))
			}
		}
	}
}
