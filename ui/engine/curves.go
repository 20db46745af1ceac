package engine

import (
	"context"
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/circuit/limit"
	"airpath/ui/model"
)

// A climb is a time that is taken between two levels on a needle: its bound is drawn as a slope.
type climb struct{ from, to float64 }

// climbs are the timed quantities whose two levels are in their definition; see package limit.
var climbs = map[string]climb{
	limit.BuildUp85To100: {gauge(85), gauge(100)},
	limit.BuildUp50To90:  {gauge(50), gauge(90)},
}

func gauge(psi float64) float64 { return circuit.AtmospherePressure + psi*circuit.PSI }

// Curves implements model.Engine.
func (e *Engine) Curves(ctx context.Context, cs *circuit.Case, s *model.Suspect, p *procedure.Procedure) (*model.Plot, error) {
	m := &model.Plot{Title: p.Title}
	healthy, err := e.tracer.Predict(ctx, nil, p)
	if err != nil {
		return nil, err
	}
	faulty := healthy
	if s != nil {
		m.Suspect = s.Title
		faulty, err = e.tracer.Predict(ctx, &airflow.Fault{Target: s.Target, Mode: s.Mode, Severity: s.Mid}, p)
		if err != nil {
			return nil, err
		}
		m.Failed = faulty.Undone
		if m.Failed == "" {
			m.Failed = faulty.Short
		}
	}
	span, isClimb := climbOf(p)
	if isClimb {
		m.Since = "since " + model.Units("psi").Format(span.from, circuit.Pressure)
	}
	add := func(o procedure.Outcome, healthy bool) {
		zero := 0.0
		if isClimb {
			zero = slowest(o.Curves, span.from)
		}
		for _, c := range o.Curves.Series {
			curve := model.Curve{Title: c.Name, Healthy: healthy}
			for i, t := range o.Curves.Seconds {
				if isClimb && t < zero-before {
					continue
				}
				curve.Time, curve.Value = append(curve.Time, t-zero), append(curve.Value, c.Pressure[i])
			}
			if len(curve.Time) > 0 {
				m.Curves = append(m.Curves, curve)
			}
		}
	}
	add(healthy, true)
	if s != nil {
		add(faulty, false)
	}
	for i := range p.Readings {
		r := &p.Readings[i]
		if r.Form != procedure.Measured {
			continue
		}
		v := model.Value{Title: r.Title, Dimension: r.Dimension, Healthy: healthy.Values[i], Suspect: faulty.Values[i]}
		m.Marks = append(m.Marks, bounds(r)...)
		for _, f := range cs.Findings {
			if _, is, ev, err := procedure.Bind(e.tracer.Procedures(), f); err == nil && is == r {
				v.Measured = model.SayResult(f.Result)
				m.Marks = append(m.Marks, measured(r, ev)...)
			}
		}
		m.Values = append(m.Values, v)
	}
	if f := e.fitOf(s, p); f != nil {
		recorded(m, f)
	}
	return m, nil
}

// before is how many seconds of a climb are shown ahead of the moment from which its time counts.
const before = 4

// climbOf tells between which levels a procedure takes the time.
func climbOf(p *procedure.Procedure) (climb, bool) {
	for _, r := range p.Readings {
		for _, l := range r.Limits {
			if c, ok := climbs[l.Quantity]; ok {
				return c, true
			}
		}
	}
	return climb{}, false
}

// slowest is when the last dash needle passes a level; 0 where none does.
func slowest(c procedure.Curves, level float64) float64 {
	last := 0.0
	for _, s := range c.Series {
		for i := 1; s.Dash && i < len(s.Pressure); i++ {
			if a, b := s.Pressure[i-1], s.Pressure[i]; a < level && b >= level {
				last = max(last, c.Seconds[i-1]+(c.Seconds[i]-c.Seconds[i-1])*(level-a)/(b-a))
				break
			}
		}
	}
	return last
}

// bounds draws the published limits of a reading: levels right across, times between two levels as a slope.
func bounds(r *procedure.Reading) []model.Mark {
	var out []model.Mark
	for _, l := range r.Limits {
		if l.Usual {
			continue
		}
		out = append(out, mark(r, "at least", l.Low)...)
		out = append(out, mark(r, "at most", l.High)...)
	}
	// several sources may give the same bound; one line is enough
	return slices.CompactFunc(out, func(a, b model.Mark) bool { return a.Words == b.Words && a.Limit == b.Limit })
}

// measured draws what was read; of a range, both ends.
func measured(r *procedure.Reading, ev procedure.Evidence) []model.Mark {
	if ev.Kind != circuit.Number && ev.Kind != circuit.Range {
		return nil
	}
	out := mark(r, "measured", ev.Low)
	if ev.High != ev.Low {
		out = append(out, mark(r, "measured", ev.High)...)
	}
	for i := range out {
		out[i].Measured = true
	}
	return out
}

// mark draws one value of a reading, where it can be drawn.
func mark(r *procedure.Reading, words string, value float64) []model.Mark {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return nil
	}
	m := model.Mark{Words: words, Limit: value, Dimension: r.Dimension, From: value, To: value, Start: math.NaN(), End: math.NaN()}
	if r.Dimension == circuit.Pressure {
		return []model.Mark{m}
	}
	for _, l := range r.Limits {
		if c, ok := climbs[l.Quantity]; ok {
			m.From, m.To, m.Start, m.End = c.from, c.to, 0, value
			return []model.Mark{m}
		}
	}
	return nil
}
