package effort

import (
	"airpath/circuit"
	"airpath/circuit/limit"
)

// A Shortfall is a pressure at which a towed vehicle brakes less than it has to.
type Shortfall struct {
	Pressure     float64 // in the chambers, Pa above the atmosphere
	Share, Least float64 // of the weight that its axles are rated for
}

// Towed holds the brakes of a towed vehicle against what they have to give at each pressure from 20 to 80 psi (49 CFR 571.121
// S5.4.1, Table III), cold. It returns the first shortfall, nil for none.
func (v *Vehicle) Towed() *Shortfall {
	rating := 0.0
	for _, a := range v.Circuit.Vehicle.Axles {
		rating += a.RatingOrLoad() * Gravity
	}
	for p := 20.0; p <= 80; p += 5 {
		least := limit.TowedRetardation(p * circuit.PSI)
		share := 0.0
		if rating > 0 {
			share = Total(v.Apply(p*circuit.PSI)) / rating
		}
		if share < least {
			return &Shortfall{p * circuit.PSI, share, least}
		}
	}
	return nil
}
