package trace

import "airpath/circuit"

// check holds every figure against the published limits of the case's jurisdiction.
func (a *analysis) check(v *Verdict) {
	for i := range a.observations {
		o := &a.observations[i]
		if k := o.e.Kind; k != circuit.Number && k != circuit.Range {
			continue
		}
		for _, l := range o.r.LimitsIn(a.kase.Jurisdiction) {
			value := o.e.High // of a range, the end that is nearer to the bound
			if !(o.e.High > l.High) && o.e.Low < l.Low {
				value = o.e.Low
			}
			v.Limits = append(v.Limits, LimitCheck{
				Finding: o.finding.ID, Reading: o.r.Title, Value: value, Text: o.finding.Result.Text, Limit: l, Pass: l.Meets(o.e.Low) && l.Meets(o.e.High),
			})
		}
	}
}
