package trace

import "airpath/circuit/airflow"

// SeverityAlong is the severity at a share of the way along a mode's scale, 0 for the mildest and 1 for the worst: shares drawn
// evenly give severities as the tracer expects them.
func SeverityAlong(s airflow.Severity, share float64) float64 {
	return severityAt(s, share)
}
