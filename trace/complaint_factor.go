package trace

import (
	"fmt"
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// How much a driver's words are worth. Engineering judgement: drivers tell of other things than the one that was asked for,
// put things wrongly, and don't notice what has come slowly.
const (
	saidAnyway  = 0.03 // share that say it of a vehicle that shows nothing of the kind
	saidAtMost  = 0.90 // share that say it of one that shows it plainly
	saidIfBlame = 0.60 // share that say it where a fault is named directly: how bad it is does not come into it
	besideTruth = 0.20 // share of complaints that have nothing to do with the vehicle's state
	flatSaid    = 0.30 // and how likely such a one is this one
	ofNotice    = 0.25 // spread of what drivers notice, of the logarithm of a ratio
)

// MostComplaint is by how much one understood complaint can at most raise the odds of one fault over another.
func MostComplaint() float64 { return complaintWeight(saidAtMost) / complaintWeight(saidAnyway) }

func complaintWeight(p float64) float64 { return (1-besideTruth)*p + besideTruth*flatSaid }

// hear a complaint, and find out which procedures are needed to weigh it.
func (t *Tracer) hear(text string) (c Complaint, needed []int) {
	c = HearComplaint(text)
	for _, h := range c.Heard {
		for _, s := range h.Meaning.signs {
			for _, at := range t.readingsFor(&s) {
				needed = append(needed, at.procedure)
			}
		}
	}
	return c, slices.Compact(slices.Sorted(slices.Values(needed)))
}

// readingsFor a sign on this vehicle.
func (t *Tracer) readingsFor(s *sign) []rowOf {
	var out []rowOf
	for p, pr := range t.procedures {
		if pr.ID != s.procedure {
			continue
		}
		for r := range pr.Readings {
			if pr.Readings[r].ID == s.reading && (s.kind == "" || t.kindAt(pr.Readings[r].Place) == s.kind) {
				out = append(out, rowOf{p, r})
			}
		}
	}
	return out
}

// kindAt is the kind of the component that a place belongs to; "line" for a line.
func (t *Tracer) kindAt(place string) string {
	id, _ := circuit.Finding{Place: place}.Target()
	if c := t.circuit.Component(id); c != nil {
		return c.Kind.Name
	}
	if t.circuit.Line(id) != nil {
		return "line"
	}
	return ""
}

// weighComplaint adds what a driver said to a belief, one weak factor for each thing that was understood.
func (t *Tracer) weighComplaint(belief *reason.Belief, c Complaint) error {
	for _, h := range c.Heard {
		f, err := t.factors.of("complaint/"+h.Meaning.ID, func() (*reason.Taken, error) { return t.space.Take(t.complaintFactor(h.Meaning)) })
		if err != nil {
			return fmt.Errorf("complaint %q: %w", h.Words, err)
		}
		belief.Add(f)
	}
	return nil
}

// complaintFactor is the chance of a meaning being said under every cell; draws make no difference to it.
func (t *Tracer) complaintFactor(m *Meaning) reason.Factor {
	n := len(t.nuisances.draws)
	f := reason.Factor{Key: "complaint/" + m.ID, Flat: flatSaid, Outliers: besideTruth, Rows: make([]int32, len(t.cells))}
	rows := map[float64]int32{}
	for i := range t.cells {
		// Chances that are told apart by rounding alone share a row.
		p := math.Round(1e3*t.said(m, &t.cells[i])) / 1e3
		f.Rows[i] = levelRow(&f, rows, p, n)
	}
	f.Joint = func(x, y int32) []float64 { // of two faults the plainer one is told of
		row := slices.Clone(f.Density[int(x)*n : (int(x)+1)*n])
		for d := range row {
			row[d] = max(row[d], f.Density[int(y)*n+d])
		}
		return row
	}
	return f
}

// said is the chance that a driver says so of a cell: by the sign that shows most, or because the fault is named.
func (t *Tracer) said(m *Meaning, c *cell) float64 {
	if c.hypothesis == somethingElse { // it may show this as well as anything
		return saidAnyway + (saidAtMost-saidAnyway)*unlikeHealthy
	}
	most := 0.0
	healthy := &t.cells[t.list[noFault].cell]
	for k := range m.signs {
		s := &m.signs[k]
		for _, at := range t.readingsFor(s) {
			most = max(most, s.noticed(&t.procedures[at.procedure].Readings[at.reading], t.stretch(at.procedure, at.reading, c), t.stretch(at.procedure, at.reading, healthy)))
		}
	}
	p := saidAnyway + (saidAtMost-saidAnyway)*most
	if c.hypothesis >= firstFault && t.blamed(m, c.hypothesis) {
		p = max(p, saidIfBlame)
	}
	return p
}

// noticed is the share of drivers that notice a reading that is s, where it should be healthy: 0 where it is as it should be.
func (g *sign) noticed(r *procedure.Reading, s, healthy stretch) float64 {
	if s.unknown || healthy.unknown {
		return 0
	}
	if r.Form == procedure.YesNo {
		p, usual := s.yes(r.Judge), healthy.yes(r.Judge)
		if usual > 0.5 { // it should be yes: what is noticed is that it is not
			p, usual = 1-p, 1-usual
		}
		return max(0, p-usual)
	}
	if healthy.never() || s.never() {
		if s.never() && !healthy.never() && g.never {
			return 1
		}
		return 0
	}
	x, x0 := s.middle(), healthy.middle()
	if g.times > 0 {
		if x <= 0 || x0 <= 0 {
			return 0
		}
		return beyond(math.Log(x/x0), math.Log(g.times), ofNotice)
	}
	return beyond((x-x0)/math.Abs(g.by), math.Copysign(1, g.by), ofNotice)
}

// beyond is the share of people that notice x, half of them at half, in the direction of half's sign; nobody notices what is
// not there.
func beyond(x, half, spread float64) float64 {
	if half < 0 {
		x, half = -x, -half
	}
	if x <= 0 {
		return 0
	}
	curve := func(x float64) float64 { return 1 / (1 + math.Exp(-(x-half)/spread)) }
	return (curve(x) - curve(0)) / (1 - curve(0))
}

// blamed tells whether a meaning names a hypothesis' fault.
func (t *Tracer) blamed(m *Meaning, h int) bool { return t.blames(m, t.list[h].fault) }

// blames tells whether a meaning names a fault.
func (t *Tracer) blames(m *Meaning, f airflow.Fault) bool {
	kind := t.kindAt(f.Target)
	for _, b := range m.blames {
		if b.kind != "" && b.kind != kind || !slices.Contains(b.modes, f.Mode) {
			continue
		}
		if m.side == "" {
			return true
		}
		side := t.sideOf(f.Target)
		if side != "" && (side == m.side) == b.drags {
			return true
		}
	}
	return false
}

// sideOf a part: "left" or "right" of the vehicle, "" in the middle. The sheet is a plan view with the front to the left, so
// that the left-hand side is below (see [circuit.Point]).
func (t *Tracer) sideOf(id string) string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range t.circuit.Components {
		if slices.Contains(atWheels, c.Kind.Name) {
			low, high = math.Min(low, c.At.Y), math.Max(high, c.At.Y)
		}
	}
	var y float64
	if c := t.circuit.Component(id); c != nil {
		y = c.At.Y
	} else if l := t.circuit.Line(id); l != nil {
		from, to := t.circuit.Component(l.From.Component), t.circuit.Component(l.To.Component)
		if from == nil || to == nil {
			return ""
		}
		y = (from.At.Y + to.At.Y) / 2
	}
	switch at := (y - low) / (high - low); {
	case at > 0.65:
		return "left"
	case at < 0.35:
		return "right"
	}
	return ""
}

// atWheels are the kinds that stand at the two ends of an axle.
var atWheels = []string{"service-chamber", "spring-brake-chamber", "drum-brake"}
