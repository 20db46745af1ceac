package procedure

import (
	"slices"

	"airpath/circuit"
)

// towed are the tests of a trailer by itself in a workshop, which has no air of its own: the workshop's hoses stand in for the tractor's.
// Supply charged, service applied, supply lost, and how fast it leaks. Common practice; a trailer has no needles of its own, so that
// service gauges show what there is.
func towed(v *vehicle) []*Procedure {
	w, ok := v.workshop()
	if !ok {
		return nil
	}
	return []*Procedure{w.charge(), w.leakDown(), w.apply(), w.lose(), w.listenCharged(), w.listenService()}
}

// A workshop is a trailer between a workshop's two air hoses.
type workshop struct {
	*vehicle
	supply, control *circuit.Component // gladhands
	tanks           []tap
	lines           []tap // gauges in the hoses: supply, control
	springs, brakes []*circuit.Component
	bare, charged   *Start
}

// workshop for a vehicle that makes no air and has a gladhand on the supply and one on the control of a relay emergency valve.
func (v *vehicle) workshop() (*workshop, bool) {
	if v.compressor != nil {
		return nil, false
	}
	w := &workshop{vehicle: v, tanks: v.trailerTanks(), springs: v.trailerSprings(), brakes: v.trailerChambers()}
	emergency := v.first("relay-emergency-valve")
	for _, g := range v.all("gladhand") {
		if emergency == nil {
			break
		}
		switch joined := v.joined(g.Room("1")); {
		case slices.Contains(joined, emergency.Room("1")):
			w.supply = g
		case slices.Contains(joined, emergency.Room("4")):
			w.control = g
		}
	}
	if w.supply == nil || w.control == nil || len(w.tanks) == 0 || len(w.brakes) == 0 {
		return nil, false
	}
	for _, g := range []*circuit.Component{w.supply, w.control} {
		w.lines = append(w.lines, tap{place: g.ID, name: "service gauge in the hose on the " + g.Name, room: g.Room("1")})
	}
	w.bare = &Start{
		ID: "uncoupled", Title: "uncoupled, chocked, its reservoir drained", Lasts: true, Minutes: 3,
		Steps: []Step{
			{lookOver{"Stand the trailer on level ground, chock its wheels on both sides, and undo both hoses.", nil}, ""},
			{drained{v, circuit.AtmospherePressure}, ""},
		},
	}
	w.charged = &Start{
		ID: "charged", Title: "charged from the workshop's air, control open, brakes released", Lasts: true, From: w.bare, Minutes: 1 + filling/60,
		Steps: []Step{{w.air(w.supply, on), ""}, {wait{filling, "for the reservoir to fill and its air to cool"}, ""}},
	}
	return w, true
}

// filling is how long the hose is left on, s: at 120 psi through a hose any trailer is full and has cooled by then.
const filling = 300

// A hoseState is how a workshop's hose stands on a gladhand.
type hoseState int

const (
	off  hoseState = iota // taken off: the face is open
	on                    // air comes
	shut                  // on it with its cock shut: what is in stays in
)

// shopAir puts a workshop's hose on a gladhand, shuts it or takes it off.
type shopAir struct {
	part, name string
	state      hoseState
}

func (w *workshop) air(g *circuit.Component, state hoseState) shopAir {
	return shopAir{g.ID, g.Name, state}
}

func (a shopAir) words(f phrase) string {
	switch a.state {
	case on:
		return "Put the workshop's air, regulated to " + f.pressure(gauge(120)) + ", on the " + a.name + " and open its cock."
	case shut:
		return "Shut the cock of the workshop's hose on the " + a.name + " and leave it on, so that what is in the line stays in."
	}
	return "Take the workshop's hose off the " + a.name + ": the line blows off."
}

func (a shopAir) run(x *execution) error {
	if err := x.run.Set(a.part+".shut", share(a.state != off), 0); err != nil {
		return err
	}
	return x.run.Set(a.part+".shop_air", share(a.state == on), 0)
}

func (a shopAir) dangers() []danger {
	if a.state == off {
		return []danger{lineOpen, blast, airWorked}
	}
	return []danger{airWorked}
}

