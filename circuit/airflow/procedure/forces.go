package procedure

import (
	"fmt"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
	"airpath/circuit/airflow/heat"
)

// What a brake tester's rollers and a thermometer at the drums tell. Both follow from the air in the chambers by package effort, which
// knows what linings, drums and levers make of it: no air moves for them.

// braked lists the brakes whose force at the tyre can be told: with a drum, on wheels of a known size.
func (v *vehicle) braked() []*circuit.Component {
	if !(v.circuit.Vehicle.TyreRadius.SI > 0) {
		return nil
	}
	var out []*circuit.Component
	for _, c := range v.circuit.Components {
		if _, ok := c.Kind.Param("drum_radius"); ok && v.worked(c) {
			out = append(out, c)
		}
	}
	return out
}

// worked says whether a chamber works a brake, by way of a slack adjuster.
func (v *vehicle) worked(brake *circuit.Component) bool {
	slack := v.across(brake.ID, "cam")
	if slack == nil {
		return false
	}
	chamber := v.across(slack.ID, "rod")
	return chamber != nil && slices.Contains(v.chambers(), chamber)
}

// across is the part at the other end of the line on a port, nil for none.
func (v *vehicle) across(id, port string) *circuit.Component {
	ref := circuit.PortRef{Component: id, Port: port}
	if l := v.circuit.LineAt(ref); l != nil {
		return v.circuit.Component(l.Other(ref).Component)
	}
	return nil
}

// efforts of the vehicle's wheels at this moment, by brake.
func (x *execution) efforts() (map[string]effort.Effort, error) {
	if x.bench.wheels == nil {
		var err error
		if slices.ContainsFunc(x.bench.faults, x.v.atWheel) {
			x.bench.wheels, err = effort.New(x.bench.network, x.bench.faults)
		} else {
			x.bench.wheels, err = x.v.wheels()
		}
		if err != nil {
			return nil, fmt.Errorf("what the wheels do: %w", err)
		}
	}
	out := map[string]effort.Effort{}
	for _, e := range x.bench.wheels.At(x.run) {
		if e.Wheel.Brake != nil {
			out[e.Wheel.Brake.ID] = e
		}
	}
	return out, nil
}

// atWheel says whether a fault is one of what moves at the wheels.
func (v *vehicle) atWheel(f airflow.Fault) bool {
	c := v.circuit.Component(f.Target)
	return c != nil && slices.ContainsFunc(c.Kind.Ports, func(p circuit.PortSpec) bool { return p.Medium == circuit.Motion })
}

// forceError is that of a brake tester, N: 1 σ of one reading. Engineering judgement.
const forceError = 600.0

func (v *vehicle) wheelForce() *Procedure {
	all := v.braked()
	if len(all) == 0 || v.at.hundred == nil {
		return nil
	}
	pairs := sides(all, idOf)
	p := Procedure{
		ID: "wheel-force", Title: "Wheel force comparison",
		About: "On a brake tester, fully applied from 100 psi: what each wheel gives, and left against right. From a quarter of difference on a vehicle is felt to pull (common practice). " +
			"A brake that gives less than its opposite with the same stroke has lost friction; one that drags has not been let go.",
		Minutes: 6 + 3*float64(len(all)), Start: v.at.hundred,
		Tools: []string{"roller brake tester", "chocks for the other axle", "pedal prop"},
		State: circuit.State{Engine: "off", Park: "released"},
		Steps: append(v.fullyApplied(),
			Step{readForces{"force", "left-right", all, pairs}, ""},
			Step{v.pedal(false), ""},
			Step{wait{reaching, ""}, ""},
			Step{readForces{"drag", "", all, nil}, "The wheels should turn freely."},
		),
	}
	for _, c := range all {
		p.Readings = append(p.Readings, v.measured("force", "brake force of the "+c.Name, c.ID, circuit.Force, "brake tester", forceError))
	}
	for _, s := range pairs {
		p.Readings = append(p.Readings, v.measured("left-right", "brake force of the "+s[0].Name+" over that of the "+s[1].Name, s[0].ID, circuit.Force, "brake tester", 1.5*forceError))
	}
	for _, c := range all {
		p.Readings = append(p.Readings, v.measured("drag", "brake force of the "+c.Name+", pedal up again", c.ID, circuit.Force, "brake tester", forceError))
	}
	return v.procedure(p)
}

// readForces: what each wheel brakes with now, and left over right.
type readForces struct {
	id, apart string
	brakes    []*circuit.Component
	pairs     [][2]*circuit.Component
}

func (a readForces) words(phrase) string {
	text := "Run the rollers under each axle in turn and write down the force of " + list(namesOf(a.brakes), "and")
	if len(a.pairs) > 0 {
		text += ", left over right as well"
	}
	return text + "."
}

