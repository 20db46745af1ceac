package procedure

import (
	"fmt"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/limit"
)

// Tests that take the governor out of what it does: the safety valve, and the dryer's purge valve without its command.

// cutOutSpan and cutInSpan of the governor above the atmosphere, Pa.
func (v *vehicle) cutOutSpan() float64 {
	return v.governor.Value("cut_out") - circuit.AtmospherePressure
}
func (v *vehicle) cutInSpan() float64 { return v.governor.Value("cut_in") - circuit.AtmospherePressure }

// share of a span as a level, Pa absolute.
func (v *vehicle) share(span float64) float64 { return circuit.AtmospherePressure + span }

// safety is the relief valve on the reservoir that the compressor fills.
func (v *vehicle) safety() *circuit.Component {
	for _, r := range v.reservoirs {
		if !r.wet {
			continue
		}
		joined := v.joined(r.room)
		for _, c := range v.all("relief-valve") {
			if slices.Contains(joined, c.Room("1")) {
				return c
			}
		}
	}
	return nil
}

// ventOf a part: its port to the open, or the part itself.
func (v *vehicle) ventOf(c *circuit.Component) string {
	for _, p := range c.Kind.Ports {
		if p.Vent {
			return c.ID + "." + p.Name
		}
	}
	return c.ID
}

func (v *vehicle) safetyValve() *Procedure {
	c := v.safety()
	if c == nil || v.wet.place == "" {
		return nil
	}
	if v.circuit.LineAt(circuit.PortRef{Component: v.governor.ID, Port: "1"}) == nil {
		return nil
	}
	const give, most = 300, 170
	vent := v.ventOf(c)
	stop := needles{[]tap{v.wet}, true, gauge(most), true}
	return v.procedure(Procedure{
		ID: "safety-valve", Title: "Safety valve",
		About:   "With the governor cut off from the air that it senses, the compressor goes on building: the safety valve must let it out, at about 150 psi, and shut again.",
		Minutes: 12, Start: v.at.low, SetUp: v.access(v.wet.place), every: 0.5,
		Tools: []string{serviceGauge + " of 300 psi", "plugs, counted", "spanners"},
		State: circuit.State{Engine: "rated", Compressor: "loaded", Park: "set", Pedal: "up"},
		Steps: []Step{
			{plugOff{[]string{v.governor.ID + ".1"}, []string{"the sensing line at the " + v.governor.Name}}, ""},
			{screwOn{v.wet.name}, ""},
			{v.engine("rated"), "Stop it at once at 170 psi, whatever the valve does."},
			{await{until: []condition{blows{vent, c.Name}, stop}, within: give, rising: true, mark: "lifts"}, ""},
			{readBlown{"opens", c.ID, vent, "lifts", v.wet}, ""},
			{v.engine("off"), ""},
			{await{until: []condition{quiet{vent, c.Name}}, within: 60, mark: "shuts"}, ""},
			{readShut{"shuts", c.ID, "shuts", v.wet}, ""},
		},
		Readings: []Reading{
			v.at2(v.level("opens", "supply reservoir when the "+c.Name+" blows", v.wet).within(v, limit.SafetyValveAt), c.ID),
			v.at2(v.level("shuts", "supply reservoir when it has stopped blowing, engine off", v.wet), c.ID),
		},
	})
}

// at2 moves a reading to another place, keeping its own as another name of it.
func (v *vehicle) at2(r Reading, place string) Reading {
	r.Also = append([]string{r.Place}, r.Also...)
	r.Place = place
	return r
}

// plugOff takes lines off and plugs both ends, and brings the vehicle back into the starting state.
type plugOff struct{ ports, names []string }

func (a plugOff) words(phrase) string {
	return fmt.Sprintf("Bleed the system down, undo %s and plug both ends, never clamp a hose, and bring the vehicle back into the starting state. Count the plugs.", list(a.names, "and"))
}

func (a plugOff) run(x *execution) error {
	if err := x.again(); err != nil {
		return err
	}
	for _, p := range a.ports {
		if err := x.run.Plug(p, true); err != nil {
			return err
		}
	}
	return nil
}

