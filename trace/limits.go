package trace

import (
	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// check holds every figure against the published limits of the case's jurisdiction.
func (a *analysis) check(v *Verdict) {
	for i := range a.observations {
		o := &a.observations[i]
		if k := o.e.Kind; k != circuit.Number && k != circuit.Range {
			continue
		}
		v.Limits = append(v.Limits, limitChecks(o.r, o.e, o.finding, a.kase.Jurisdiction)...)
	}
}

// CheckLimits holds every figure of a case against the published limits of its jurisdiction, and concludes nothing from them.
func CheckLimits(all []*procedure.Procedure, k *circuit.Case) []LimitCheck {
	var out []LimitCheck
	for _, f := range k.Findings {
		_, r, e, err := procedure.BindUnder(k.Jurisdiction, all, f)
		if err == nil && (e.Kind == circuit.Number || e.Kind == circuit.Range) {
			out = append(out, limitChecks(r, e, f, k.Jurisdiction)...)
		}
	}
	return out
}

func limitChecks(r *procedure.Reading, e procedure.Evidence, f circuit.Finding, jurisdiction string) []LimitCheck {
	var out []LimitCheck
	for _, l := range r.LimitsIn(jurisdiction) {
		value := e.High // of a range, the end that is nearer to the bound
		if !(e.High > l.High) && e.Low < l.Low {
			value = e.Low
		}
		out = append(out, LimitCheck{
			Finding: f.ID, Reading: r.Title, Value: value, Text: f.Result.Text, Limit: l, Pass: l.Meets(e.Low) && l.Meets(e.High),
		})
	}
	return out
}
