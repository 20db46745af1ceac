package effort

import (
	"fmt"
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// A Vehicle is the wheels of one vehicle in file order, with its faults.
type Vehicle struct {
	Circuit *circuit.Circuit
	Network *airflow.Network
	Faults  []airflow.Fault
	Wheels  []*Wheel
}

// New makes the wheels of a network. A chamber is known by its area, its full stroke and its rod; slack adjuster and brake are
// what its rod leads to.
func New(n *airflow.Network, faults []airflow.Fault) (*Vehicle, error) {
	c := n.Circuit()
	v := &Vehicle{Circuit: c, Network: n, Faults: faults}
	r, err := n.Start(faults, airflow.Scatter{})
	if err != nil {
		return nil, err
	}
	for _, comp := range c.Components {
		if has(comp, "area", "full_stroke", "contact_at") {
			w := wheelOf(c, comp)
			v.Wheels = append(v.Wheels, w)
			if err := w.sample(r); err != nil {
				return nil, err
			}
		}
	}
	for _, f := range faults {
		mode, err := airflow.ModeOf(c, f)
		if err != nil {
			return nil, err
		}
		if math.IsNaN(f.Severity) {
			f.Severity = mode.Severity.Typical
		}
		v.wear(f)
	}
	if v.shared() && v.Pedal() {
		return v, v.deliver()
	}
	return v, nil
}

// Of makes the wheels of a circuit with faults as they are written: "rear_left_slack/not adjusting=20 mm".
func Of(c *circuit.Circuit, faults ...string) (*Vehicle, error) {
	n, err := airflow.Compile(c)
	if err != nil {
		return nil, err
	}
	list := make([]airflow.Fault, len(faults))
	for i, text := range faults {
		if list[i], err = airflow.ParseFault(c, text); err != nil {
			return nil, err
		}
	}
	return New(n, list)
}

func has(c *circuit.Component, params ...string) bool {
	if c == nil || c.Kind == nil {
		return false
	}
	for _, p := range params {
		if _, ok := c.Kind.Param(p); !ok {
			return false
		}
	}
	return true
}

// across is what is fastened to a port, nil for nothing.
func across(c *circuit.Circuit, id, port string) *circuit.Component {
	ref := circuit.PortRef{Component: id, Port: port}
	l := c.LineAt(ref)
	if l == nil {
		return nil
	}
	return c.Component(l.Other(ref).Component)
}

func wheelOf(c *circuit.Circuit, chamber *circuit.Component) *Wheel {
	w := &Wheel{Chamber: chamber, Axle: -1, Area: chamber.Value("area"), Full: chamber.Value("full_stroke"), Passes: 1, contact: chamber.Value("contact_at")}
	w.TyreRadius = c.Vehicle.TyreRadius.SI
	if has(chamber, "spring_force", "lifts_at", "held_off_at", "spring_area") {
		w.springs = true
		w.springForce, w.springArea = chamber.Value("spring_force"), chamber.Value("spring_area")
		w.springFalls = 1 - chamber.Value("lifts_at")/chamber.Value("held_off_at")
	}
	if slack := across(c, chamber.ID, "rod"); has(slack, "arm", "square_at") {
		w.Slack, w.Arm, w.SquareAt = slack, slack.Value("arm"), slack.Value("square_at")
	}
	if w.Slack == nil {
		return w
	}
	if b := across(c, w.Slack.ID, "cam"); has(b, "cam_radius", "drum_radius", "friction", "efficiency", "drum_mass", "cooling") {
		w.Brake = b
		w.CamRadius, w.DrumRadius, w.Friction, w.Efficiency = b.Value("cam_radius"), b.Value("drum_radius"), b.Value("friction"), b.Value("efficiency")
		w.Thermal = Thermal{DrumMass: b.Value("drum_mass"), Cooling: b.Value("cooling"), FadeFrom: b.Value("fade_from"), Fade: b.Value("fade")}
		w.Lining = b.Value("lining")
		for i, a := range c.Vehicle.Axles {
			switch b.ID {
			case a.Left:
				w.Axle, w.Side = i, Left
			case a.Right:
				w.Axle, w.Side = i, Right
			}
		}
	}
	return w
}

// At reads every wheel off a run of the vehicle's network.
func (v *Vehicle) At(r *airflow.Run) []Effort {
	out := make([]Effort, len(v.Wheels))
	for i, w := range v.Wheels {
		service := r.Pressure(w.Chamber.ID+".service") - circuit.AtmospherePressure
		holdOff := math.NaN()
		if w.springs {
			holdOff = r.Pressure(w.Chamber.ID+".spring") - circuit.AtmospherePressure
		}
		out[i] = w.Work(service, holdOff, r.Stroke(w.Chamber.ID), 0)
	}
	return out
}

// Apply asks every wheel for a service pressure above the atmosphere, springs held off. A wheel behind a limiting or ratio valve
// gets what that lets through.
func (v *Vehicle) Apply(service float64) []Effort {
	out := make([]Effort, len(v.Wheels))
	for i, w := range v.Wheels {
		out[i] = w.With(w.Gets(service), HeldOff, 0)
	}
	return out
}

// Park gives every wheel no air at all: the springs alone.
func (v *Vehicle) Park() []Effort {
	out := make([]Effort, len(v.Wheels))
	for i, w := range v.Wheels {
		out[i] = w.With(0, 0, 0)
	}
	return out
}

// WheelAt finds the wheel of a chamber, slack adjuster or brake.
func (v *Vehicle) WheelAt(id string) (*Wheel, error) {
	for _, w := range v.Wheels {
		if w.Chamber.ID == id || w.Slack != nil && w.Slack.ID == id || w.Brake != nil && w.Brake.ID == id {
			return w, nil
		}
	}
	return nil, fmt.Errorf("no wheel has a part %q", id)
}

// Total of the forces at all tyres, N.
func Total(efforts []Effort) float64 {
	sum := 0.0
	for _, e := range efforts {
		sum += e.WheelForce
	}
	return sum
}
