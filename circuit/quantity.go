package circuit

import (
	"fmt"
	"math"
	"regexp"
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
	Pressure        Dimension = "pressure"              // Pa absolute inside, gauge in text
	PressureSpan    Dimension = "pressure span"         // Pa
	Volume          Dimension = "volume"                // m³
	Length          Dimension = "length"                // m
	LengthSpan      Dimension = "difference of lengths" // m; either may be the longer
	Area            Dimension = "area"                  // m²
	Speed           Dimension = "speed of rotation"     // rev/s
	Conductance     Dimension = "sonic conductance"     // m³/(s·Pa), ISO 6358
	HeatConductance Dimension = "heat conductance"      // W/K
	Time            Dimension = "time"                  // s
	Temperature     Dimension = "temperature"           // K
	Mass            Dimension = "mass"                  // kg
	Force           Dimension = "force"                 // N
	Stiffness       Dimension = "stiffness"             // N/m
	Rate            Dimension = "pressure rate"         // Pa/s
	Flow            Dimension = "free air flow"         // m³/s at ISO 8778 reference air
	Ratio           Dimension = "ratio"                 // 1
	Count           Dimension = "count"                 // 1
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
	LengthSpan:      {{"mm", 1e-3, 0}, {"cm", 1e-2, 0}, {"in", inch, 0}},
	Area:            {{"cm2", 1e-4, 0}, {"mm2", 1e-6, 0}, {"in2", inch * inch, 0}},
	Speed:           {{"rpm", 1.0 / 60, 0}},
	Conductance:     {{"L/(s.bar)", 1e-8, 0}},
	HeatConductance: {{"W/K", 1, 0}},
	Time:            {{"s", 1, 0}, {"min", 60, 0}, {"h", 3600, 0}, {"ms", 1e-3, 0}},
	Temperature:     {{"C", 1, 273.15}, {"K", 1, 0}, {"F", 5.0 / 9, 273.15 - 32*5.0/9}},
	Mass:            {{"kg", 1, 0}, {"t", 1e3, 0}, {"lb", 0.45359237, 0}},
	Force:           {{"N", 1, 0}, {"kN", 1e3, 0}, {"lbf", 4.4482216152605, 0}},
	Stiffness:       {{"N/mm", 1e3, 0}, {"lbf/in", 4.4482216152605 / inch, 0}},
	Rate:            {{"psi/min", PSI / 60, 0}, {"bar/min", 1e5 / 60, 0}, {"kPa/min", 1e3 / 60, 0}},
	Flow:            {{"L/min", 1e-3 / 60, 0}, {"L/s", 1e-3, 0}, {"cfm", 0.028316846592 / 60, 0}},
	Ratio:           {{"%", 1e-2, 0}, {"", 1, 0}},
	Count:           {{"", 1, 0}},
}

// Dimensions lists every dimension, sorted.
func Dimensions() []Dimension {
	ds := make([]Dimension, 0, len(units))
	for d := range units {
		ds = append(ds, d)
	}
	slices.Sort(ds)
	return ds
}

// UnitsOf returns the units that a dimension may be written in.
func UnitsOf(d Dimension) []Unit { return slices.Clone(units[d]) }

// A Quantity is a number with its dimension, and the text that it was read from so that saving keeps the user's own unit.
type Quantity struct {
	SI        float64
	Dimension Dimension
	Text      string
}

// written splits text into a number and what follows. The exponent is part of the number only with its digits, so that
// no unit could ever be taken for one.
var written = regexp.MustCompile(`(?s)^([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)(.*)$`)