func (shopAir) looksAt() sight { return sight{} }

// taps that the curves show beside the vehicle's own.
func (w *workshop) gauges() []tap {
	var out []tap
	for _, t := range append(slices.Clone(w.tanks), w.lines...) {
		if t.place != w.wet.place {
			out = append(out, t)
		}
	}
	return out
}

var workshopTools = []string{"workshop air with two hoses, cocks and gauges", serviceGauge, "chocks"}

func (w *workshop) charge() *Procedure {
	const give = 900
	p := Procedure{
		ID: "trailer-charge", Title: "Trailer charged from the workshop's air",
		About:   "The supply alone charges an empty trailer: the springs must be held off first, then the reservoir fill. A reservoir that never fills is behind a valve that does not open; one that fills and springs that stay out lack hold-off air.",
		Minutes: 6, Start: w.bare,
		Tools: append(slices.Clone(workshopTools), stopwatch),
		State: circuit.State{Engine: "off"},
		Steps: []Step{
			{startWatch{"start"}, ""},
			{w.air(w.supply, on), "The control gladhand stays open."},
			{await{until: []condition{needles{w.tanks, true, gauge(90), true}}, within: give, mark: "ninety"}, ""},
			{readSpan{id: "time", from: "start", to: "ninety", what: "it took until the reservoir stood at 90 psi"}, ""},
			{wait{60, ""}, ""},
			{readNow{id: "level", taps: w.tanks}, ""},
		},
		Readings: []Reading{timed("time", "time from empty to 90 psi in the reservoir", psi)},
	}
	for _, t := range w.tanks {
		p.Readings = append(p.Readings, w.level("level", "what the "+t.name+" stands at, supply on", t))
	}
	if len(w.springs) > 0 {
		p.Steps = append(p.Steps, Step{readRods{id: "rod-out", chambers: idsOf(w.springs), names: namesOf(w.springs)}, "They should be in: the springs are held off."})
		p.Readings = append(p.Readings, w.rodsSeen("rod-out", w.springs, "supply on")...)
	}
	return w.procedure(p, w.gauges()...)
}

func (w *workshop) leakDown() *Procedure {
	p := Procedure{
		ID: "trailer-leak-down", Title: "Trailer's leak-down, brakes released",
		About:   "Charged and shut off, the trailer has to keep its air. A supply line that falls while the reservoir holds leaks itself, or its hold-off does; both fall where a check lets the reservoir's air back.",
		Minutes: 1 + watched/60, Start: w.charged,
		Tools: append(slices.Clone(workshopTools), stopwatch),
		State: circuit.State{Engine: "off"},
		Steps: []Step{
			{w.air(w.supply, shut), ""},
			{wait{settling / 3, "for the gauges to settle"}, ""},
			{noteNeedles{"before"}, ""},
			{wait{watched, ""}, ""},
			{readFall{id: "fall", since: "before", taps: w.both(w.lines[0]), perMinute: true}, ""},
			{readNow{id: "level", taps: w.both(w.lines[0])}, "A line that is empty by then has fallen before it was looked at."},
		},
	}
	p.Readings = w.kept(w.lines[0], "")
	return w.procedure(p, w.gauges()...)
}

// both the reservoirs and one line.
func (w *workshop) both(line tap) []tap { return append(slices.Clone(w.tanks), line) }

// kept is what the reservoirs and a line lose, and have left.
func (w *workshop) kept(line tap, when string) []Reading {
	var out []Reading
	for _, t := range w.both(line) {
		out = append(out, w.rate("fall", "fall per minute on the "+t.name+when, t, watched))
	}
	for _, t := range w.both(line) {
		out = append(out, w.level("level", "where the "+t.name+" stands at the end"+when, t))
	}
	return out
}

