package procedure

import (
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// What hands do: each action moves one thing on the vehicle.

// runEngine at a speed; 0 stops it. The key goes on with it, and stays on when it stops.
type runEngine struct {
	speed string // "off", "idle", "rated"
	revs  float64
}

func (v *vehicle) engine(speed string) runEngine {
	revs := map[string]float64{"idle": v.circuit.Engine.Idle.SI, "rated": v.circuit.Engine.Rated.SI}
	return runEngine{speed, revs[speed]}
}

func (a runEngine) words(phrase) string {
	switch a.speed {
	case "off":
		return "Stop the engine; leave the key on."
	case "idle":
		return "Let the engine idle, " + rpm(a.revs) + "."
	}
	return "Run the engine at its rated speed, " + rpm(a.revs) + ", and hold it there."
}

func (a runEngine) run(x *execution) error {
	const takes = 2 // s to reach a speed
	if err := x.run.Set(airflow.Key, 1, 0); err != nil {
		return err
	}
	return x.run.Set(airflow.Engine, a.revs, takes)
}

func (a runEngine) dangers() []danger {
	if a.speed == "off" {
		return nil
	}
	return []danger{engineRuns}
}

// pedal down to the floor and held, or up.
type pedal struct {
	control string
	down    bool
}

func (v *vehicle) pedal(down bool) pedal { return pedal{v.foot.ID + ".pedal", down} }

func (a pedal) words(phrase) string {
	if a.down {
		return "Press the brake pedal to the floor, quickly, and hold it there."
	}
	return "Let the brake pedal up."
}

// A full application is one where the pedal is down within 0.2 s (49 CFR 571.121 S4).
func (a pedal) run(x *execution) error {
	to := 0.0
	if a.down {
		to = 1
	}
	return x.run.Set(a.control, to, 0.2)
}

func (pedal) dangers() []danger { return []danger{airWorked} }

// knob of the park control, pushed in to release or pulled out to set.
type knob struct {
	control, name string
	in            bool
}

func (v *vehicle) knob(in bool) knob { return knob{v.park.ID + ".knob", v.park.Name, in} }

func (a knob) words(phrase) string {
	if a.in {
		return fmt.Sprintf("Push the knob of the %s in: the spring brakes release.", a.name)
	}
	return fmt.Sprintf("Pull the knob of the %s out: the spring brakes set.", a.name)
}

func (a knob) run(x *execution) error {
	to := 0.0
	if a.in {
		to = 1
	}
	return x.run.Set(a.control, to, 0.1)
}

func (a knob) dangers() []danger {
	if a.in {
		return []danger{parkOff, airWorked}
	}
	return []danger{airWorked}
}

// knobHeld pushes a knob in again each time that it pops out, until it stays: with little air behind it, filling the spring chambers can
// take its supply below the pressure at which it pops.
type knobHeld struct{ control, name string }

const (
	knobTries  = 12  // after which it is left out
	knobStays  = 2.0 // s in which it would have popped
	knobPauses = 3.0 // s for the air behind it to come back
)

func (a knobHeld) words(phrase) string {
	return fmt.Sprintf("Should the knob of the %s pop out again, push it in once more until it stays.", a.name)
}

func (a knobHeld) run(x *execution) error {
	for range knobTries {
		popped, err := x.run.Until(knobStays, airflow.Event{Trip: a.control})
		if err != nil || !popped {
			return err
		}
		if err := x.run.Advance(knobPauses); err != nil {
			return err
		}
		if err := x.run.Set(a.control, 1, 0.1); err != nil {
			return err
		}
	}
	return nil
}

func (knobHeld) dangers() []danger { return []danger{parkOff, airWorked} }

// trailerKnob is the knob that charges a trailer.
type trailerKnob struct{ knob }

func (a trailerKnob) words(phrase) string {
	if a.in {
		return fmt.Sprintf("Push the knob of the %s in: the trailer charges and its brakes release.", a.name)
	}
	return fmt.Sprintf("Pull the knob of the %s out: the trailer's brakes set.", a.name)
}

// trailerKnob of a vehicle; ok is false where it has none.
func (v *vehicle) trailerKnob(in bool) (trailerKnob, bool) {
	c := v.first("trailer-supply-control")
	if c == nil {
		return trailerKnob{}, false
	}
	return trailerKnob{knob{c.ID + ".knob", c.Name, in}}, true
}

// release lets the brakes of the whole vehicle go, and waits until it is full: the park control, and with a trailer on, its
// supply, once there is air enough that the knob does not pop out again.
func (v *vehicle) release() []Step {
	full := Step{await{until: []condition{unloads{v}}, within: longestBuild, rising: true, mark: "unloaded"}, ""}
	in := v.knob(true)
	steps := []Step{{in, ""}, {knobHeld{in.control, in.name}, ""}, full}
	if trailer, ok := v.trailerKnob(true); ok && v.first("coupling") != nil {
		steps = append(steps, Step{trailer, ""}, Step{wait{60, "for the trailer to charge"}, ""}, full)
	}
	return steps
}

// cock of a drain, opened by a share of its turn or shut.
type cock struct {
	control, name string
	share         float64
}

func (r reservoir) cock(share float64) cock {
	return cock{r.drain.ID + ".cock", r.drain.Name, share}
}

func (a cock) words(phrase) string {
	switch {
	case a.share == 0:
		return "Shut the " + a.name + "."
	case a.share == 1:
		return "Open the " + a.name + " fully."
	case a.share < 0.2:
		return "Crack the " + a.name + " open, so that the needle sinks slowly."
	}
	return "Open the " + a.name + " about a quarter, so that the needle can be followed."
}

func (a cock) run(x *execution) error { return x.run.Set(a.control, a.share, 1) }

func (a cock) dangers() []danger {
	if a.share == 0 {
		return nil
	}
	return []danger{blast}
}

// lineOff takes a line off, or fastens it again.
type lineOff struct {
	line, name string
	at         string // which end is undone
	off        bool
}

func (a lineOff) words(phrase) string {
	if a.off {
		return fmt.Sprintf("Undo the %s at the %s and lead it clear.", a.name, a.at)
	}
	return fmt.Sprintf("Fasten the %s at the %s again.", a.name, a.at)
}

func (a lineOff) run(x *execution) error { return x.run.LineOff(a.line, a.off) }

func (a lineOff) dangers() []danger { return []danger{lineOpen, discharge} }

// fitGauge where there is no test connection: the system is bled for it and brought back to the starting state.
type fitGauge struct{ where string }

func (a fitGauge) words(phrase) string {
	return fmt.Sprintf("Bleed the system down, fit a service gauge %s, and bring the vehicle back into the starting state.", a.where)
}

func (a fitGauge) run(x *execution) error { return x.again() }

func (a fitGauge) dangers() []danger { return []danger{lineOpen, blast} }

// screwOn a gauge where that can be done under pressure; it changes nothing.
type screwOn struct{ gauge string }

func (a screwOn) words(phrase) string { return "Have a " + a.gauge + "." }

func (screwOn) run(*execution) error { return nil }

func (screwOn) dangers() []danger { return nil }

// drained: no reservoir holds more than a level. The simulated vehicle comes without air, so that there is nothing to do to
// it; one that did hold more would not be in the state that the steps after this one count on.
type drained struct {
	v     *vehicle
	level float64
}

func (a drained) words(f phrase) string {
	if a.level <= circuit.AtmospherePressure {
		return "Open all drains until no more air comes, and shut them again."
	}
	return "If there is more in it, drain the reservoirs until every needle is below " + f.pressure(a.level) + "."
}

func (a drained) run(x *execution) error {
	for _, r := range a.v.reservoirs {
		if p := x.run.Pressure(r.room); p > a.level+circuit.PSI {
			return fmt.Errorf("the %s holds %.1f psi", r.name, (p-circuit.AtmospherePressure)/circuit.PSI)
		}
	}
	return nil
}

func (drained) dangers() []danger { return []danger{blast} }

// startWatch marks a moment to count from.
type startWatch struct{ mark string }

func (startWatch) words(phrase) string { return "Start the stopwatch." }

func (a startWatch) run(x *execution) error { x.marks[a.mark] = x.moment(); return nil }

func (startWatch) dangers() []danger { return nil }

// lookOver is work that moves no air: looking, feeling, soaping.
type lookOver struct {
	what string
	near []danger
}

func (a lookOver) words(phrase) string { return a.what }

func (lookOver) run(*execution) error { return nil }

func (a lookOver) dangers() []danger { return a.near }

// beginAgain brings the vehicle back into the procedure's starting state.
type beginAgain struct{}

func (beginAgain) words(phrase) string { return "Bring the vehicle back into the starting state." }

func (beginAgain) run(x *execution) error { return x.again() }

func (beginAgain) dangers() []danger { return nil }

// filterOut takes the compressor's intake filter out, and brings the vehicle back into the starting state.
type filterOut struct{ passage, compressor string }

func (a filterOut) words(phrase) string {
	return fmt.Sprintf("Stop the engine, take the intake filter of the %s out, and bring the vehicle back into the starting state. Let nothing be drawn in.", a.compressor)
}

func (a filterOut) run(x *execution) error {
	if x.run.Sound(a.passage) {
		return x.again() // it makes no difference
	}
	return x.anew(func() error { return x.run.Bypass(a.passage, true) })
}

func (filterOut) dangers() []danger { return []danger{engineRuns, discharge} }
