package trace

import (
	"fmt"
	"slices"

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
	a.unexplained(v)
	a.disagreements(v)
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

// unexplained findings are those that even the leading suspects make an outlier of.
func (a *analysis) unexplained(v *Verdict) {
	var leading []int // cells that hold most of the probability
	for c, w := range a.posterior.Cells {
		if w > 0.005 {
			leading = append(leading, c)
		}
	}
	for i := range a.observations {
		o := &a.observations[i]
		f := a.factorOf(o)
		n := len(a.nuisances.draws)
		stray, total := 0.0, 0.0
		for _, c := range leading {
			w := a.posterior.Cells[c]
			total += w
			for d, p := range a.belief.DrawWeights(c) {
				flat := f.Outliers * f.Flat
				stray += w * p * flat / (flat + (1-f.Outliers)*f.Density[c*n+d])
			}
		}
		if total > 0 && stray/total > 0.5 {
			v.Unexplained = append(v.Unexplained, Unexplained{o.finding.ID, fmt.Sprintf("%s: no suspect explains it; check the reading, or look for a second fault", a.found(o))})
		}
	}
}

// disagreements says where the two arms differ about a suspect that matters.
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
			if abnormal && a.paths.routes[i][h] == nil {
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
