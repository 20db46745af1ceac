package airflow

import "math"

// extremes are the lowest and highest pressure that each room has had, Pa absolute.
type extremes struct{ low, high []float64 }

// KeepExtremes notes from now on, over restarts and restored states, the lowest and highest pressure of every room at every
// accepted step.
func (r *Run) KeepExtremes() {
	n := len(r.plan.rooms)
	r.extremes = &extremes{make([]float64, n), make([]float64, n)}
	for i := range n {
		r.extremes.low[i], r.extremes.high[i] = math.Inf(1), math.Inf(-1)
	}
	r.noteExtremes()
}

func (r *Run) noteExtremes() {
	for i := range r.extremes.low {
		p := r.s.p[r.network.unknown[i]]
		r.extremes.low[i], r.extremes.high[i] = min(r.extremes.low[i], p), max(r.extremes.high[i], p)
	}
}

// Extremes of a room since KeepExtremes; ok is false for a room that there is not, and where they were not kept.
func (r *Run) Extremes(room string) (low, high float64, ok bool) {
	i, ok := r.plan.roomIndex[room]
	if !ok || r.extremes == nil {
		return 0, 0, false
	}
	return r.extremes.low[i], r.extremes.high[i], true
}
