package trace

import (
	"fmt"
	"math"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// figure writes a reading's value as a person would.
func (a *analysis) figure(si float64, d circuit.Dimension) string {
	unit := circuit.UnitFor(d, a.unit)
	decimals := 0
	if d == circuit.Flow || d == circuit.Rate || d == circuit.Length {
		decimals = 1
	}
	if v, ok := circuit.In(si, d, unit); ok && math.Abs(v) < 10 && d != circuit.Ratio {
		decimals = 1
	}
	if a.unit == "bar" && (d == circuit.Pressure || d == circuit.PressureSpan || d == circuit.Rate) {
		decimals = 2
	}
	return circuit.Format(si, d, unit, decimals)
}

// span writes two values of a reading, as one where they look alike.
func (a *analysis) span(x, y float64, d circuit.Dimension) string {
	if x > y {
		x, y = y, x
	}
	low, high := a.figure(x, d), a.figure(y, d)
	if low == high {
		return low
	}
	if number, unit, ok := strings.Cut(low, " "); ok && strings.HasSuffix(high, " "+unit) {
		return number + " to " + high
	}
	return low + " to " + high
}

// found says what was read: "time from 85 to 100 psi at rated speed: 70 s"; where air comes out, in which state.
func (a *analysis) found(o *observation) string {
	if o.r.Leak() {
		return fmt.Sprintf("%s: %s: %s", a.procedures[o.procedure].Title, o.r.Title, o.finding.Result.Text)
	}
	return fmt.Sprintf("%s: %s", o.r.Title, o.finding.Result.Text)
}

// expected says what a cell, or the healthy vehicle, makes of a reading.
func (a *analysis) expected(o *observation, c *cell) string {
	s := a.stretch(o.procedure, o.reading, c)
	switch {
	case s.unknown:
		return "unknown"
	case o.r.Form == procedure.YesNo:
		switch p := s.yes(o.e.Judge); {
		case p > 0.8:
			return "yes"
		case p > 0.2:
			return "perhaps"
		}
		return "no"
	case s.never():
		return "never"
	case s.slow && s.high > 4*s.low:
		return a.figure(s.low, o.r.Dimension) + " or much more"
	}
	return a.span(s.low, s.high, o.r.Dimension)
}

// anySeverity says what a hypothesis makes of a reading, from its mildest to its worst.
func (a *analysis) anySeverity(o *observation, h int) string {
	list := &a.list[h]
	low, high, never := math.Inf(1), math.Inf(-1), false
	yes, no := false, false
	for i := list.cell; i < list.cell+list.cells; i++ {
		s := a.stretch(o.procedure, o.reading, &a.cells[i])
		switch {
		case s.unknown:
		case o.r.Form == procedure.YesNo:
			p := s.yes(o.e.Judge)
			yes, no = yes || p > 0.5, no || p <= 0.5
		case s.never():
			never = true
		default:
			low, high = math.Min(low, s.low), math.Max(high, s.high)
		}
	}
	switch {
	case o.r.Form == procedure.YesNo && yes && no:
		return "yes or no, by how bad it is"
	case o.r.Form == procedure.YesNo && yes:
		return "yes"
	case o.r.Form == procedure.YesNo:
		return "no"
	case math.IsInf(low, 1):
		return "never"
	case never:
		return "from " + a.figure(low, o.r.Dimension) + " up to never"
	}
	return a.span(low, high, o.r.Dimension)
}

// listed joins names: "a, b and c", with no more than most of them.
func listed(names []string, most int) string {
	if len(names) > most {
		rest := len(names) - most
		names = append(append([]string{}, names[:most]...), fmt.Sprintf("%d more", rest))
	}
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
