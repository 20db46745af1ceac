package procedure

import (
	"fmt"
	"math"

	"airpath/circuit"
	"airpath/circuit/limit"
)

// warning are the tests of what tells the driver, and of what acts by itself when the air is lost.
func warning(v *vehicle) []*Procedure {
	if !v.builds() {
		return nil
	}
	return []*Procedure{v.cabCheck(), v.lowPressureWarning(), v.springSet(), v.switchPortGauge()}
}

func (v *vehicle) cabCheck() *Procedure {
	p := Procedure{
		ID: "cab-check", Title: "Look round the cab at full pressure",
		About:   "What the gauges show and what is lit when the system has just been charged.",
		Minutes: 0.5, Start: v.at.cutOut,
		State: circuit.State{Engine: "idle", Compressor: "unloaded", Park: "set", Pedal: "up"},
		Steps: []Step{
			{v.engine("idle"), ""},
			{wait{3, ""}, "Not longer: the needles sink as the air cools."},
			{readNow{id: "gauge", taps: v.dash}, ""},
		},
	}
	for _, t := range v.dash {
		p.Readings = append(p.Readings, v.level("gauge", "what the "+t.name+" shows", t))
	}
	if len(v.warnings) > 0 {
		l := readLit{id: "warning"}
		for _, c := range v.warnings {
			l.sinks, l.names = append(l.sinks, c.ID), append(l.names, "the "+c.Name)
			p.Readings = append(p.Readings, v.lit("warning", c))
		}
		p.Steps = append(p.Steps, Step{l, ""})
	}
	if len(v.dash) > 0 {
		touch := readTouch{id: "jumps", mode: sticking, text: "Tap the glass of each gauge with a finger: does its needle jump?"}
		for _, t := range v.dash {
			touch.places = append(touch.places, t.place)
			p.Readings = append(p.Readings, v.tapped(t))
		}
		p.Steps = append(p.Steps, Step{touch, ""})
	}
	return v.procedure(p)
}

func (v *vehicle) lit(id string, c *circuit.Component) Reading {
	if c.Kind.Name == "buzzer" {
		return said(id, "the "+c.Name+" sounds", c.ID, Ear, byEar, plainly)
	}
	return said(id, "the "+c.Name+" is lit", c.ID, Eye, byEye, plainly)
}

// slow is how far a drain is opened so that a needle sinks by about a psi a second.
const slow = 0.25

// lowPressureWarning bleeds one reservoir after the other: each has its own switch, and both light the same lamp.
func (v *vehicle) lowPressureWarning() *Procedure {
	kept := v.kept()
	if len(v.warnings) == 0 || len(kept) == 0 {
		return nil
	}
	const give = 420
	p := Procedure{
		ID: "low-pressure-warning", Title: "Low pressure warning",
		About:   "The pressure at which the warning comes on, for each service reservoir by itself.",
		Minutes: 4 * float64(len(kept)), Start: v.at.parked,
		State: circuit.State{Engine: "off", Park: "set", Pedal: "up"},
	}
	for i, r := range kept {
		if i > 0 {
			p.Steps = append(p.Steps, Step{beginAgain{}, ""})
		}
		p.Steps = append(p.Steps, Step{r.cock(slow), "Watch the " + r.dash.name + "."})
		for _, c := range v.warnings {
			mark := fmt.Sprintf("%s on %s", c.ID, r.room)
			when := "when the " + c.Name + map[bool]string{true: " sounded", false: " came on"}[c.Kind.Name == "buzzer"]
			id := map[bool]string{true: "buzzer", false: "lamp"}[c.Kind.Name == "buzzer"]
			p.Steps = append(p.Steps,
				Step{await{until: []condition{lights{c}, needles{[]tap{*r.dash}, true, gauge(15), false}}, within: give, mark: mark}, ""},
				Step{readWarned{id: id, mark: mark, sink: c.ID, when: when, tap: *r.dash}, ""},
			)
			if _, ok := p.Reading(id, r.dash.place); !ok {
				p.Readings = append(p.Readings, v.level(id, r.dash.name+" "+when, *r.dash).within(v, limit.WarningAt))
			}
		}
		p.Steps = append(p.Steps, Step{r.cock(0), ""})
	}
	return v.procedure(p)
}

