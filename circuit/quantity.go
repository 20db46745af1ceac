package circuit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// AtmospherePressure is the standard atmosphere in Pa (ISO 2533, from memory). Gauge pressures in files and on screens are above it.
const AtmospherePressure = 101325.0

// PSI is one pound-force per square inch in Pa.
const PSI = 6894.757293168

// Dimension tells which units a quantity may have. Pressure is a level on a gauge: "120 psi" is stored as absolute Pa;
// PressureSpan is a difference: a crack or a hysteresis, stored as Pa without the atmosphere.
type Dimension string

const (
	Pressure        Dimension = "pressure"          // Pa absolute inside, gauge in text
	PressureSpan    Dimension = "pressure span"     // Pa
	Volume          Dimension = "volume"            // m³
	Length          Dimension = "length"            // m
	Area            Dimension = "area"              // m²
	Speed           Dimension = "speed of rotation" // rev/s
	Conductance     Dimension = "sonic conductance" // m³/(s·Pa), ISO 6358
	HeatConductance Dimension = "heat conductance"  // W/K
	Time            Dimension = "time"              // s
	Temperature     Dimension = "temperature"       // K
	Force           Dimension = "force"             // N
	Stiffness       Dimension = "stiffness"         // N/m
	Rate            Dimension = "pressure rate"     // Pa/s
	Flow            Dimension = "free air flow"     // m³/s at ISO 8778 reference air
	Ratio           Dimension = "ratio"             // 1
	Count           Dimension = "count"             // 1
)

// A Unit turns its numbers into SI: si = number × Scale + Offset.
type Unit struct {
	Name   string
	Scale  float64
	Offset float64
}

const inch = 0.0254

// units lists for each dimension what may be written; the first is the one used where nothing else is asked for.
var units = map[Dimension][]Unit{
	Pressure:        {{"psi", PSI, AtmospherePressure}, {"bar", 1e5, AtmospherePressure}, {"kPa", 1e3, AtmospherePressure}},
	PressureSpan:    {{"psi", PSI, 0}, {"bar", 1e5, 0}, {"kPa", 1e3, 0}},
	Volume:          {{"L", 1e-3, 0}, {"mL", 1e-6, 0}, {"in3", inch * inch * inch, 0}},
	Length:          {{"mm", 1e-3, 0}, {"m", 1, 0}, {"cm", 1e-2, 0}, {"in", inch, 0}},
	Area:            {{"cm2", 1e-4, 0}, {"mm2", 1e-6, 0}, {"in2", inch * inch, 0}},
	Speed:           {{"rpm", 1.0 / 60, 0}},
	Conductance:     {{"L/(s.bar)", 1e-8, 0}},
	HeatConductance: {{"W/K", 1, 0}},
	Time:            {{"s", 1, 0}, {"min", 60, 0}, {"h", 3600, 0}, {"ms", 1e-3, 0}},
	Temperature:     {{"C", 1, 273.15}, {"K", 1, 0}},
	Force:           {{"N", 1, 0}, {"kN", 1e3, 0}, {"lbf", 4.4482216152605, 0}},
	Stiffness:       {{"N/mm", 1e3, 0}, {"lbf/in", 4.4482216152605 / inch, 0}},
	Rate:            {{"psi/min", PSI / 60, 0}, {"bar/min", 1e5 / 60, 0}, {"kPa/min", 1e3 / 60, 0}},
	Flow:            {{"L/min", 1e-3 / 60, 0}, {"L/s", 1e-3, 0}, {"cfm", 0.028316846592 / 60, 0}},
	Ratio:           {{"%", 1e-2, 0}, {"", 1, 0}},
	Count:           {{"", 1, 0}},
}

// UnitsOf returns the units that a dimension may be written in.
func UnitsOf(d Dimension) []Unit { return slices.Clone(units[d]) }

// A Quantity is a number with its dimension, and the text that it was read from so that saving keeps the user's own unit.
type Quantity struct {
	SI        float64
	Dimension Dimension
	Text      string
}

// ParseQuantity reads text such as "120 psi", "35 L" or "9.5 mm".
func ParseQuantity(text string, d Dimension) (Quantity, error) {
	trimmed := strings.TrimSpace(text)
	split := strings.IndexFunc(trimmed, func(r rune) bool { return !strings.ContainsRune("0123456789.+-eE", r) })
	// An exponent's letter and a unit's letter can't be told apart by the first rune alone; none of our units starts with e or E.
	number, unitText := trimmed, ""
	if split >= 0 {
		number, unitText = strings.TrimSpace(trimmed[:split]), strings.TrimSpace(trimmed[split:])
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return Quantity{}, fmt.Errorf("%q is not a %s: want a number and a unit, such as %q", text, d, exampleOf(d))
	}
	for _, u := range units[d] {
		if u.Name == unitText {
			si := v*u.Scale + u.Offset
			if math.IsInf(si, 0) {
				return Quantity{}, fmt.Errorf("%q is too large for a %s", text, d)
			}
			return Quantity{SI: si, Dimension: d, Text: trimmed}, nil
		}
	}
	if unitText == "" {
		return Quantity{}, fmt.Errorf("%q has no unit; a %s is written in %s, such as %q", text, d, unitNames(d), exampleOf(d))
	}
	return Quantity{}, fmt.Errorf("unit %q does not measure a %s; write it in %s, such as %q", unitText, d, unitNames(d), exampleOf(d))
}

// MustQuantity parses a quantity that the program itself wrote.
func MustQuantity(text string, d Dimension) Quantity {
	q, err := ParseQuantity(text, d)
	if err != nil {
		panic("circuit: " + err.Error())
	}
	return q
}

// In converts an SI number of dimension d into the named unit; ok is false where d has no such unit.
func In(si float64, d Dimension, unit string) (v float64, ok bool) {
	for _, u := range units[d] {
		if u.Name == unit {
			return (si - u.Offset) / u.Scale, true
		}
	}
	return 0, false
}

func unitNames(d Dimension) string {
	var names []string
	for _, u := range units[d] {
		if u.Name != "" {
			names = append(names, u.Name)
		}
	}
	if len(names) == 0 {
		return "plain numbers"
	}
	return strings.Join(names, ", ")
}

func exampleOf(d Dimension) string {
	if u := units[d]; len(u) > 0 {
		return strings.TrimSpace("12 " + u[0].Name)
	}
	return "12"
}

// firstUnit is the unit used where nothing else is asked for.
func firstUnit(d Dimension) string {
	if u := units[d]; len(u) > 0 {
		return u[0].Name
	}
	return ""
}
