package engine

import (
	"airpath/circuit/airflow/procedure"
	"airpath/trace"
	"airpath/ui/model"
)

// fitOf is the fit of a suspect, or of the likeliest, to a log of this procedure; nil where none was recorded.
func (e *Engine) fitOf(s *model.Suspect, p *procedure.Procedure) *trace.LogFit {
	e.mu.Lock()
	defer e.mu.Unlock()
	var first *trace.LogFit
	for i := range e.fits {
		f := &e.fits[i]
		if f.Procedure != p.Title {
			continue
		}
		if s != nil && key(f.Fault) == s.Key {
			return f
		}
		if first == nil {
			first = f
		}
	}
	return first
}

// recorded draws a fit: what was logged, the fault at the size that fits best, and the vehicle in good order.
func recorded(m *model.Plot, f *trace.LogFit) {
	m.Suspect, m.Since, m.Curves = f.Title, "", nil
	for g, name := range f.Gauges {
		m.Curves = append(m.Curves,
			model.Curve{Title: name, Healthy: true, Time: f.Seconds, Value: f.Healthy[g]},
			model.Curve{Title: name, Time: f.Seconds, Value: f.Fitted[g]},
			model.Curve{Title: name, Logged: true, Time: f.Seconds, Value: f.Measured[g]})
	}
	marks := m.Marks[:0]
	for _, l := range m.Marks {
		if l.Start != l.Start { // slopes between two moments are drawn from another zero
			marks = append(marks, l)
		}
	}
	m.Marks = marks
}
