package effort

import "math"

// A Balance says how the braking is shared out.
type Balance struct {
	Axles        []AxleBalance // of the vehicle's axles, front first
	Left, Right  float64       // N, of all wheels with a side
	Total        float64       // N, of all wheels
	Deceleration float64       // of the laden vehicle on the level, m/s²; NaN where its mass is not known
}

// AxleBalance is one axle's share.
type AxleBalance struct {
	Name        string
	Left, Right float64 // N at the tyres
	Share       float64 // of the whole brake force
	LoadShare   float64 // of the load at rest
	Weight      float64 // N that presses the axle on the road while braking so: the front gains what the rear loses
	Adhesion    float64 // friction between tyre and road that the axle uses: force over Weight; above what the road gives, it locks
}

// Uneven is the difference of two sides over the greater one.
func Uneven(left, right float64) float64 {
	most := max(left, right)
	if most <= 0 {
		return 0
	}
	return math.Abs(left-right) / most
}

// Uneven sides of an axle.
func (a AxleBalance) Uneven() float64 { return Uneven(a.Left, a.Right) }

// MostUneven is the difference between the two sides of an axle from which a vehicle is felt to pull (common practice).
const MostUneven = 0.25

// Balance the forces of all wheels over axles and sides.
func (v *Vehicle) Balance(efforts []Effort) Balance {
	vehicle := v.Circuit.Vehicle
	b := Balance{Total: Total(efforts), Deceleration: math.NaN(), Axles: make([]AxleBalance, len(vehicle.Axles))}
	for _, e := range efforts {
		switch e.Wheel.Side {
		case Left:
			b.Left += e.WheelForce
			b.Axles[e.Wheel.Axle].Left += e.WheelForce
		case Right:
			b.Right += e.WheelForce
			b.Axles[e.Wheel.Axle].Right += e.WheelForce
		}
	}
	mass := vehicle.Mass.SI
	if mass > 0 {
		b.Deceleration = b.Total / mass
	}
	loads := 0.0
	for _, a := range vehicle.Axles {
		loads += a.Load.SI
	}
	shift := v.shift(b.Deceleration)
	for i, a := range vehicle.Axles {
		x := &b.Axles[i]
		x.Name = a.Name
		force := x.Left + x.Right
		if b.Total > 0 {
			x.Share = force / b.Total
		}
		x.LoadShare = a.Load.SI / loads
		x.Weight = a.Load.SI * Gravity
		if i == 0 {
			x.Weight += shift
		} else {
			x.Weight -= shift * a.Load.SI / (loads - vehicle.Axles[0].Load.SI)
		}
		x.Adhesion = math.Inf(1)
		if x.Weight > 0 {
			x.Adhesion = force / x.Weight
		}
	}
	return b
}

// shift is the weight that braking moves from the rear axles to the front one, N: mass · deceleration · height / wheelbase. The
// rear axles count as one, at the middle of their loads. It is 0 where height or wheelbase is not known.
func (v *Vehicle) shift(deceleration float64) float64 {
	vehicle := v.Circuit.Vehicle
	moment, load := 0.0, 0.0
	for i, a := range vehicle.Axles {
		if i > 0 {
			moment += a.Load.SI * a.Behind.SI
			load += a.Load.SI
		}
	}
	if load == 0 || moment == 0 || math.IsNaN(deceleration) {
		return 0
	}
	return vehicle.Mass.SI * deceleration * vehicle.CentreHeight.SI / (moment / load)
}
