package main

import (
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
	"airpath/circuit/limit"
)

// healthyBrakes holds what the air does at the wheels against the limits for strokes, brake force and parking.
func (p *program) healthyBrakes(n *airflow.Network) ([]heldLimit, error) {
	v, err := effort.New(n, nil)
	if err != nil || len(v.Wheels) == 0 {
		return nil, err
	}
	s, err := p.lookAt(v, 100*circuit.PSI)
	if err != nil {
		return nil, err
	}
	var held []heldLimit
	for _, w := range s.inspection.Wheels {
		held = append(held, heldLimit{w.Wheel.Chamber.ID, wheelName(w.Wheel) + ": push-rod stroke " + millimetres(w.Stroke), "at most " + millimetres(w.Most), w.Source, w.Over <= 0})
	}
	if !s.known() {
		return held, nil
	}
	if s.inspection.Stand {
		held = append(held, heldLimit{"", "brake force over axle rating at 20 to 80 psi", "the least at each pressure", limit.TowedSource, s.strong()})
	} else {
		bound := limit.BrakeForceLeast()
		got := fmt.Sprintf("brake force over gross weight: %.3f", s.balance.Deceleration/effort.Gravity)
		held = append(held, heldLimit{"", got, fmt.Sprintf("at least %.3f", bound.Low), bound.Source, s.strong()})
	}
	if len(s.parking.Axles) > 0 {
		got := fmt.Sprintf("parking force: holds a grade of %s", percent(s.parking.Grade))
		for _, a := range s.parking.Axles {
			got += fmt.Sprintf(", %s %.2f of its rating", a.Name, a.Share)
		}
		wanted := fmt.Sprintf("a grade of %s, or %.2f of each rating", percent(limit.ParkingGrade), limit.ParkingPerAxle)
		held = append(held, heldLimit{"", got, wanted, "49 CFR 571.121 S5.6.1, S5.6.2", s.parking.Pass()})
	}
	return held, nil
}