// readWarned: what a needle showed when a warning came on; never, where it is off all the same.
type readWarned struct {
	id, mark, sink, when string
	tap                  tap
}

func (a readWarned) words(phrase) string {
	return "Write down what the " + a.tap.name + " showed " + a.when + "."
}

func (a readWarned) run(x *execution) error {
	m := x.at(a.mark)
	if !x.run.Lit(a.sink) {
		m = x.never()
	}
	x.put(a.id, a.tap.place, m.taps[x.index(a.tap)])
	return nil
}

func (readWarned) dangers() []danger { return nil }

// springSet bleeds all service reservoirs together: the park control is fed by whichever has more air.
func (v *vehicle) springSet() *Procedure {
	kept := v.kept()
	if v.park == nil || len(kept) == 0 || v.at.released == nil {
		return nil
	}
	const give = 480
	p := Procedure{
		ID: "spring-set", Title: "Automatic setting of the spring brakes",
		About:   "The pressure at which the park control's knob pops out by itself as the air is lost, and whether the rods come out.",
		Minutes: 4, Start: v.at.released, every: 0.5,
		Tools: []string{"chocks"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "up"},
	}
	for _, r := range kept {
		p.Steps = append(p.Steps, Step{r.cock(slow), ""})
	}
	park := pops{v.park.ID + ".knob", v.park.Name}
	trailer, towing := v.trailerKnob(true)
	towing = towing && v.first("coupling") != nil
	if towing {
		p.Steps = append(p.Steps,
			Step{bothPop{park, pops{trailer.control, trailer.name}, give, [2]string{"pop", "trailer"}}, ""},
			Step{readHigher{id: "pressure", mark: "pop", when: "when the " + v.park.Name + " popped", taps: dashOf(kept)}, ""},
			Step{readHigher{id: "trailer-pressure", mark: "trailer", when: "when the " + trailer.name + " popped", taps: dashOf(kept)}, ""},
		)
	} else {
		p.Steps = append(p.Steps,
			Step{await{until: []condition{park}, within: give, mark: "pop"}, ""},
			Step{readHigher{id: "pressure", mark: "pop", when: "at that moment", taps: dashOf(kept)}, ""},
		)
	}
	p.Steps = append(p.Steps, Step{wait{5, ""}, ""})
	top := v.level("pressure", "pressure on the higher needle when the knob pops out", *kept[0].dash).within(v, limit.SpringsSetAt)
	top.Place, top.Also, top.Access = "", nil, 0
	p.Readings = append(p.Readings, top)
	if towing {
		t := v.level("trailer-pressure", "pressure on the higher needle when the trailer supply shuts by itself", *kept[0].dash).within(v, limit.TrailerSupplyShutsAt)
		t.Place, t.Also, t.Access = "", nil, 0
		p.Readings = append(p.Readings, t)
	}
	if len(v.springs) > 0 {
		begins := readLettingGo{id: "begins"}
		for _, c := range v.springs {
			t := v.springTap(c)
			begins.chambers = append(begins.chambers, c)
			p.Readings = append(p.Readings, v.level("begins", "pressure on the "+t.name+" when its rod begins to come out", t).within(v, limit.HeldOffAt).within(v, limit.SpringsBeginToAct).springsOn(v))
		}
		p.Steps = append(p.Steps, Step{begins, ""})
		out := readRods{id: "rod-out"}
		for _, c := range v.springs {
			out.chambers, out.names = append(out.chambers, c.ID), append(out.names, "the "+c.Name)
			r := said("rod-out", "the push-rod of the "+c.Name+" has come out", c.ID, Eye, byEye, rodOut)
			r.Dimension, r.Access = circuit.Length, v.access(c.ID)
			p.Readings = append(p.Readings, r)
		}
		p.Steps = append(p.Steps, Step{out, "Look from the side; keep hands away."})
	}
	for _, r := range kept {
		p.Steps = append(p.Steps, Step{r.cock(0), ""})
	}
	return v.procedure(p)
}