func (a readForces) run(x *execution) error {
	now, err := x.efforts()
	if err != nil {
		return err
	}
	for _, c := range a.brakes {
		x.put(a.id, c.ID, now[c.ID].WheelForce)
	}
	for _, p := range a.pairs {
		x.put(a.apart, p[0].ID, now[p[0].ID].WheelForce-now[p[1].ID].WheelForce)
	}
	return nil
}

func (readForces) dangers() []danger { return []danger{nearWheel, airWorked} }
func (readForces) looksAt() sight    { return sight{rods: true, faults: true} }
func (readForces) still()            {}

// How the drums are warmed: engineering judgement, a round in the yard and its surroundings.
const (
	roundSpeed   = 8.0 // m/s, the mean
	roundStops   = 10.0
	stopSeconds  = 2.0
	roundSeconds = 300.0
	outside      = 293.15 // K
	drumError    = 8.0    // K, of a thermometer without contact
)

func (v *vehicle) drumTemperature() *Procedure {
	all := v.braked()
	if len(all) == 0 || v.at.hundred == nil {
		return nil
	}
	pairs := sides(all, idOf)
	p := Procedure{
		ID: "drum-temperature", Title: "Drum temperature comparison",
		About:   "After a short drive with ten firm stops: a drum that is cooler than its opposite has not worked, a hotter one works for it or has not been let go.",
		Minutes: roundSeconds/60 + 6 + 0.5*float64(len(all)), Start: v.at.hundred,
		Tools: []string{"thermometer without contact"},
		State: circuit.State{Engine: "off", Park: "released"},
		Steps: []Step{
			// What a stop does to the drums is told by the air of one that is made standing: it is the same.
			{lookOver{fmt.Sprintf("Drive for %s with %.0f firm stops from walking speed, pedal to the floor for %s each, and leave the pedal alone between them. Bring the vehicle back into the starting state.",
				duration(roundSeconds), roundStops, duration(stopSeconds)), []danger{engineRuns}}, "Only where it may be driven and holds; else turn the wheels on the tester."},
			{v.pedal(true), "Once more, standing."},
			{wait{reaching, ""}, ""},
			{warmDrums{"stop"}, ""},
			{v.pedal(false), ""},
			{wait{reaching, ""}, ""},
			{readDrums{"temperature", "left-right", all, pairs}, ""},
		},
	}
	for _, c := range all {
		p.Readings = append(p.Readings, v.measured("temperature", "temperature of the drum of the "+c.Name, c.ID, circuit.Temperature, "thermometer", drumError))
	}
	for _, s := range pairs {
		r := v.measured("left-right", "temperature of the drum of the "+s[0].Name+" over that of the "+s[1].Name+", in kelvin", s[0].ID, circuit.Count, "thermometer", 1.5*drumError)
		p.Readings = append(p.Readings, r)
	}
	return v.procedure(p)
}

// warmDrums notes what a stop does to each drum.
type warmDrums struct{ mark string }

func (warmDrums) words(phrase) string {
	return "See that all rods are out: that is how they stood in each stop."
}

func (a warmDrums) run(x *execution) error {
	now, err := x.efforts()
	if err != nil {
		return err
	}
	m := moment{time: x.elapsed()}
	for _, c := range x.v.braked() {
		m.taps = append(m.taps, now[c.ID].WheelForce)
	}
	x.marks[a.mark] = m
	return nil
}

func (warmDrums) dangers() []danger { return []danger{airWorked} }
func (warmDrums) still()            {}
func (warmDrums) looksAt() sight    { return sight{rods: true, faults: true} }

// readDrums: how warm the drums are after the drive, by what they do with the pedal down and with the pedal up.
type readDrums struct {
	id, apart string
	brakes    []*circuit.Component
	pairs     [][2]*circuit.Component
}

func (a readDrums) words(phrase) string {
	return "Stop, set the park, chock the wheels, and write down the temperature of each drum, left over right as well: " + list(namesOf(a.brakes), "and") + "."
}

func (a readDrums) run(x *execution) error {
	now, err := x.efforts()
	if err != nil {
		return err
	}
	warm := map[string]float64{}
	for i, c := range a.brakes {
		e := now[c.ID]
		stopped := roundStops * stopSeconds / roundSeconds
		force := stopped*x.at("stop").taps[i] + (1-stopped)*e.WheelForce
		warm[c.ID] = heat.Warm(e.Wheel.Thermal, outside, force*roundSpeed, roundSpeed, outside, roundSeconds)
		x.put(a.id, c.ID, warm[c.ID])
	}
	for _, p := range a.pairs {
		x.put(a.apart, p[0].ID, warm[p[0].ID]-warm[p[1].ID])
	}
	return nil
}

func (readDrums) dangers() []danger { return []danger{nearWheel} }
func (readDrums) looksAt() sight    { return sight{rods: true, faults: true} }
