package score

import (
	"context"
	"errors"
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// A hidden vehicle: with its fault, its own scatter, its needles, and the person who works on it. What a procedure comes to on
// it is simulated once and read the same by whoever asks.
type hidden struct {
	w        *world
	vehicle  int
	stage    uint64 // after how many repairs
	bench    *procedure.Bench
	network  *airflow.Network
	real     []*procedure.Procedure // on that network
	faults   []airflow.Fault        // the truth
	needles  []airflow.Fault        // own errors of gauges
	scatter  airflow.Scatter
	ear      float64 // how much duller than most, in spreads of the judge
	outcomes []*procedure.Outcome
	broken   int // simulations that broke off
}

// draw how a vehicle differs from its file, whatever its fault.
func (w *world) draw(vehicle int) *hidden {
	r := w.dice(vehicle, forVehicle)
	h := &hidden{w: w, vehicle: vehicle, network: w.hidden, real: w.real}
	most := 0.10
	if w.options.Mismatch {
		most = 0.20
	}
	evenly := func() float64 { return most * (2*r.Float64() - 1) }
	h.scatter = airflow.Scatter{Pump: evenly(), Volume: evenly(), Valve: evenly(), Bore: evenly()}
	h.scatter.Wall = math.Exp(0.35*math.Max(-2, math.Min(2, r.NormFloat64()))) - 1
	if !w.options.Matched {
		h.scatter.Wall = (1+h.scatter.Wall)*wallFactor - 1
	}
	for _, g := range w.known.Gauges() {
		bias := 0.07 * w.cutOut * (2*r.Float64() - 1) // 49 CFR 571.121 S5.1.4
		mode := "reading high"
		if bias < 0 {
			mode = "reading low"
		}
		h.needles = append(h.needles, airflow.Fault{Target: g, Mode: mode, Severity: math.Abs(bias)})
		if band := mostHysteresis * r.Float64(); !w.options.Matched {
			h.needles = append(h.needles, airflow.Fault{Target: g, Mode: "sticking", Severity: band})
		}
	}
	h.ear = logistic(r)
	return h
}

// put the vehicle with some faults on a bench of the worker's. What was known of it is forgotten.
func (h *hidden) put(k *worker, slot int, faults []airflow.Fault) error {
	// A truth comes last: a needle that sticks sticks more than a healthy one. What a gauge that reads wrong is off by is its fault, and not its own
	// error besides: the two together might leave it within what a gauge in good order may be off by.
	var all []airflow.Fault
	for _, own := range h.needles {
		if !slices.ContainsFunc(faults, func(f airflow.Fault) bool { return f.Target == own.Target && readsWrong(f) && readsWrong(own) }) {
			all = append(all, own)
		}
	}
	all = append(all, faults...)
	bench, err := k.bench(slot, h.network, all, h.scatter)
	if err != nil {
		return err
	}
	h.bench, h.faults = bench, faults
	h.outcomes = make([]*procedure.Outcome, len(h.real))
	return nil
}

// readsWrong tells whether a fault is that a gauge is off by so much.
func readsWrong(f airflow.Fault) bool { return f.Mode == "reading high" || f.Mode == "reading low" }

// outcome of a procedure by its index. One that breaks off in the simulator reads as nothing at all.
func (h *hidden) outcome(ctx context.Context, p int) (*procedure.Outcome, error) {
	if source := h.w.sources[p]; h.outcomes[p] == nil && source != p {
		o, err := h.outcome(ctx, source)
		if err != nil {
			return nil, err
		}
		h.outcomes[p] = o
	}
	if h.outcomes[p] == nil {
		o, err := h.bench.Do(ctx, h.real[p])
		var failure *airflow.Failure
		if err != nil && !errors.As(err, &failure) {
			return nil, err
		}
		if err != nil {
			h.broken++
			o.Undone = failure.Error()
			for i := range o.Values {
				o.Values[i] = math.NaN()
			}
		}
		o.Curves = procedure.Curves{} // nobody looks at them
		h.outcomes[p] = &o
	}
	return h.outcomes[p], nil
}

// read a reading of a procedure as it is written down; ok is false where there is nothing to write.
func (h *hidden) read(ctx context.Context, p, r int) (result circuit.Result, ok bool, err error) {
	o, err := h.outcome(ctx, p)
	if err != nil {
		return circuit.Result{}, false, err
	}
	reading := &h.w.procedures[p].Readings[r]
	d := h.w.dice(h.vehicle, forReadings, h.stage, uint64(p), uint64(r))
	if reading.Form == procedure.YesNo {
		if o.Undone != "" {
			return circuit.Result{}, false, nil
		}
		if h.says(reading, o.Values[r], d) {
			return circuit.Result{Kind: circuit.Yes, Text: string(circuit.Yes)}, true, nil
		}
		return circuit.Result{Kind: circuit.No, Text: string(circuit.No)}, true, nil
	}
	return figure(reading, o.Values[r], d), true, nil
}