// springsOn turns the limit on the pressure at which springs begin to act, a share of the least pressure that is normally there,
// the governor's cut-in, into pressure.
func (r Reading) springsOn(v *vehicle) Reading {
	for i := range r.Limits {
		if l := &r.Limits[i]; l.Quantity == limit.SpringsBeginToAct {
			l.Dimension, l.High = circuit.Pressure, circuit.AtmospherePressure+l.High*v.cutInSpan()
			l.Note = fmt.Sprintf("80 %% of a cut-in of %.0f psi", v.cutInSpan()/psi)
		}
	}
	return r
}

// readLettingGo: what service gauges at the spring sides showed as the rods began to come out.
type readLettingGo struct {
	id       string
	chambers []*circuit.Component
}

func (a readLettingGo) words(phrase) string {
	return "Write down what a service gauge on the spring side showed as the push-rod began to come out: " + list(namesOf(a.chambers), "and") + "."
}

// A rod that the spring has not pushed out yet has not begun to move.
func (a readLettingGo) run(x *execution) error {
	for _, c := range a.chambers {
		at := x.run.LetsGoAt(c.ID)
		if x.run.Pressure(c.Room("spring")) >= at {
			at = math.NaN()
		}
		x.put(a.id, c.ID, at)
	}
	return nil
}

func (readLettingGo) dangers() []danger { return []danger{nearWheel, airWorked} }
func (readLettingGo) looksAt() sight    { return sight{rods: true} }

// rodOut is the judgement on a rod's having come out, by its stroke.
var rodOut = Judge{Half: 0.012, Spread: 0.003, Miss: 0.02, False: 0.02}

// readRods: how far push-rods are out.
type readRods struct {
	id              string
	chambers, names []string
}

func (a readRods) words(phrase) string {
	return "Write down whether the push-rods of " + list(a.names, "and") + " have come out."
}

func (a readRods) run(x *execution) error {
	for _, id := range a.chambers {
		x.put(a.id, id, x.run.Stroke(id))
	}
	return nil
}

func (readRods) dangers() []danger { return []danger{nearWheel, airWorked} }

func dashOf(rs []reservoir) []tap {
	out := make([]tap, len(rs))
	for i, r := range rs {
		out[i] = *r.dash
	}
	return out
}

// switchPortGauge puts a service gauge where each low pressure switch was.
func (v *vehicle) switchPortGauge() *Procedure {
	p := Procedure{
		ID: "switch-port-gauge", Title: "Gauge at the low pressure switch's port",
		About:   "With the switch out and a service gauge in its place: does the pressure get there, and does the dash gauge show the same?",
		Minutes: 0, Start: v.at.parked,
		Tools: []string{serviceGauge, "adapter for the switch port", "spanners"},
		State: circuit.State{Engine: "off", Park: "set", Pedal: "up"},
	}
	var more []tap
	for _, c := range v.lowSwitch {
		r, ok := v.reservoirAt(c.Room("1"))
		if !ok || r.dash == nil {
			continue
		}
		t := tap{place: c.ID, name: "service gauge in place of the " + c.Name, room: c.Room("1")}
		more = append(more, t)
		p.Minutes += 8
		p.Steps = append(p.Steps,
			Step{fitGauge{"in place of the " + c.Name}, ""},
			Step{readBeside{level: "pressure", above: "difference", place: c.ID, service: t, dash: *r.dash}, ""},
		)
		level, diff := v.level("pressure", "pressure at the port of the "+c.Name, t), v.change("difference", "pressure at the port of the "+c.Name+" above the "+r.dash.name, t)
		diff.Gauge, diff.Level = r.dash.place, true
		p.Readings = append(p.Readings, level, diff)
	}
	if len(p.Readings) == 0 {
		return nil
	}
	return v.procedure(p, more...)
}
