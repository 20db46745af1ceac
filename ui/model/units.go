package model

import (
	"math"
	"strconv"
	"strings"
	"sync"

	"airpath/circuit"
)

// Units is the pressure unit that a person reads and writes in.
type Units string

// The choices, in the order in which the window offers them.
var AllUnits = []Units{"psi", "bar", "kPa"}

// UnitOf is the unit in which a quantity of this dimension is shown.
func (u Units) UnitOf(d circuit.Dimension) string {
	switch d {
	case circuit.Pressure, circuit.PressureSpan:
		return string(u)
	case circuit.Rate:
		return string(u) + "/min"
	}
	if name, ok := firstUnits.Load(d); ok {
		return name.(string)
	}
	name := ""
	if all := circuit.UnitsOf(d); len(all) > 0 {
		name = all[0].Name
	}
	firstUnits.Store(d, name)
	return name
}

// firstUnits is the first unit of each dimension, which is asked for many times a frame.
var firstUnits sync.Map

// digits after the point that make sense for what a gauge or a stopwatch shows.
func (u Units) digits(d circuit.Dimension, v float64) int {
	switch d {
	case circuit.Pressure, circuit.PressureSpan, circuit.Rate:
		switch u {
		case "bar":
			if math.Abs(v) < 1 {
				return 2
			}
			return 1
		case "psi":
			if math.Abs(v) < 10 {
				return 1
			}
		}
		return 0
	case circuit.Count, circuit.Speed, circuit.Temperature:
		return 0
	}
	switch a := math.Abs(v); {
	case a >= 20:
		return 0
	case a >= 1:
		return 1
	}
	return 2
}

// Number is an SI value as a plain number in the unit shown.
func (u Units) Number(si float64, d circuit.Dimension) string {
	v, ok := circuit.In(si, d, u.UnitOf(d))
	if !ok || math.IsNaN(v) {
		return "–"
	}
	s := strconv.FormatFloat(v, 'f', u.digits(d, v), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// Format is an SI value with its unit.
func (u Units) Format(si float64, d circuit.Dimension) string {
	return join(u.Number(si, d), u.UnitOf(d))
}

// Span is an interval with its unit: "0.8 to 1.4 mm".
func (u Units) Span(low, high float64, d circuit.Dimension) string {
	a, b := u.Number(low, d), u.Number(high, d)
	if a == b {
		return join(a, u.UnitOf(d))
	}
	return join(a+" to "+b, u.UnitOf(d))
}

func join(number, unit string) string {
	if unit == "" {
		return number
	}
	if unit == "%" {
		return number + " %"
	}
	return number + " " + unit
}
