package procedure

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/limit"
)

// balancing are the tests of what arrives at the brakes, and when: with gauges and a recorder at valves and chambers.
func balancing(v *vehicle) []*Procedure {
	if !v.brakes() || v.at.released == nil || len(v.chambers()) == 0 {
		return nil
	}
	return []*Procedure{v.applicationTime(), v.applicationBalance(), v.signalPressure()}
}

// reaching is how long an application and its release are given to come to rest, s: as long as the recorder of the times runs, so that
// what is the same is carried out once.
const reaching = 5

func (v *vehicle) applicationBalance() *Procedure {
	if v.at.hundred == nil {
		return nil
	}
	taps := v.serviceTaps()
	pairs := sides(taps, func(t tap) string { return t.place })
	p := Procedure{
		ID: "application-balance", Title: "Application and release balance",
		About:   "Gauges at all chambers: do left and right get the same, and does all of it leave again?",
		Minutes: 6 + 3*float64(len(taps)), Start: v.at.hundred,
		Tools: []string{serviceGauge + "s, one for each chamber, with tees", "spanners", "chocks", "pedal prop"},
		State: circuit.State{Engine: "off", Park: "released"},
		Steps: []Step{
			{fitGauge{"at the service port of each chamber"}, ""},
			{v.pedal(true), ""},
			{wait{reaching, "for the gauges to come to rest"}, ""},
			{readRooms{"applied", taps}, ""},
		},
	}
	for _, t := range taps {
		p.Readings = append(p.Readings, v.level("applied", "pressure on the "+t.name+", pedal down", t))
	}
	if len(pairs) > 0 {
		p.Steps = append(p.Steps, Step{readApart{"left-right", pairs}, "Left over right, axle by axle."})
		for _, t := range pairs {
			p.Readings = append(p.Readings, v.change("left-right", "pressure on the "+t[0].name+" over that on the "+t[1].name, t[0]))
		}
	}
	p.Steps = append(p.Steps,
		Step{v.pedal(false), ""},
		Step{wait{reaching, "for the air to leave"}, ""},
		Step{readRooms{"released", taps}, ""},
	)
	for _, t := range taps {
		p.Readings = append(p.Readings, v.level("released", "pressure left on the "+t.name+", pedal up again", t))
	}
	return v.procedure(p)
}

// A signal is a valve that another pressure works, and what it makes of it.
type signal struct {
	part              *circuit.Component
	control, delivery tap
}

// signals of a vehicle: parts with an air port for control and rooms that they deliver from.
func (v *vehicle) signals() []signal {
	var out []signal
	for _, c := range v.circuit.Components {
		if c.Kind.Name != "relay-valve" && c.Kind.Name != "relay-emergency-valve" {
			continue
		}
		out = append(out, signal{
			c, tap{place: c.ID, name: "service gauge at the control port of the " + c.Name, room: c.Room("4")},
			tap{place: c.ID, name: "service gauge at the delivery of the " + c.Name, room: c.Room("2")},
		})
	}
	return out
}

func (v *vehicle) signalPressure() *Procedure {
	if v.at.hundred == nil {
		return nil
	}
	foot := []tap{
		{place: v.foot.ID + ".21", name: "service gauge at the primary delivery of the " + v.foot.Name, room: v.foot.Room("21")},
		{place: v.foot.ID + ".22", name: "service gauge at the secondary delivery of the " + v.foot.Name, room: v.foot.Room("22")},
	}
	p := Procedure{
		ID: "signal-pressure", Title: "Signal line pressure",
		About:   "What the foot valve sends, what of it arrives at the relays, and what they make of it.",
		Minutes: 10, Start: v.at.hundred,
		Tools: []string{serviceGauge + "s with tees", "spanners", "chocks", "pedal prop"},
		State: circuit.State{Engine: "off", Park: "released"},
		Steps: []Step{
			{fitGauge{"at both deliveries of the foot valve and at control and delivery of each relay"}, ""},
			{v.pedal(true), ""},
			{wait{reaching, "for the gauges to come to rest"}, ""},
			{readRooms{"sent", foot}, ""},
		},
	}
	for _, t := range foot {
		p.Readings = append(p.Readings, v.level("sent", "pressure on the "+t.name+", pedal down", t))
	}
	var arrives, delivers []tap
	var pairs [][2]tap
	for _, s := range v.signals() {
		p.Minutes += 4
		arrives, delivers = append(arrives, s.control), append(delivers, s.delivery)
		pairs = append(pairs, [2]tap{s.control, s.delivery})
	}
	if len(arrives) > 0 {
		p.Steps = append(p.Steps, Step{readRooms{"arrives", arrives}, ""}, Step{readRooms{"delivers", delivers}, ""}, Step{readApart{"behind", pairs}, "A relay keeps its crack pressure back, no more."})
		for i, t := range arrives {
			p.Readings = append(p.Readings,
				v.level("arrives", "pressure on the "+t.name+", pedal down", t),
				v.level("delivers", "pressure on the "+delivers[i].name+", pedal down", delivers[i]),
				v.change("behind", "pressure on the "+t.name+" over that at its delivery", t),
			)
		}
	}
	p.Steps = append(p.Steps, Step{v.pedal(false), ""})
	return v.procedure(p)
}

