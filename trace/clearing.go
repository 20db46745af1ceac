package trace

import (
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// clear lists what is ruled out, in the order of the catalogue, with what did it.
func (a *analysis) clear(v *Verdict) {
	for h := firstFault; h < len(a.list); h++ {
		c, ok := a.clearings[h]
		if !ok {
			continue
		}
		cleared := Cleared{Fault: a.list[h].fault, Title: a.list[h].title(a.circuit)}
		for _, against := range c.Against {
			if against.Factor > 0.8 {
				break
			}
			for i := range a.observations {
				if a.observations[i].key == against.Key {
					cleared.By = append(cleared.By, a.observations[i].finding.ID)
				}
			}
		}
		cleared.Because, cleared.Path = a.clearedBecause(h, a.plainest(h, c))
		v.Cleared = append(v.Cleared, cleared)
	}
}

// plainest is the finding that shows best why a fault is cleared: a place that holds and to which it leads, an abnormal
// finding that nothing leads to, or else the one that speaks most against it.
func (a *analysis) plainest(h int, c reason.Clearing) int {
	var against []int
	for _, x := range c.Against {
		for i := range a.observations {
			if a.observations[i].key == x.Key && x.Factor < 0.9 {
				against = append(against, i)
				break
			}
		}
	}
	for _, i := range against {
		if r := a.paths.routes[i][h]; r != nil && !r.indirect && a.holds(i) {
			return i
		}
	}
	for _, i := range against {
		if a.paths.abnormal[i] && a.paths.routes[i][h] == nil {
			return i
		}
	}
	if len(against) > 0 {
		return against[0]
	}
	return 0
}

// clearedBecause says why a finding speaks against a fault: a normal one because it would have shown there, an abnormal one
// because it can't come from there.
func (a *analysis) clearedBecause(h, i int) (string, []Step) {
	o := &a.observations[i]
	r := a.paths.routes[i][h]
	with := a.anySeverity(o, h)
	if !a.paths.abnormal[i] {
		if r == nil {
			return fmt.Sprintf("%s; with this fault it would have been %s", a.found(o), with), nil
		}
		return fmt.Sprintf("%s; this fault would have shown there (%s), by way of %s", a.found(o), with, inWords(r.steps)), r.steps
	}
	if r == nil {
		return fmt.Sprintf("%s; no open way leads there from this fault, which gives %s", a.found(o), with), nil
	}
	return fmt.Sprintf("%s; this fault gives %s", a.found(o), with), r.steps
}

// holds tells whether an observation says that a place holds its air, or that none is heard there: such a one clears, by
// paths alone, what would have shown there directly.
func (a *analysis) holds(i int) bool {
	o := &a.observations[i]
	if a.paths.abnormal[i] {
		return false
	}
	if o.r.Form == procedure.YesNo {
		return o.e.Kind == circuit.No && (o.r.Dimension == circuit.Flow || o.r.Dimension == circuit.PressureSpan)
	}
	return o.r.Dimension == circuit.Rate
}
