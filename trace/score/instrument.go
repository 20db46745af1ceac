package score

import (
	"math"
	"math/rand/v2"
	"strconv"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// figure is what is written down of an exact value: with the error of one reading, rounded as the instrument is read.
func figure(r *procedure.Reading, exact float64, d *rand.Rand) circuit.Result {
	if math.IsNaN(exact) {
		return circuit.Result{Kind: circuit.Never, Text: string(circuit.Never)}
	}
	value := exact + r.Sigma*d.NormFloat64()
	unit := circuit.UnitFor(r.Dimension, "psi")
	least := 0.0
	if r.Dimension == circuit.Pressure {
		least = circuit.AtmospherePressure // a needle rests on its stop
	}
	if exact >= least {
		value = math.Max(value, least)
	}
	v, _ := circuit.In(value, r.Dimension, unit)
	decimals := decimalsOf(r, unit)
	text := strconv.FormatFloat(v, 'f', max(0, decimals), 64)
	if decimals < 0 {
		step := math.Pow(10, float64(-decimals))
		text = strconv.FormatFloat(math.Round(v/step)*step, 'f', 0, 64)
	}
	if x, err := strconv.ParseFloat(text, 64); err == nil && x == 0 {
		text = "0"
	}
	if unit != "" {
		text += " " + unit
	}
	return circuit.Result{Kind: circuit.Number, Text: text}
}

// decimalsOf a reading in a unit: an instrument is read to about its error, on marks of 1, 10, 0.1.
func decimalsOf(r *procedure.Reading, unit string) int {
	a, _ := circuit.In(r.Sigma, r.Dimension, unit)
	zero, _ := circuit.In(0, r.Dimension, unit)
	return -int(math.Floor(math.Log10(1.5 * (a - zero))))
}

// says whether this person says yes. Each has an ear of his own, besides what hangs on the moment: both together spread as the
// judge has it.
func (h *hidden) says(r *procedure.Reading, exact float64, d *rand.Rand) bool {
	j := r.Judge
	missed, imagined, moment := d.Float64(), d.Float64(), logistic(d)
	if imagined < j.False {
		return true
	}
	if math.IsNaN(exact) || missed < j.Miss {
		return false
	}
	x, half := exact, j.Half
	if j.Log {
		if exact <= 0 {
			return false
		}
		x, half = math.Log(exact), math.Log(j.Half)
	}
	threshold := moment
	if r.Sense == procedure.Ear && r.Dimension == circuit.Flow {
		threshold = 0.8*h.ear + 0.6*moment
	}
	return (x-half)/j.Spread > threshold
}