// Marks of 49 CFR 571.121 S5.3.3, S5.3.4.
var (
	appliedAt  = gauge(60)
	releasedAt = gauge(5)
)

func (v *vehicle) applicationTime() *Procedure {
	if v.at.hundred == nil {
		return nil
	}
	taps := v.serviceTaps()
	// Behind a valve that keeps the pressure down it is 70 % of what the chamber comes to, where that is less than 60 psi
	// (interpretation nht76-4.14 of 23 Jul 1976).
	applied, released := make([]float64, len(taps)), make([]float64, len(taps))
	for i, c := range v.chambers() {
		applied[i], released[i] = appliedAt, releasedAt
		if v.keptDown(c) {
			applied[i] = math.Inf(1)
		}
	}
	p := Procedure{
		ID: "application-time", Title: "Application and release time",
		About: "A recorder at each chamber, 100 psi in the reservoirs, the pedal down at once and up at once: how fast each brake comes on and goes off. " +
			"The release begins from what the chambers have come to: 95 psi, or as much as there is (49 CFR 571.121 S5.3.4, interpretation of 23 Jul 1976).",
		Minutes: 6 + 3*float64(len(taps)), Start: v.at.hundred,
		Tools: []string{recorder + " with a sensor for each chamber", "tees", "spanners", "chocks"},
		State: circuit.State{Engine: "off", Park: "released"},
		Steps: []Step{
			{fitRecorder{"at the service port of each chamber"}, ""},
			{recordPedal{v.pedal(true), taps, true, 5, []timing{{id: "apply", share: 0.7, level: applied}, {id: "response", share: 0.75}}}, ""},
			{readRooms{"reached", taps}, ""},
			{recordPedal{v.pedal(false), taps, false, 5, []timing{{id: "release", level: released}}}, ""},
		},
	}
	for i, t := range taps {
		towed, title := v.towed(t.place), "time to 60 psi"
		if math.IsInf(applied[i], 1) {
			title = "time to 70 % of what it comes to"
		}
		p.Readings = append(p.Readings, v.recorded("apply", title+" on the "+t.name, t).withinAs(v, limit.ApplyTime, towed))
	}
	for _, t := range taps {
		p.Readings = append(p.Readings, v.recorded("response", "time to three quarters of the final pressure on the "+t.name, t).withinAs(v, limit.ResponseTime, v.towed(t.place)))
	}
	for _, t := range taps {
		p.Readings = append(p.Readings, v.level("reached", "pressure on the "+t.name+" five seconds after", t))
	}
	for _, t := range taps {
		p.Readings = append(p.Readings, v.recorded("release", "time from a full application to 5 psi on the "+t.name, t).withinAs(v, limit.ReleaseTime, v.towed(t.place)))
	}
	return v.procedure(p)
}

// fitRecorder is fitGauge for the sensors of a recorder.
type fitRecorder struct{ where string }

func (a fitRecorder) words(phrase) string {
	return "Bleed the system down, fit a sensor of the recorder " + a.where + ", and bring the vehicle back into the starting state."
}

func (fitRecorder) run(x *execution) error { return x.again() }

func (fitRecorder) dangers() []danger { return []danger{lineOpen, blast} }
func (fitRecorder) looksAt() sight    { return sight{} }
