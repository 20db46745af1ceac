package main

import (
	"fmt"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// checkedJurisdiction is whose limits a vehicle is held against.
const checkedJurisdiction = "US"

// healthyVehicle carries out every procedure that has published limits on the vehicle in good order, and holds its
// readings against them.
func (p *program) healthyVehicle(n *airflow.Network, unit pressureUnit) ([]heldLimit, error) {
	bench, err := procedure.NewBench(n, nil, airflow.Scatter{})
	if err != nil {
		return nil, err
	}
	var held []heldLimit
	for _, proc := range procedure.For(n) {
		if !hasBounds(proc) {
			continue
		}
		out, err := bench.Do(p.ctx, proc)
		if err != nil {
			return nil, err
		}
		for i, r := range proc.Readings {
			for _, l := range r.Limits {
				if l.Usual || l.Jurisdiction != checkedJurisdiction {
					continue
				}
				reading := r.ID
				if r.Place != "" {
					reading += " at " + r.Place
				}
				what := fmt.Sprintf("%s: %s %s", proc.ID, reading, shown(r, out.Values[i], unit))
				if out.Undone != "" {
					what = fmt.Sprintf("%s could not be done: %s", proc.ID, out.Undone)
				}
				held = append(held, heldLimit{r.Place, what, l.Wanted(), l.Source, l.Meets(out.Values[i])})
			}
		}
	}
	return held, nil
}

func hasBounds(proc *procedure.Procedure) bool {
	for _, r := range proc.Readings {
		for _, l := range r.Limits {
			if !l.Usual && l.Jurisdiction == checkedJurisdiction {
				return true
			}
		}
	}
	return false
}
