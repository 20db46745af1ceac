package trace

import (
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// What is shared within a vehicle and known to nobody: how far it is from its file, and the own error of each gauge. Each
// is drawn once for the whole case and summed out over all findings together.

// drawCount is how many common draws stand for the vehicles that it might be.
const drawCount = 64

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

// coolingDim is which of the spreads is the cooling.
const coolingDim = 2

// gaugeSpread is the own error of a gauge that is in order, 1 σ: at most 7 % of cut-out (49 CFR 571.121 S5.1.4), evenly. What is off by
// more is not in order.
const gaugeSpread = gaugeMost / 1.7320508075688772 // the root of 3

// gaugeMost is how far a gauge that is in order may be off, as a share of cut-out.
const gaugeMost = 0.07

// earSpread is how much duller or keener than most whoever listens may be, 1 σ of the logarithm of the flow that is just heard.
const earSpread = 0.7

// The modes of a gauge by which its own error is simulated: readings are not only shifted by it, procedures also begin and end
// by the needle.
const (
	needleHigh = "reading high"
	needleLow  = "reading low"
)

// nuisances are the draws, and the vehicles by which it is found out how each reading moves with them.
type nuisances struct {
	draws  [][]float64
	gauges []string
	cutOut float64 // Pa gauge
}

func newNuisances(c *circuit.Circuit, gauges []string) *nuisances {
	n := &nuisances{gauges: gauges, cutOut: 120 * circuit.PSI}
	for _, part := range c.Components {
		if part.Kind.Name == "governor" {
			n.cutOut = part.Value("cut_out") - circuit.AtmospherePressure
			break
		}
	}
	n.draws = n.even().all(reason.Draws(drawCount, n.dims()))
	return n
}

// even are the nuisances that lie evenly between bounds: the own errors of gauges.
func (n *nuisances) even() evenly { return evenly{len(spreads), len(spreads) + len(n.gauges)} }

// faulty is the nuisance that a fault takes the place of: what a gauge that reads high or low is off by is its fault, and nothing besides.
// It is -1 of any other fault.
func (n *nuisances) faulty(f airflow.Fault) int {
	if f.Mode == needleHigh || f.Mode == needleLow {
		if k := slices.Index(n.gauges, f.Target); k >= 0 {
			return len(spreads) + k
		}
	}
	return -1
}

// dims is how many nuisances there are: the spreads, the gauges, the ear.
func (n *nuisances) dims() int { return len(spreads) + len(n.gauges) + 1 }

// scattered lists the vehicles around one: for each nuisance a σ up, and a σ down.
func (n *nuisances) scattered(base vehicle) []vehicle {
	var out []vehicle
	for _, s := range spreads {
		for _, way := range []float64{s.sigma, -s.sigma} {
			v := vehicle{faults: base.faults}
			s.set(&v.scatter, way)
			out = append(out, v)
		}
	}
	for _, g := range n.gauges {
		for _, mode := range []string{needleHigh, needleLow} {
			own := airflow.Fault{Target: g, Mode: mode, Severity: gaugeSpread * n.cutOut}
			out = append(out, vehicle{faults: append(slices.Clone(base.faults), own)})
		}
	}
	return out
}

// shifts says what each draw makes of an exact reading: value·times + plus. Rough is what is left over where a reading does not
// move in proportion, 1 σ.
type shifts struct {
	times, plus []float64
	logs        []float64 // of times
	level       bool      // all of plus are zero
	scaled      bool      // not all of times are one
	rough       float64   // SI
	roughShare  float64   // of the value
}

// coarseness is how far apart the draws lie, as a share of the spread that they stand for: 64 points in eight dimensions leave
// gaps, and a reading must not tell hypotheses apart by which of them has a draw in the right place.
const coarseness = 0.4

// shiftsKey is what the shifts of a reading depend on.
type shiftsKey struct {
	procedure, reading int
	own                string
	faulty             int
}

// shifts of a reading, kept; faulty is a nuisance that is none, or -1.
func (t *Tracer) shifts(p, r int, reading *procedure.Reading, own string, faulty int) *shifts {
	key := shiftsKey{p, r, own, faulty}
	t.mu.Lock()
	defer t.mu.Unlock()
	s, ok := t.moves[key]
	if !ok {
		s = t.nuisances.of(t.table, p, r, reading, own, faulty)
		t.moves[key] = s
	}
	return s
}

// shifts of the draws, of a reading around the healthy vehicle.
func (n *nuisances) of(t *table, p, r int, reading *procedure.Reading, own string, faulty int) *shifts {
	b := n.around(t, 0, p, r, reading, own)
	if faulty >= 0 {
		b = b.without(faulty)
	}
	s := b.shifts(n.draws)
	for k := range b.up {
		if b.ratio[k] {
			s.roughShare = math.Hypot(s.roughShare, coarseness*b.steepest(k))
		} else {
			s.rough = math.Hypot(s.rough, coarseness*b.steepest(k))
		}
	}
	return s
}
