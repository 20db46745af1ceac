package procedure

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/limit"
)

// wheeling are the tests at the wheels: rods, slack adjusters, drums, springs.
func wheeling(v *vehicle) []*Procedure {
	if !v.brakes() || v.at.released == nil || len(v.chambers()) == 0 {
		return nil
	}
	return []*Procedure{v.pushRodStroke(), v.slackTravel(), v.wheelForce(), v.drumTemperature(), v.holdOffPressure()}
}

// fullyApplied presses the pedal from 100 psi and waits until the rods stand.
func (v *vehicle) fullyApplied() []Step {
	return []Step{
		{v.pedal(true), "Use a pedal prop. The reservoirs come down to about 90 psi: where the 80 to 90 psi of 49 CFR 396 App. A and the 90 to 100 psi of the North American inspection meet."},
		{wait{5, ""}, ""},
	}
}

func (v *vehicle) pushRodStroke() *Procedure {
	if v.at.hundred == nil {
		return nil
	}
	all := v.chambers()
	p := Procedure{
		ID: "push-rod-stroke", Title: "Push-rod stroke",
		About:   "How far each push-rod comes out at a full application, against the limit of its chamber, and left against right.",
		Minutes: 3 + 1.5*float64(len(all)), Start: v.at.hundred,
		Tools: []string{"rule and chalk", "chocks", "pedal prop"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "down"},
		Steps: append([]Step{{lookOver{"Mark each push-rod with chalk where it leaves its chamber.", []danger{nearWheel, airWorked}}, ""}}, v.fullyApplied()...),
	}
	p.Steps = append(p.Steps, Step{readStrokes{"stroke", "left-right", all, sides(all, idOf)}, ""}, Step{v.pedal(false), ""})
	for _, c := range all {
		r := v.measured("stroke", "stroke of the push-rod of the "+c.Name, c.ID, circuit.Length, "rule", ruleError)
		r.Limits = []limit.Limit{limit.StrokeLimit(c.Value("area"), c.Value("full_stroke"))}
		p.Readings = append(p.Readings, r)
	}
	for _, s := range sides(all, idOf) {
		p.Readings = append(p.Readings, v.measured("left-right", "stroke of the "+s[0].Name+" over that of the "+s[1].Name, s[0].ID, circuit.LengthSpan, "rule", math.Sqrt2*ruleError))
	}
	return v.procedure(p)
}

func idOf(c *circuit.Component) string { return c.ID }

// ruleError is that of a stroke measured between chalk mark and housing, m: 1 σ. Engineering judgement.
const ruleError = 1.5e-3

// measured is a reading that is taken by hand and eye with an instrument.
func (v *vehicle) measured(id, title, place string, d circuit.Dimension, instrument string, sigma float64) Reading {
	return Reading{ID: id, Title: title, Place: place, Dimension: d, Form: Measured, Sense: Eye, Instrument: instrument, Sigma: sigma, Access: v.access(place)}
}

// readStrokes: how far rods are out, in figures, and left over right.
type readStrokes struct {
	id, apart string
	chambers  []*circuit.Component
	pairs     [][2]*circuit.Component
}

func (a readStrokes) words(phrase) string {
	return "Measure on each push-rod how far it has come out, and write it down, left over right as well: " + list(namesOf(a.chambers), "and") + "."
}

func (a readStrokes) run(x *execution) error {
	for _, c := range a.chambers {
		x.put(a.id, c.ID, x.run.Stroke(c.ID))
	}
	for _, p := range a.pairs {
		x.put(a.apart, p[0].ID, x.run.Stroke(p[0].ID)-x.run.Stroke(p[1].ID))
	}
	return nil
}

func (readStrokes) dangers() []danger { return []danger{nearWheel, airWorked} }
func (readStrokes) looksAt() sight    { return sight{rods: true} }
func (readStrokes) still()            {}

func namesOf(parts []*circuit.Component) []string {
	out := make([]string, len(parts))
	for i, c := range parts {
		out[i] = "the " + c.Name
	}
	return out
}