func (plugOff) dangers() []danger { return []danger{lineOpen, blast} }
func (plugOff) looksAt() sight    { return sight{} }

// blows: air comes out of a place, plain to hear beside a running engine.
type blows struct{ place, name string }

// plainBlow is that flow: ten litres a minute of free air drown out in an engine at rated speed, a hundred do not.
const plainBlow = 100e-3 / 60 * airflow.ReferenceDensity // kg/s

func (c blows) words(phrase) string { return "the " + c.name + " blows" }

func (c blows) events(*execution) []airflow.Event {
	return []airflow.Event{{Vent: c.place, Level: plainBlow, Rising: true}}
}

func (c blows) holds(x *execution) (bool, error) {
	return x.run.VentFlow(c.place) >= 0.99*plainBlow, nil
}

// readBlown: what a needle showed when a place began to blow; never, where it does not.
type readBlown struct {
	id, place, vent, mark string
	tap                   tap
}

func (a readBlown) words(phrase) string {
	return "Write down what the " + a.tap.name + " showed when it blew, if it did."
}

func (a readBlown) run(x *execution) error {
	m := x.at(a.mark)
	if x.run.VentFlow(a.vent) < 0.9*plainBlow {
		m = x.never()
	}
	x.put(a.id, a.place, m.taps[x.index(a.tap)])
	return nil
}

func (readBlown) dangers() []danger { return nil }
func (readBlown) looksAt() sight    { return sight{needles: true} }

// readShut: what a needle showed when it had stopped.
type readShut struct {
	id, place, mark string
	tap             tap
}

func (a readShut) words(phrase) string {
	return "Write down what the " + a.tap.name + " showed then."
}

func (a readShut) run(x *execution) error {
	x.put(a.id, a.place, x.at(a.mark).taps[x.index(a.tap)])
	return nil
}

func (readShut) dangers() []danger { return nil }
func (readShut) looksAt() sight    { return sight{needles: true} }

// purgeControlUndone takes the dryer's command away: what blows on then is the purge valve itself.
func (v *vehicle) purgeControlUndone() *Procedure {
	if v.dryer == nil {
		return nil
	}
	port := v.dryer.ID + ".4"
	if v.circuit.LineAt(circuit.PortRef{Component: v.dryer.ID, Port: "4"}) == nil {
		return nil
	}
	vent := v.purge()
	p := Procedure{
		ID: "purge-control-undone", Title: "Control line of the purge undone",
		About:   "After cut-out, engine off: does the purge port blow, and does it stop when its control line is undone? What stops was told to blow by a line that stayed charged; what blows on is the purge valve itself. What blows out of the line's end comes from the governor.",
		Minutes: 5, Start: v.at.idling,
		Tools: []string{"spanners", "plug"},
		State: circuit.State{Engine: "off", Park: "set", Pedal: "up"},
		Steps: []Step{
			{v.engine("off"), ""},
			{wait{5, ""}, ""},
			{readFlow{ids: []string{"before"}, places: []string{vent}, text: "Listen at the purge port: does it blow?"}, ""},
			{undo{port, "control line of the purge", "the " + v.dryer.Name}, "It is thin and holds little; let its air go before the nut is off."},
			{wait{5, ""}, ""},
			{readFlow{ids: []string{"after"}, places: []string{vent}, text: "Listen at the purge port again: does it blow now?"}, ""},
		},
	}
	for _, r := range []struct{ id, title string }{{"before", "the purge port blows, unloaded, engine off"}, {"after", "the purge port blows with its control line undone"}} {
		b := said(r.id, r.title, vent, Ear, byEar, HeardBy("off"))
		b.Dimension, b.Access = circuit.Flow, v.access(vent)
		p.Readings = append(p.Readings, b)
	}
	return v.procedure(p)
}

// undo a line at one port: the port stands open, the line's end is plugged.
type undo struct{ port, name, at string }

func (a undo) words(phrase) string {
	return fmt.Sprintf("Undo the %s at %s, leave the port open and plug the line's end.", a.name, a.at)
}

func (a undo) run(x *execution) error { return x.run.Undo(a.port, true) }

func (undo) dangers() []danger { return []danger{lineOpen, discharge} }
func (undo) looksAt() sight    { return sight{} }
