package score

import (
	"context"
	"errors"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// effects says what a fault of typical severity makes of each procedure: what a person knows who has the drawing and has seen
// many vehicles.
type effects struct {
	outcomes [][]int           // by candidate and procedure; nil for a candidate that shows nowhere; 0 is as the healthy vehicle has it
	index    map[[2]string]int // of candidates, by component and mode
}

func (e *effects) shows(target, mode string, p int) bool {
	i, ok := e.index[[2]string{target, mode}]
	return ok && e.outcomes[i] != nil && e.outcomes[i][p] != 0
}

// effectsOf the catalogue on the vehicle as its file has it, worked out on all cores.
func (w *world) effectsOf(ctx context.Context) (*effects, error) {
	model, err := procedure.NewModel(ctx, w.known, w.procedures, airflow.Coarse)
	if err != nil {
		return nil, err
	}
	healthy, err := w.through(ctx, model, nil)
	if err != nil {
		return nil, err
	}
	values := make([][][]float64, len(w.catalogue)) // by candidate, procedure and reading
	errs := make([]error, len(w.catalogue))
	var next atomic.Int64
	var work sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		work.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(w.catalogue); i = int(next.Add(1)) - 1 {
				if c := &w.catalogue[i]; c.weight > 0 {
					values[i], errs[i] = w.through(ctx, model, []airflow.Fault{c.fault})
				}
			}
		})
	}
	work.Wait()
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	e := &effects{outcomes: make([][]int, len(w.catalogue)), index: map[[2]string]int{}}
	labels := make([]map[string]int, len(w.procedures)) // of what the readings of a procedure come to together
	for p := range labels {
		labels[p] = map[string]int{w.classes(p, healthy[p], healthy[p]): 0}
	}
	for i, c := range w.catalogue {
		e.index[[2]string{c.fault.Target, c.fault.Mode}] = i
		if values[i] == nil {
			continue
		}
		row, any := make([]int, len(w.procedures)), false
		for p := range row {
			key := w.classes(p, values[i][p], healthy[p])
			label, ok := labels[p][key]
			if !ok {
				label = len(labels[p])
				labels[p][key] = label
			}
			row[p], any = label, any || label != 0
		}
		if any {
			e.outcomes[i] = row
		}
	}
	return e, nil
}

// classes of a procedure's readings, one letter each: as the healthy vehicle has it, less, more, never.
func (w *world) classes(p int, values, healthy []float64) string {
	out := make([]byte, len(values))
	for r := range values {
		switch {
		case !differs(&w.procedures[p].Readings[r], values[r], healthy[r]):
			out[r] = '='
		case math.IsNaN(values[r]):
			out[r] = 'x'
		case values[r] < healthy[r]:
			out[r] = '-'
		default:
			out[r] = '+'
		}
	}
	return string(out)
}

// through all procedures with a vehicle that has some faults: exact values.
func (w *world) through(ctx context.Context, model *procedure.Model, faults []airflow.Fault) ([][]float64, error) {
	b, err := procedure.NewBench(w.known, faults, airflow.Scatter{})
	if err != nil {
		return nil, err
	}
	if err := b.Follow(model); err != nil {
		return nil, err
	}
	out := make([][]float64, len(w.procedures))
	for p := range w.procedures {
		if source := w.sources[p]; source < p {
			out[p] = out[source]
			continue
		}
		o, err := b.Do(ctx, w.procedures[p])
		var failure *airflow.Failure
		if err != nil && !errors.As(err, &failure) {
			return nil, err
		}
		out[p] = o.Values
	}
	return out, nil
}

// differs tells whether a reading is another than the healthy one's by what can be read, or a tenth.
func differs(r *procedure.Reading, value, healthy float64) bool {
	switch {
	case math.IsNaN(value) || math.IsNaN(healthy):
		return math.IsNaN(value) != math.IsNaN(healthy)
	case r.Form == procedure.YesNo:
		return math.Abs(r.Judge.Says(value)-r.Judge.Says(healthy)) > 0.5
	}
	scale := 0.1 * math.Abs(healthy)
	if r.Dimension == circuit.Pressure {
		scale = 0
	}
	return math.Abs(value-healthy) > math.Max(3*r.Sigma, scale)
}