func (w *workshop) apply() *Procedure {
	const settle = 60
	p := Procedure{
		ID: "trailer-applied", Title: "Trailer's brakes applied from the workshop's air",
		About:   "Air on the control line must put all brakes on, and let all go when it leaves. Shut off in between, a control line that falls leaks itself or at a relay's control side; a reservoir that falls leaks at the chambers.",
		Minutes: 2 + (settle+watched)/60, Start: w.charged,
		Tools: append(slices.Clone(workshopTools), stopwatch),
		State: circuit.State{Engine: "off"},
		Steps: []Step{
			{w.air(w.supply, shut), ""},
			{w.air(w.control, on), ""},
			{wait{reaching, "for the brakes to come on"}, ""},
			{readRods{id: "applied", chambers: idsOf(w.brakes), names: namesOf(w.brakes)}, ""},
			{w.air(w.control, shut), ""},
			{wait{settle, "for the gauges to settle"}, ""},
			{noteNeedles{"before"}, ""},
			{wait{watched, ""}, ""},
			{readFall{id: "fall", since: "before", taps: w.both(w.lines[1]), perMinute: true}, ""},
			{readNow{id: "level", taps: w.both(w.lines[1])}, "A line that is empty by then has fallen before it was looked at."},
			{w.air(w.control, off), ""},
			{wait{reaching, "for the brakes to let go"}, ""},
			{readRods{id: "released", chambers: idsOf(w.brakes), names: namesOf(w.brakes)}, "They should be in again."},
		},
	}
	p.Readings = append(p.Readings, w.rodsSeen("applied", w.brakes, "air on the control line")...)
	p.Readings = append(p.Readings, w.kept(w.lines[1], ", applied")...)
	p.Readings = append(p.Readings, w.rodsSeen("released", w.brakes, "after the control line was let out")...)
	return w.procedure(p, w.gauges()...)
}

func (w *workshop) lose() *Procedure {
	const brakes, keep = 10, 60
	p := Procedure{
		ID: "trailer-supply-lost", Title: "Trailer's supply lost",
		About:   "With the supply hose off the trailer must brake by itself: springs out, and the relay emergency valve's chambers on with the reservoir's air, which must not blow back out of the supply gladhand.",
		Minutes: 2 + (brakes+keep)/60.0, Start: w.charged,
		Tools: workshopTools,
		State: circuit.State{Engine: "off"},
		Steps: []Step{
			{w.air(w.supply, off), ""},
			{wait{brakes, ""}, ""},
			{readRods{id: "rod-out", chambers: idsOf(w.brakes), names: namesOf(w.brakes)}, ""},
			{wait{keep, "for the line to empty"}, ""},
			{readNow{id: "keeps", taps: w.tanks}, ""},
			{readFlow{ids: []string{"blows"}, places: []string{w.face(w.supply)}, text: "Listen at the " + w.supply.Name + ": does it blow on?"}, ""},
		},
	}
	p.Readings = append(p.Readings, w.rodsSeen("rod-out", w.brakes, "supply lost")...)
	for _, t := range w.tanks {
		p.Readings = append(p.Readings, w.level("keeps", "what the "+t.name+" stands at after the supply was lost", t))
	}
	b := said("blows", "the "+w.supply.Name+" blows on", w.face(w.supply), Ear, byEar, HeardBy("off"))
	b.Dimension, b.Access = circuit.Flow, w.access(w.supply.ID)
	p.Readings = append(p.Readings, b)
	return w.procedure(p, w.gauges()...)
}

// face of a gladhand, where it blows off.
func (w *workshop) face(g *circuit.Component) string { return g.ID + ".3" }

func (w *workshop) listenCharged() *Procedure {
	return w.listen(Procedure{
		ID: "listen-charged", Title: "Listen, trailer charged and released",
		About: "Supply on, control open: what is heard is supply, hold-off or reservoir air. Air at the open control gladhand comes back through a relay's control side.",
		Start: w.charged,
		Tools: workshopTools,
		State: circuit.State{Engine: "off"},
	}, nil, 0)
}

func (w *workshop) listenService() *Procedure {
	return w.listen(Procedure{
		ID: "listen-service", Title: "Listen, trailer applied",
		About: "Air on both lines: what is heard now and not with the control open is service air.",
		Start: w.charged,
		Tools: workshopTools,
		State: circuit.State{Engine: "off"},
		Steps: []Step{
			{w.air(w.control, on), ""},
			{wait{30, "for the sound of the application to die away"}, ""},
		},
	}, nil, 0)
}
