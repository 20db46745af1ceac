package trace

import (
	"fmt"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/moisture"
	"airpath/trace/reason"
)

// frostFactor weighs how cold it was where the trouble showed, K: faults that are ice are likelier in frost than over the year, and hardly
// likely in warmth. Whatever else there is, is as likely as ever.
func (t *Tracer) frostFactor(ambient float64) (reason.Factor, error) {
	n := len(t.nuisances.draws)
	f := reason.Factor{Key: "ambient", Rows: make([]int32, len(t.cells))}
	rows := map[float64]int32{}
	row := func(value float64) int32 { return levelRow(&f, rows, value, n) }
	row(1)
	for h := firstFault; h < len(t.list); h++ {
		list := &t.list[h]
		mode, err := airflow.ModeOf(t.circuit, list.fault)
		if err != nil {
			return f, fmt.Errorf("frost: %w", err)
		}
		k := row(moisture.IceOdds(mode, ambient))
		for c := list.cell; c < list.cell+list.cells; c++ {
			f.Rows[c] = k
		}
	}
	f.Joint = func(x, _ int32) []float64 { return f.Density[int(x)*n : (int(x)+1)*n] } // two that are ice have the same frost
	return f, nil
}
