package airflow

import (
	"fmt"

	"airpath/circuit"
)

// A Law is what one kind of component (or one type of line) adds to the network, and what its faults do there.
type Law struct {
	Build func(b *Builder)
	Modes []Mode
}

// A Mode is one way in which a part can fail.
type Mode struct {
	Name     string // trade words, unique in the kind: "inlet seat leaking"; a fault is written "component/mode=severity"
	Severity Severity
	Apply    func(e *Edit, severity float64)
	Where    func(c *circuit.Circuit, target string) bool // which parts of the kind can fail so; nil for all
	Ice      bool                                         // it is water that has frozen, so that it takes frost
}

// Severity says what the number of a fault means, and how large it is in mild, typical and severe cases (SI).
type Severity struct {
	Means                 string
	Dimension             circuit.Dimension
	Mild, Typical, Severe float64
}

// Modes lists the fault modes of a kind of component, in the order of its law; nil for a kind without a law.
func Modes(kind string) []Mode { return laws[kind].Modes }

// LineModes lists the fault modes of a type of line.
func LineModes(t circuit.LineType) []Mode { return lineLaws[t].Modes }

// An Opening says how far a passage is open, as a share of its conductance:
//
//	v = clamp(Base + Σ Gain·x, 0, 1);  opening = v²·(3 − 2v)
//
// The smooth step has no slope at either end, which spares the solver most of its rejected steps.
type Opening struct {
	Base  float64
	Terms []Term
}

// Open is always open.
var Open = Opening{Base: 1}

// Shut is never open, until a fault opens it.
var Shut = Opening{}

// A Term is one influence on an opening: exactly one of Room (absolute Pa), Control and Latch (0 or 1) is named. Names are
// the component's own; a control may also be one of the vehicle's: [Engine], [Key].
type Term struct {
	Room, Control, Latch string
	Gain                 float64
}

// The vehicle's own controls, beside those of its components.
const (
	Engine = "engine" // rev/s of the engine, 0 when off
	Key    = "key"    // 0 off, 1 on: lamps and buzzer have current
)

// A Piston is a wall that moves with the pressure. V(p) is piecewise linear between the points and constant outside them;
// it is added to the room's fixed volume.
type Piston struct {
	Gauge  []float64 // Pa above the atmosphere, rising
	Volume []float64 // m³, not falling
	Area   float64   // m², of the wall that moves
}

// A Rod is a push-rod's stroke by the gauge pressure of a room: piecewise linear, constant outside the points.
type Rod struct {
	Gauge  []float64 // Pa above the atmosphere, rising
	Stroke []float64 // m
}

// Curve makes a Rod of its points.
func Curve(gauge, stroke []float64) Rod { return Rod{gauge, stroke} }

func (r Rod) at(gauge float64) float64 {
	return (Piston{Gauge: r.Gauge, Volume: r.Stroke}).volume(gauge)
}

func (p Piston) check() error {
	if len(p.Gauge) != len(p.Volume) || len(p.Gauge) < 2 {
		return fmt.Errorf("a piston needs two or more points, each a pressure and a volume; it has %d and %d", len(p.Gauge), len(p.Volume))
	}
	for i := range p.Gauge {
		if p.Volume[i] < 0 || p.Gauge[i] <= -circuit.AtmospherePressure {
			return fmt.Errorf("piston point %d: %g Pa, %g m³ is below nothing", i, p.Gauge[i], p.Volume[i])
		}
		if i > 0 && (p.Gauge[i] <= p.Gauge[i-1] || p.Volume[i] < p.Volume[i-1]) {
			return fmt.Errorf("piston point %d must lie at a higher pressure and at no smaller volume than the point before it", i)
		}
	}
	return nil
}

// volume at a gauge pressure.
func (p Piston) volume(gauge float64) float64 {
	n := len(p.Gauge)
	if n == 0 {
		return 0
	}
	if gauge <= p.Gauge[0] {
		return p.Volume[0]
	}
	for i := 1; i < n; i++ {
		if gauge < p.Gauge[i] {
			return p.Volume[i-1] + (p.Volume[i]-p.Volume[i-1])*(gauge-p.Gauge[i-1])/(p.Gauge[i]-p.Gauge[i-1])
		}
	}
	return p.Volume[n-1]
}

func (p Piston) clone() Piston {
	return Piston{Gauge: append([]float64(nil), p.Gauge...), Volume: append([]float64(nil), p.Volume...), Area: p.Area}
}

// A Pump is a positive-displacement compressor:
//
//	mass flow = ρ(inlet)·Displacement·speed·Efficiency·(1 + c − c·(p2/p1)^¾) · loaded,  c = Clearance
//
// never below zero. The exponent is that of a polytropic index of 4/3.
type Pump struct {
	Displacement float64 // m³ per turn of the pump
	Clearance    float64 // clearance volume over swept volume
	Efficiency   float64 // volumetric, without clearance loss
	Ratio        float64 // turns of the pump per turn of what drives it
	Speed        string  // control in rev/s; "" means Engine
	Loaded       Opening // share of the time or of the valves that it pumps with
}
