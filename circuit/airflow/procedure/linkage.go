package procedure

import (
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/limit"
)

// linking is the test of what the foot moves.
func linking(v *vehicle) []*Procedure {
	if !v.brakes() {
		return nil
	}
	return []*Procedure{v.pedalLinkage()}
}

// pedalError is that of a share of the pedal's travel, measured with a rule: 1 σ. Engineering judgement.
const pedalError = 0.02

func (v *vehicle) pedalLinkage() *Procedure {
	control := v.foot.ID + ".pedal"
	p := Procedure{
		ID: "pedal-linkage", Title: "Pedal linkage",
		About:   "How far the pedal goes before it brakes, whether it goes all the way, and whether it comes back: play that is too small keeps the brakes on, too large takes the last of them away.",
		Minutes: 5, Start: v.at.parked,
		Tools: []string{"rule", serviceGauge},
		State: circuit.State{Engine: "off", Park: "set", Pedal: "up"},
		Steps: []Step{
			{readPlay{"free-play", v.foot, control}, ""},
			{readPedal{"travel", v.foot.ID, control, 1, "Press the pedal to the floor for a moment and write down which share of its whole way it makes."}, ""},
			{readPedal{"stays", v.foot.ID, control, 0, "Let it up and write down by which share of its way it stays down."}, ""},
		},
		Readings: []Reading{
			v.measured("free-play", "share of the pedal's travel before the first air is delivered", v.foot.ID, circuit.Ratio, "rule", pedalError),
			v.measured("travel", "share of the pedal's travel that it makes", v.foot.ID, circuit.Ratio, "rule", pedalError),
			v.measured("stays", "share of the pedal's travel that it stays down by when let go", v.foot.ID, circuit.Ratio, "rule", pedalError),
		},
	}
	if len(v.stopLamps) > 0 {
		lamp := v.stopLamps[0]
		if s := v.switchOf(lamp); s != nil {
			at := tap{place: s.ID, name: "service gauge at the " + s.Name, room: s.Room("1")}
			p.Steps = append(p.Steps, Step{readWhenLit{"stop-lamp", s.ID, lamp.ID, lamp.Name, at, v.linesTo(s)}, ""})
			p.Readings = append(p.Readings, v.level("stop-lamp", "pressure at the "+s.Name+" when the "+lamp.Name+" come on", at).within(v, limit.StopLampAt))
		}
	}
	return v.procedure(p)
}

// switchOf finds the stop lamp switch that a lamp is wired to.
func (v *vehicle) switchOf(lamp *circuit.Component) *circuit.Component {
	for _, s := range v.all("stop-lamp-switch") {
		for _, c := range v.wiredTo([]*circuit.Component{s}) {
			if c.ID == lamp.ID {
				return s
			}
		}
	}
	return nil
}

// readPlay: how far the pedal goes down before a gauge at the foot valve's delivery first moves. It is pressed so slowly, and so
// little, that no more air moves than the gauge needs: the vehicle stays as it is.
type readPlay struct {
	id      string
	foot    *circuit.Component
	control string
}

func (a readPlay) words(phrase) string {
	return "With a service gauge at the primary delivery of the " + a.foot.Name + ", press the pedal slowly until the gauge first moves, and write down which share of its way it had gone down by. Let it up."
}

func (a readPlay) run(x *execution) error {
	at := x.run.OpensAt(circuit.Passage(a.foot.ID, "primary inlet"), a.control)
	if !(at <= x.run.Allows(a.control, 1)) {
		at = math.NaN() // it never moves
	}
	x.put(a.id, a.foot.ID, math.Max(at, 0))
	return nil
}

func (readPlay) dangers() []danger { return []danger{airWorked} }
func (readPlay) looksAt() sight    { return sight{faults: true} }
func (readPlay) still()            {}

// readPedal: where the pedal comes to, for a moment.
type readPedal struct {
	id, place, control string
	to                 float64
	text               string
}

func (a readPedal) words(phrase) string { return a.text }

func (a readPedal) run(x *execution) error {
	x.put(a.id, a.place, x.run.Allows(a.control, a.to))
	return nil
}

func (readPedal) dangers() []danger { return []danger{airWorked} }
func (readPedal) looksAt() sight    { return sight{faults: true} }
func (readPedal) still()            {}

// readWhenLit: what a service gauge shows when a lamp comes on as the pedal is pressed slowly; never, where it does not.
type readWhenLit struct {
	id, place, lamp, name string
	tap                   tap
	lines                 []string // by which air comes to the switch
}

// hardlyOpen is the share of a line's way below which a switch at its end feels nothing in the time that a pedal is pressed in. From memory of what
// conducts what: a tube of 6 mm lets a share of 1e-5 of its air fill some cubic centimetres in minutes.
const hardlyOpen = 1e-5

// linesTo a part, back to where they come together with others.
func (v *vehicle) linesTo(c *circuit.Component) []string {
	var out []string
	for _, l := range v.circuit.Lines {
		if l.Type.Medium() == circuit.Air && (l.From.Component == c.ID || l.To.Component == c.ID) {
			out = append(out, l.ID)
		}
	}
	return out
}

func (a readWhenLit) words(phrase) string {
	return "Press the pedal slowly again and write down what the " + a.tap.name + " shows when the " + a.name + " come on. Let it up."
}

// Lamps that are lit already come on at nothing.
func (a readWhenLit) run(x *execution) error {
	at, _ := x.run.SwitchesAt(a.place)
	if math.IsNaN(at) {
		at = x.run.Pressure(a.tap.room)
	}
	const plainly = 150 * psi // whatever the switch needs
	high := func(part string) float64 {
		if part == a.place {
			return circuit.AtmospherePressure + plainly
		}
		return math.NaN()
	}
	switch {
	case x.run.Lit(a.lamp):
		at = x.run.Pressure(a.tap.room)
	case !x.run.LitIf(a.lamp, high), slices.ContainsFunc(a.lines, func(id string) bool { return x.run.PassageOpen(circuit.Passage(id, airflow.Bore)) < hardlyOpen }):
		at = math.NaN()
	}
	x.put(a.id, a.place, at)
	return nil
}

func (readWhenLit) dangers() []danger { return []danger{airWorked} }
func (readWhenLit) looksAt() sight    { return sight{signals: true, faults: true} }
func (readWhenLit) still()            {}