func (v *vehicle) slackTravel() *Procedure {
	all := v.chambers()
	p := Procedure{
		ID: "slack-travel", Title: "Slack adjuster travel",
		About:   "How far each slack adjuster can be pulled by hand before the shoes touch: about an inch (common practice). More is out of adjustment, less drags, none is seized.",
		Minutes: 1 + 1*float64(len(all)), Start: v.at.released,
		Tools: []string{"lever", "rule", "chocks"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "up"},
		Steps: []Step{{readTravel{"travel", all}, "The springs are held off."}},
	}
	for _, c := range all {
		p.Readings = append(p.Readings, v.measured("travel", "travel by hand at the push-rod of the "+c.Name, c.ID, circuit.Length, "rule", 2*ruleError).within(v, limit.SlackTravel))
	}
	return v.procedure(p)
}

// readTravel: how far rods can be pulled out by hand.
type readTravel struct {
	id       string
	chambers []*circuit.Component
}

func (a readTravel) words(phrase) string {
	return "Pull each push-rod out at its clevis with a lever until the shoes touch, and write down how far it goes: " + list(namesOf(a.chambers), "and") + "."
}

// A rod that air or spring already pushes goes as much less far.
func (a readTravel) run(x *execution) error {
	for _, c := range a.chambers {
		x.put(a.id, c.ID, math.Max(0, x.run.FreeTravel(c.ID)-x.run.Stroke(c.ID)))
	}
	return nil
}

func (readTravel) dangers() []danger { return []danger{nearWheel, airWorked} }
func (readTravel) looksAt() sight    { return sight{rods: true} }
func (readTravel) still()            {}

// Hold-off: the pressure that keeps the springs off, the time in which it leaves, and what stays.
func (v *vehicle) holdOffPressure() *Procedure {
	if len(v.springs) == 0 {
		return nil
	}
	var taps []tap
	var levels []float64
	for _, c := range v.springs {
		taps = append(taps, v.springTap(c))
		levels = append(levels, circuit.AtmospherePressure+c.Value("lifts_at"))
	}
	knobs := []Action{v.knob(false)}
	if v.first("coupling") != nil { // the trailer's springs hang on its own knob
		if t, ok := v.trailerKnob(false); ok {
			knobs = append(knobs, t)
		}
	}
	p := Procedure{
		ID: "hold-off-pressure", Title: "Hold-off pressure",
		About:   "What holds the springs off, how fast it leaves when the park is set, and what stays. Springs that are held by too little air drag; air that leaves slowly sets the brake late.",
		Minutes: 6 + 3*float64(len(taps)), Start: v.at.released, every: 0.5,
		Tools: []string{recorder + " with a sensor for each spring side", "tees", "spanners", "chocks"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "up"},
		Steps: []Step{
			{fitRecorder{"at the hold-off port of each spring brake chamber"}, "At the port, never at the spring housing."},
			{readRooms{"hold-off", taps}, ""},
			{recordPedal{together(knobs), taps, false, 6, []timing{{id: "sets", level: levels}}}, "By then the spring pushes with all its force."},
			{readRooms{"left", taps}, ""},
		},
	}
	for _, t := range taps {
		p.Readings = append(p.Readings,
			v.level("hold-off", "pressure on the "+t.name+", park released", t),
			v.recorded("sets", "time until the spring pushes with all its force, on the "+t.name, t).within(v, limit.ParkTime),
			v.level("left", "pressure left on the "+t.name+", park set for six seconds", t),
		)
	}
	return v.procedure(p)
}

// together does several things at once.
type together []Action

func (a together) words(f phrase) string {
	text := ""
	for i, do := range a {
		if i > 0 {
			text += " "
		}
		text += do.words(f)
	}
	return text
}

func (a together) run(x *execution) error {
	for _, do := range a {
		if err := do.run(x); err != nil {
			return err
		}
	}
	return nil
}

func (a together) dangers() []danger {
	var out []danger
	for _, do := range a {
		out = append(out, do.dangers()...)
	}
	return out
}

func (together) looksAt() sight { return sight{} }
