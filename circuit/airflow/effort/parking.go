package effort

import (
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/limit"
)

// Parking is what the springs hold, against 49 CFR 571.121 S5.6: one of the three ways is enough.
type Parking struct {
	Force  float64     // N at all tyres
	Axles  []AxlePark  // axles with springs
	Gross  float64     // force over gross weight
	Grade  float64     // slope that the laden vehicle is held on, rise over run
	ByAxle bool        // S5.6.1: each axle but a steered one holds 0.28 of its rating
	ByMass bool        // S5.6.1: 0.14 of the gross weight, for a tractor with more than two axles
	OnHill bool        // S5.6.2: held on a grade of 20 %
	Europe bool        // held on a grade of 18 %, which UN R13 asks for instead
	Wheels []Effort    // wheels with springs and without
	Rule   limit.Bound // what ByAxle asks of each axle
}

// AxlePark is one axle's share of it.
type AxlePark struct {
	Name  string
	Force float64 // N
	Share float64 // of the weight that the axle is rated for
}

// Pass tells whether the parking brake does one of what the standard asks for.
func (p Parking) Pass() bool { return p.ByAxle || p.ByMass || p.OnHill }

// Parking works out what the springs alone hold, brakes cold and the rods out as the run has them without air. Whether the
// tyres grip is not looked at.
func (v *Vehicle) Parking() Parking {
	p := Parking{Wheels: v.Park(), Rule: limit.Bound{
		What: "parking force of an axle over its rating", Source: "49 CFR 571.121 S5.6.1", Known: limit.Seen, Low: limit.ParkingPerAxle, High: math.Inf(1),
	}}
	p.Force = Total(p.Wheels)
	vehicle := v.Circuit.Vehicle
	p.ByAxle = true
	for i, a := range vehicle.Axles {
		force, springs := 0.0, false
		for _, e := range p.Wheels {
			if e.Wheel.Axle == i {
				force += e.WheelForce
				springs = springs || e.Wheel.springs
			}
		}
		if !springs {
			p.ByAxle = p.ByAxle && a.Role == "steered"
			continue
		}
		x := AxlePark{a.Name, force, force / (a.RatingOrLoad() * Gravity)}
		p.Axles = append(p.Axles, x)
		p.ByAxle = p.ByAxle && p.Rule.Meets(x.Share)
	}
	p.ByAxle = p.ByAxle && len(p.Axles) > 0
	if weight := vehicle.Mass.SI * Gravity; weight > 0 {
		p.Gross = p.Force / weight
		p.ByMass = v.tows() && len(vehicle.Axles) > 2 && p.Gross >= limit.ParkingPerGross
		p.Grade = GradeHeld(p.Gross)
		p.OnHill = p.Grade >= limit.ParkingGrade
		p.Europe = p.Grade >= limit.ParkingGradeEurope
	}
	return p
}

// GradeHeld is the slope, rise over run, that a force holds a vehicle on: force over weight is the sine of its angle. It is Inf
// where the force could lift it.
func GradeHeld(forceOverWeight float64) float64 {
	if forceOverWeight >= 1 {
		return math.Inf(1)
	}
	return forceOverWeight / math.Sqrt(1-forceOverWeight*forceOverWeight)
}

// tows tells whether this is one vehicle with a pedal that a trailer can be coupled to.
func (v *Vehicle) tows() bool {
	return v.Circuit.Class == "truck" && v.Pedal() && slices.ContainsFunc(v.Circuit.Components, func(c *circuit.Component) bool {
		return c.Kind != nil && slices.ContainsFunc(c.Kind.Passages, func(p circuit.PassageSpec) bool { return p.Coupling })
	})
}
