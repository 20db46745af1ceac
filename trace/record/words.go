package record

import (
	"fmt"
	"math"
	"strings"

	"airpath/circuit"
	"airpath/trace"
)

// percent writes a probability as people say it; what is small is never called zero, nor what is great certain.
func percent(p float64) string {
	switch {
	case p > 0.99:
		return "over 99 %"
	case p >= 0.01:
		return fmt.Sprintf("%.0f %%", 100*p)
	}
	return "under 1 %"
}

// quantity writes an SI number in the unit of whoever reads the record.
func (b *builder) quantity(si float64, d circuit.Dimension) string {
	unit := circuit.UnitFor(d, b.Unit)
	v, ok := circuit.In(si, d, unit)
	if !ok {
		v = si
	}
	digits := 1
	switch size := math.Abs(v); {
	case unit == "bar" || size < 1:
		digits = 2
	case unit == "kPa" || unit == "rpm" || size >= 100:
		digits = 0
	}
	return circuit.Format(si, d, unit, digits)
}

// severity writes an estimate: "diameter of a hole that leaks as much: 0.2 mm to 1.6 mm".
func (b *builder) severity(s trace.Severity) string {
	if s.Means == "" || math.IsNaN(s.Mid) {
		return ""
	}
	low, high := b.quantity(s.Low, s.Dimension), b.quantity(s.High, s.Dimension)
	if low == high {
		return s.Means + ": " + low
	}
	return s.Means + ": " + low + " to " + high
}

// nameOf is what a person calls a component or line.
func (b *builder) nameOf(id string) string {
	if c := b.Circuit.Component(id); c != nil {
		if c.Name != "" {
			return c.Name
		}
		return c.Kind.Title
	}
	if l := b.Circuit.Line(id); l != nil && l.Name != "" {
		return l.Name
	}
	return id
}

// sentence begins with a capital and ends with a stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return ""
	}
	s = upperFirst(s)
	if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "!") && !strings.HasSuffix(s, "?") {
		s += "."
	}
	return s
}

func upperFirst(s string) string {
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// several counts things: "1 reading", "3 readings".
func several(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// stageWords says when: "as the vehicle came in", "after repair 2".
func (b *builder) stageWords(stage int) string {
	switch {
	case stage == 0:
		return "as the vehicle came in"
	case len(b.Case.Repairs) == 1:
		return "after the repair"
	}
	return fmt.Sprintf("after repair %d", stage)
}