// ParseQuantity reads text such as "120 psi", "35 L" or "9.5 mm". The space before the unit may be left out. Errors say
// what would be right.
func ParseQuantity(text string, d Dimension) (Quantity, error) {
	trimmed := strings.TrimSpace(text)
	m := written.FindStringSubmatch(trimmed)
	if m == nil {
		return Quantity{}, fmt.Errorf("%q is not a %s: want a number and a unit, such as %q", text, d, exampleOf(d))
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil || math.IsInf(v, 0) {
		return Quantity{}, fmt.Errorf("%q is too large for a %s", text, d)
	}
	name := strings.TrimSpace(m[2])
	if name != "" && strings.ContainsRune("0123456789.,+-", rune(name[0])) {
		return Quantity{}, fmt.Errorf("%q is not a %s: want one number, with a decimal point, and a unit, such as %q", text, d, exampleOf(d))
	}
	for _, u := range units[d] {
		if u.Name != name {
			continue
		}
		q := Quantity{SI: v*u.Scale + u.Offset, Dimension: d, Text: trimmed}
		return q, q.possible(text)
	}
	if name == "" {
		return Quantity{}, fmt.Errorf("%q has no unit; a %s is written in %s, such as %q", text, d, unitNames(d), m[1]+" "+firstUnit(d))
	}
	var names []string
	for _, u := range units[d] {
		names = append(names, u.Name)
	}
	if near := nearest(name, names); near != "" {
		return Quantity{}, fmt.Errorf("%q is no unit of a %s; did you mean %q?", name, d, near)
	}
	return Quantity{}, fmt.Errorf("unit %q does not measure a %s; write it in %s, such as %q", name, d, unitNames(d), exampleOf(d))
}

// possible refuses what no vehicle can have: less than a vacuum, less than absolute zero, a length below nothing.
func (q Quantity) possible(text string) error {
	switch q.Dimension {
	case Pressure:
		if q.SI < 0 {
			return fmt.Errorf("%q is less than a vacuum; pressures are gauge pressures, above the atmosphere", text)
		}
	case Temperature:
		if q.SI < 0 {
			return fmt.Errorf("%q is below absolute zero", text)
		}
	case Mass, Volume, Length, Area, Speed, Conductance, HeatConductance, Time, Stiffness:
		if q.SI < 0 {
			return fmt.Errorf("%q is negative, which no %s can be", text, q.Dimension)
		}
	}
	return nil
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

// Format writes an SI number in one of its dimension's units with so many decimals: "118 psi", "0.45 s", "7 %". An unknown
// unit falls back to the dimension's first; what is no number is a dash.
func Format(si float64, d Dimension, unit string, decimals int) string {
	v, ok := In(si, d, unit)
	if !ok {
		unit = firstUnit(d)
		if v, ok = In(si, d, unit); !ok {
			v, unit = si, ""
		}
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "–"
	}
	number := strconv.FormatFloat(v, 'f', max(0, decimals), 64)
	if strings.Trim(number, "-0.") == "" {
		number = strings.TrimPrefix(number, "-")
	}
	return strings.TrimSpace(number + " " + unit)
}

// UnitFor is the unit of a dimension for a person who reads pressures in psi, bar or kPa.
func UnitFor(d Dimension, pressureUnit string) string {
	for _, u := range units[d] {
		if u.Name == pressureUnit || u.Name == pressureUnit+"/min" {
			return u.Name
		}
	}
	return firstUnit(d)
}

// NewQuantity is a quantity that was not read from text; its text is the shortest that reads back as the same number.
func NewQuantity(si float64, d Dimension) Quantity {
	q := Quantity{SI: si, Dimension: d}
	q.Text = q.exactText()
	return q
}

// exactText is the text kept from the file, unless the number has changed since; then the shortest text that reads back
// as the same number, or where rounding in the unit's scale allows none, the nearest.
func (q Quantity) exactText() string {
	if kept, err := ParseQuantity(q.Text, q.Dimension); err == nil && kept.SI == q.SI {
		return kept.Text
	}
	best, miss := "", math.Inf(1)
	for _, u := range units[q.Dimension] {
		v := (q.SI - u.Offset) / u.Scale
		for digits := 1; digits <= 17; digits++ {
			text := strings.TrimSpace(strconv.FormatFloat(v, 'g', digits, 64) + " " + u.Name)
			got, err := ParseQuantity(text, q.Dimension)
			if err != nil {
				continue
			}
			off := math.Abs(got.SI - q.SI)
			if off < miss || off == 0 && len(text) < len(best) {
				best, miss = text, off
			}
			if off == 0 {
				break
			}
		}
	}
	return best
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
