package trace

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// What is shared within a vehicle and known to nobody: how far it is from its file, and the own error of each gauge. Each
// is drawn once for the whole case and summed out over all findings together.

// drawCount is how many common draws stand for the vehicles that it might be.
const drawCount = 256

// spreads of the nuisances, 1 σ. Vehicles lie within 10 % of their file, evenly, which is 5.8 %; how well a reservoir's
// air is cooled is hardly known at all. Engineering judgement.
var spreads = []struct {
	name  string
	sigma float64
	set   func(*airflow.Scatter, float64)
}{
	{"compressor output", 0.058, func(s *airflow.Scatter, x float64) { s.Pump = x }},
	{"reservoir volume", 0.058, func(s *airflow.Scatter, x float64) { s.Volume = x }},
	{"cooling of reservoirs", 0.35, func(s *airflow.Scatter, x float64) { s.Wall = x }},
	{"valves", 0.058, func(s *airflow.Scatter, x float64) { s.Valve = x }},
	{"bores", 0.058, func(s *airflow.Scatter, x float64) { s.Bore = x }},
}

// gaugeSpread is the own error of a gauge: at most 7 % of cut-out (49 CFR 571.121 S5.1.4), taken as 2 σ.
const gaugeSpread = 0.035

// scattered lists the vehicles from which sensitivities are taken: each nuisance a σ up, and a σ down.
func scattered() []vehicle {
	var out []vehicle
	for _, s := range spreads {
		for _, way := range []float64{s.sigma, -s.sigma} {
			v := vehicle{}
			s.set(&v.scatter, way)
			out = append(out, v)
		}
	}
	return out
}

// nuisances are the draws, and how each reading moves with them.
type nuisances struct {
	draws  [][]float64
	gauges map[string]int // dimension of each gauge's own error
	cutOut float64        // Pa gauge
	first  int            // the first of the scattered vehicles
}

func newNuisances(c *circuit.Circuit, gauges []string, first int) *nuisances {
	n := &nuisances{gauges: map[string]int{}, first: first, cutOut: 120 * circuit.PSI}
	dims := len(spreads)
	for _, g := range gauges {
		n.gauges[g] = dims
		dims++
	}
	for _, part := range c.Components {
		if part.Kind.Name == "governor" {
			n.cutOut = part.Value("cut_out") - circuit.AtmospherePressure
			break
		}
	}
	n.draws = reason.Draws(drawCount, dims)
	return n
}

// shifts says what each draw makes of an exact reading: value·times + plus.
type shifts struct{ times, plus []float64 }

// of a reading taken on a gauge of the vehicle's own ("" for none), from how it moves on the healthy vehicle. Times, rates and falls move in proportion, as they do on a faulty
// vehicle; levels, and what is next to nothing on a healthy one, by as much. Cooling adds to a fall whatever else causes one.
func (n *nuisances) of(t *table, p, r int, reading *procedure.Reading, own string) shifts {
	s := shifts{make([]float64, len(n.draws)), make([]float64, len(n.draws))}
	logs, adds := make([]float64, len(spreads)), make([]float64, len(spreads))
	for k := range spreads {
		up, down := t.values(p, n.first+2*k), t.values(p, n.first+2*k+1)
		if up == nil || down == nil || math.IsNaN(up[r]) || math.IsNaN(down[r]) {
			continue
		}
		a, b := up[r], down[r]
		scale := 3 * reading.Sigma
		if spreads[k].name != "cooling of reservoirs" && reading.Dimension != circuit.Pressure && a > scale && b > scale {
			logs[k] = (math.Log(a) - math.Log(b)) / 2
		} else {
			adds[k] = (a - b) / 2
		}
	}
	gauge, hasGauge := n.gauges[own]
	for d, z := range n.draws {
		l, a := 0.0, 0.0
		for k := range spreads {
			l += logs[k] * z[k]
			a += adds[k] * z[k]
		}
		if hasGauge && reading.Level {
			a += gaugeSpread * n.cutOut * z[gauge]
		}
		s.times[d], s.plus[d] = math.Exp(l), a
	}
	return s
}
