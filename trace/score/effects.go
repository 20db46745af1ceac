package score

import (
	"context"
	"errors"
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// effects says which procedures show a fault of typical severity at all: what a person knows from the drawing.
type effects struct {
	shown map[[2]string][]bool // by component and mode, for each procedure
}

func (e *effects) shows(target, mode string, p int) bool {
	row := e.shown[[2]string{target, mode}]
	return row != nil && row[p]
}

// effectsOf the catalogue on the vehicle as its file has it.
func (w *world) effectsOf(ctx context.Context) (*effects, error) {
	model, err := procedure.NewModel(ctx, w.known, w.procedures, airflow.Coarse)
	if err != nil {
		return nil, err
	}
	b, err := procedure.NewBench(w.known, nil, airflow.Scatter{})
	if err != nil {
		return nil, err
	}
	if err := b.Follow(model); err != nil {
		return nil, err
	}
	e := &effects{shown: map[[2]string][]bool{}}
	healthy, err := w.through(ctx, b)
	if err != nil {
		return nil, err
	}
	for _, c := range w.catalogue {
		if c.weight == 0 {
			continue
		}
		if err := b.Next([]airflow.Fault{c.fault}, airflow.Scatter{}); err != nil {
			return nil, err
		}
		values, err := w.through(ctx, b)
		if err != nil {
			return nil, err
		}
		row := make([]bool, len(w.procedures))
		for p := range values {
			for r := range w.procedures[p].Readings {
				row[p] = row[p] || differs(&w.procedures[p].Readings[r], values[p][r], healthy[p][r])
			}
		}
		e.shown[[2]string{c.fault.Target, c.fault.Mode}] = row
	}
	return e, nil
}

// through all procedures with the vehicle on a bench: exact values.
func (w *world) through(ctx context.Context, b *procedure.Bench) ([][]float64, error) {
	out := make([][]float64, len(w.procedures))
	for p := range w.procedures {
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
