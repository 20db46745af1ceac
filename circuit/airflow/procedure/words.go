package procedure

import (
	"math"
	"strconv"
	"strings"

	"airpath/circuit"
)

// phrase turns numbers into words, with pressures in the reader's unit.
type phrase struct{ unit string }

// pressure of a level: 120 psi.
func (f phrase) pressure(pa float64) string { return f.in(pa, circuit.Pressure) }

// span of pressure: a drop or a difference.
func (f phrase) span(pa float64) string { return f.in(pa, circuit.PressureSpan) }

func (f phrase) in(si float64, d circuit.Dimension) string {
	unit := f.unit
	v, ok := circuit.In(si, d, unit)
	if !ok {
		unit = "psi"
		v, _ = circuit.In(si, d, unit)
	}
	digits := map[string]float64{"psi": 1, "kPa": 0.1, "bar": 10}[unit]
	return strconv.FormatFloat(math.Round(v*digits)/digits, 'f', -1, 64) + " " + unit
}

// duration in the unit that a person would use.
func duration(s float64) string {
	if s < 120 {
		return plural(s, "second")
	}
	return plural(s/60, "minute")
}

func plural(n float64, word string) string {
	text := strconv.FormatFloat(math.Round(n*10)/10, 'f', -1, 64) + " " + word
	if n != 1 {
		text += "s"
	}
	return text
}

func rpm(revsPerSecond float64) string {
	return strconv.FormatFloat(math.Round(revsPerSecond*60), 'f', -1, 64) + " rpm"
}

// list joins names: "a, b and c".
func list(names []string, joint string) string {
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " " + joint + " " + names[len(names)-1]
}
