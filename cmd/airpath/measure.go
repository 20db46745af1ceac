package main

import (
	"flag"
	"math"

	"airpath/circuit"
)

// A pressureUnit is the unit that a person reads pressures in; files and JSON do not depend on it.
type pressureUnit string

// pressureFlag declares --unit.
func pressureFlag(flags *flag.FlagSet) *pressureUnit {
	u := pressureUnit("psi")
	flags.Func("unit", "show pressures in this `unit`: psi (if not given), bar or kPa", func(s string) error {
		switch s {
		case "psi", "bar", "kPa":
			u = pressureUnit(s)
			return nil
		}
		return badCall("pressures are shown in psi, bar or kPa, not in %q", s)
	})
	return &u
}

// format writes an SI value with its unit, with the digits that an instrument in a workshop has.
func (u pressureUnit) format(si float64, d circuit.Dimension) string {
	unit := circuit.UnitFor(d, string(u))
	v, ok := circuit.In(si, d, unit)
	if !ok {
		v = si
	}
	return circuit.Format(si, d, unit, digits(unit, math.Abs(v)))
}

// span writes an interval: "0.8 mm to 1.4 mm".
func (u pressureUnit) span(low, high float64, d circuit.Dimension) string {
	a, b := u.format(low, d), u.format(high, d)
	if a == b {
		return a
	}
	return a + " to " + b
}

// digits after the point that make sense in a unit for a number of this size.
func digits(unit string, size float64) int {
	switch {
	case unit == "bar":
		return 2
	case unit == "kPa", unit == "rpm", size >= 100:
		return 0
	case size >= 1:
		return 1
	}
	return 2
}
