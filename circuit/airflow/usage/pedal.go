package usage

import (
	"context"
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow/effort"
)

// CutIn is the reservoir pressure above the atmosphere at which the governor lets the compressor work again, Pa; 0 without a governor.
// What is to show whether the compressor keeps up begins there: above it, it rests.
func CutIn(c *circuit.Circuit) float64 {
	for _, part := range c.Components {
		if part.Kind == nil {
			continue
		}
		if _, ok := part.Kind.Param("cut_in"); ok {
			return part.Value("cut_in") - atmosphere
		}
	}
	return 0
}

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
