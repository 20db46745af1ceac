package usage

import (
	"context"
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow/effort"
)

// pedalFor finds how far the pedal must go for a pressure in the chambers: by trying it on the standing vehicle.
func pedalFor(ctx context.Context, v *effort.Vehicle, pressure, from float64) (float64, error) {
	r, err := v.Charged(nil, from)
	if err != nil {
		return 0, err
	}
	ready := r.Snapshot()
	lo, hi := 0.0, 1.0
	for range 14 {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		r.Restore(ready)
		mid := (lo + hi) / 2
		if err := r.Set("pedal", mid, 0.2); err != nil {
			return 0, err
		}
		if err := r.Advance(4); err != nil {
			return 0, err
		}
		got := 0.0
		for _, w := range v.Wheels {
			got = max(got, r.Pressure(w.Chamber.ID+".service")-atmosphere)
		}
		if got < pressure {
			lo = mid
		} else {
			hi = mid
		}
	}
	if hi == 1 {
		return 0, fmt.Errorf("braking: no pedal gives %.0f psi in the chambers from %.0f psi in the reservoirs", pressure/circuit.PSI, from/circuit.PSI)
	}
	return hi, nil
}
