package procedure

import (
	"airpath/circuit"
)

// supplying are the tests of the supply side: from the intake to the check valves.
func supplying(v *vehicle) []*Procedure {
	if !v.builds() {
		return nil
	}
	return []*Procedure{v.supplyLoss(), v.wetTank(), v.chargingGauges(), v.intakeRestriction(), v.driveCheck(), v.lineOffFlow(), v.purgeControlUndone()}
}

// supplyLoss drains the supply reservoir under the others.
func (v *vehicle) supplyLoss() *Procedure {
	wet, ok := v.wetReservoir()
	if !ok || len(v.checks) == 0 {
		return nil
	}
	const watch = 240
	p := Procedure{
		ID: "supply-loss", Title: "Loss of the supply reservoir",
		About:   "The supply reservoir is drained: each service reservoir must keep its air behind its check valve.",
		Minutes: 7, Start: v.at.parked, every: 1,
		Tools: []string{stopwatch},
		State: circuit.State{Engine: "off", Park: "set", Pedal: "up"},
	}
	p.Steps = []Step{
		{noteNeedles{"before"}, ""},
		{wet.cock(1), "Leave it open."},
		{wait{60, "until no more air comes"}, "Watch whether a needle goes down with it."},
		{noteNeedles{"drained"}, ""},
		{wait{watch, ""}, ""},
	}
	for _, c := range v.checks {
		p.Steps = append(p.Steps, Step{readCheck{c}, ""})
		fall := v.change("drop", "fall of the "+c.keep.dash.name+" behind the "+c.part.Name, *c.keep.dash)
		level := v.level("level", "where the "+c.keep.dash.name+" ends behind the "+c.part.Name, *c.keep.dash)
		down := v.falls("falls", "the "+c.keep.dash.name+" goes down with the supply reservoir", *c.keep.dash)
		down.Judge = goesDown
		for _, r := range []*Reading{&fall, &level, &down} {
			r.Also = append([]string{r.Place}, r.Also...)
			r.Place = c.part.ID
		}
		p.Readings = append(p.Readings, fall, level, down)
	}
	p.Steps = append(p.Steps, Step{wet.cock(0), ""})
	if v.wet.place != "" {
		const rise = 120
		p.Minutes += 3
		p.Tools = append(p.Tools, serviceGauge)
		p.Steps = append(p.Steps, Step{noteNeedles{"shut"}, ""}, Step{wait{rise, ""}, "Watch the " + v.wet.name + "."}, Step{readRise{"rises", "shut", v.wet}, ""})
		up := said("rises", "the supply reservoir rises by itself with its drain shut again", v.wet.place, Needle, serviceGauge, rises)
		up.Also, up.Dimension, up.Access = v.alsoAt(v.wet), circuit.PressureSpan, v.access(v.wet.place)
		p.Readings = append(p.Readings, up)
	}
	return v.procedure(p)
}

// rises is the judgement on a needle that climbs by itself, by how far it does.
var rises = Judge{Half: 1.5 * psi, Spread: 0.3 * psi, Miss: 0.02, False: 0.02}

// readRise: how far a needle has risen since a moment with nothing that feeds it.
type readRise struct {
	id, since string
	tap       tap
}

func (a readRise) words(phrase) string {
	return "Write down whether the " + a.tap.name + " has risen by itself."
}

func (a readRise) run(x *execution) error {
	i := x.index(a.tap)
	x.put(a.id, a.tap.place, a.tap.read(x.run)-x.at(a.since).taps[i])
	return nil
}

func (readRise) dangers() []danger { return nil }
func (readRise) looksAt() sight    { return sight{needles: true} }

// goesDown is the judgement on a needle that goes down as another reservoir is drained, and not just slowly by a leak of its
// own: its value is the fall while that is done.
var goesDown = Judge{Half: 15 * psi, Spread: 3 * psi, Miss: 0.02, False: 0.02}

// readCheck: what the gauge behind a check valve has come to.
type readCheck struct{ check checkValve }

func (a readCheck) words(phrase) string {
	return "Write down how far the " + a.check.keep.dash.name + " has fallen since and where it stands: the " + a.check.part.Name + " should have kept it."
}

func (a readCheck) run(x *execution) error {
	t := *a.check.keep.dash
	i, now := x.index(t), t.read(x.run)
	fall := x.at("before").taps[i] - now
	x.put("drop", a.check.part.ID, fall)
	x.put("level", a.check.part.ID, now)
	x.put("falls", a.check.part.ID, x.at("before").taps[i]-x.at("drained").taps[i])
	return nil
}

func (readCheck) dangers() []danger { return nil }

// wetTank watches the supply reservoir after cut-out with the engine off.
func (v *vehicle) wetTank() *Procedure {
	if v.wet.place == "" || v.dryer == nil {
		return nil
	}
	const purge, watch = 45, 600
	port := v.purge()
	p := Procedure{
		ID: "wet-tank-after-cut-out", Title: "Supply reservoir watched after cut-out, engine off",
		About:   "The purge valve stays open until the supply reservoir falls to cut-in, engine or no engine. Air that comes back through the dryer blows there until then, while the service reservoirs hold.",
		Minutes: 11, Start: v.at.cutOut, every: 1, SetUp: v.access(v.wet.place),
		Tools: []string{serviceGauge, stopwatch},
		State: circuit.State{Engine: "off", Compressor: "unloaded", Park: "set", Pedal: "up"},
		Steps: []Step{
			{screwOn{v.wet.name}, ""},
			{v.engine("off"), "At once."},
			{readFlow{ids: []string{"blows"}, places: []string{port}, text: "Listen at the purge port once the normal purge is over, for up to " + duration(purge) + ": does it blow on?", seconds: purge,
				while: func(x *execution) bool { return x.run.Latch(v.cutOut()) }}, ""},
			{noteNeedles{"purged"}, ""},
			{await{until: []condition{quiet{port, "purge port"}}, within: watch, mark: "stop"}, ""},
			{readStop{id: "stops-at", blew: "blows", port: port, mark: "stop", tap: v.wet}, ""},
			{waitOut{mark: "purged", seconds: watch}, ""},
			{readNow{id: "level", taps: []tap{v.wet}}, ""},
			{readFall{id: "drop", since: "purged", also: []string{"falls"}, taps: v.taps()}, ""},
		},
	}
	blow := said("blows", "the purge port blows on after the normal purge", port, Ear, byEar, HeardBy("off"))
	blow.Dimension, blow.Access = circuit.Flow, v.access(port)
	stop := v.level("stops-at", "supply reservoir when the blowing at the purge port stops", v.wet)
	p.Readings = []Reading{blow, stop, v.level("level", "supply reservoir at the end", v.wet)}
	for _, t := range v.taps() {
		p.Readings = append(p.Readings, v.change("drop", "fall of the "+t.name+" in ten minutes", t), v.falls("falls", "the "+t.name+" falls clearly in ten minutes", t))
	}
	return v.procedure(p)
}

// chargingGauges reads the pressure along the way from the compressor to the supply reservoir.
func (v *vehicle) chargingGauges() *Procedure {
	if v.dryer == nil || v.wet.place == "" {
		return nil
	}
	taps := []tap{
		{place: v.compressor.ID, name: "service gauge at the compressor outlet", room: v.compressor.Room("head")},
		{place: v.dryer.ID + ".1", name: "service gauge at the dryer inlet", room: v.dryer.Room("1")},
		{place: v.dryer.ID + ".2", name: "service gauge at the dryer outlet", room: v.dryer.Room("2")},
	}
	ids := []string{"compressor-outlet", "dryer-inlet", "dryer-outlet"}
	p := Procedure{
		ID: "charging-gauges", Title: "Pressures along the charging line",
		About:   "At rated speed, when the first needle passes 90 psi: where the pressure steps up against the flow, the way is narrow.",
		Minutes: 18, Start: v.at.low, every: 0.5,
		Tools: []string{"three service gauges of 300 psi with tees", "spanners"},
		State: circuit.State{Engine: "rated", Compressor: "loaded", Park: "set", Pedal: "up"},
		Steps: []Step{
			{fitGauge{"at the compressor outlet, at the dryer inlet and at the dryer outlet"}, ""},
			{screwOn{v.wet.name}, ""},
			{v.engine("rated"), ""},
			{await{until: []condition{needles{v.dash, false, gauge(90), true}}, within: 300, rising: true, mark: "ninety"}, "Read them then, or when the time is up."},
		},
	}
	for i, t := range taps {
		p.Steps = append(p.Steps, Step{readService{ids[i], t}, ""})
		r := v.level(ids[i], "pressure on the "+t.name+", compressor pumping", t)
		r.Place, r.Also = "", []string{t.place}
		p.Readings = append(p.Readings, r)
	}
	p.Steps = append(p.Steps, Step{readNow{id: "supply", taps: []tap{v.wet}}, ""})
	p.Readings = append(p.Readings, v.level("supply", "supply reservoir at the same time", v.wet).either())
	return v.procedure(p, taps...)
}

// readService: what one service gauge shows now.
type readService struct {
	id  string
	tap tap
}

func (a readService) words(phrase) string { return "Write down what the " + a.tap.name + " shows." }

func (a readService) run(x *execution) error { x.put(a.id, "", a.tap.read(x.run)); return nil }

func (readService) dangers() []danger { return []danger{discharge} }

// filter is the passage of a compressor that its intake filter sits in.
const filter = "intake filter"

func (v *vehicle) intakeRestriction() *Procedure {
	const give = 600
	duct := v.compressor.Room("intake")
	below := Reading{
		ID: "depression", Title: "depression in the intake duct at rated speed, compressor pumping", Dimension: circuit.PressureSpan, Form: Measured, Sense: Needle,
		Instrument: "vacuum gauge", Sigma: 500, Access: v.access(v.compressor.ID),
	}
	return v.procedure(Procedure{
		ID: "intake-restriction", Title: "Intake restriction",
		About:   "What the compressor must suck against, and whether it builds faster with the filter out.",
		Minutes: 10, Start: v.at.low, every: 0.5,
		Tools: []string{"vacuum gauge", "spanners", stopwatch},
		State: circuit.State{Engine: "rated", Compressor: "loaded", Park: "set", Pedal: "up"},
		Steps: []Step{
			{lookOver{"Fit the vacuum gauge between the intake filter and the compressor.", []danger{discharge}}, ""},
			{v.engine("rated"), ""},
			{wait{8, ""}, ""},
			{readBelow{"depression", "", duct, "intake duct"}, ""},
			{filterOut{circuit.Passage(v.compressor.ID, filter), v.compressor.Name}, ""},
			{v.engine("rated"), ""},
			{startWatch{"filter out"}, ""},
			{await{until: []condition{needles{v.dash, true, gauge(100), true}}, within: give, rising: true, mark: "full"}, ""},
			{readClimb{time: "time-filter-out", taps: v.dash, from: gauge(85), to: gauge(100), since: "filter out", limit: give}, ""},
			{lookOver{"Put the filter back.", nil}, ""},
		},
		Readings: []Reading{below, timed("time-filter-out", "time from 85 to 100 psi on the slower needle with the filter out, at rated speed", 0.8*psi)},
	})
}

// driveCheck looks whether the compressor turns as it is driven.
func (v *vehicle) driveCheck() *Procedure {
	turns := said("turns", "the compressor turns with the engine", "", Eye, byEye, Judge{Half: 0.5, Spread: 0.08, Miss: 0.02, False: 0.02})
	turns.Dimension = circuit.Ratio
	return v.procedure(Procedure{
		ID: "drive-check", Title: "Compressor drive and speed",
		About:   "Belt, coupling or gear: does the compressor turn as fast as it is driven while it pumps?",
		Minutes: 4, Start: v.at.empty,
		Tools: []string{"speed counter without contact", "chalk"},
		State: circuit.State{Engine: "rated", Compressor: "loaded", Park: "set", Pedal: "up"},
		Steps: []Step{
			{lookOver{"Look at belt, tension and coupling, and put a chalk mark on the compressor's pulley or flange.", []danger{discharge}}, ""},
			{v.engine("rated"), ""},
			{wait{10, ""}, "The compressor pumps: that is when a belt slips."},
			{readTurns{"speed", "turns"}, "Measure from a distance."},
		},
		Readings: []Reading{turns, {
			ID: "speed", Title: "compressor speed over what its drive should give it", Dimension: circuit.Ratio, Form: Measured, Sense: Eye,
			Instrument: "speed counter", Sigma: 0.02, Access: v.access(v.compressor.ID),
		}},
	})
}

// lineOffFlow takes the lines between compressor and dryer off, one after the other from the compressor on.
func (v *vehicle) lineOffFlow() *Procedure {
	if v.dryer == nil {
		return nil
	}
	lines := v.way(v.compressor.Room("head"), v.dryer.Room("1"))
	if len(lines) == 0 {
		return nil
	}
	p := Procedure{
		ID: "line-off-flow", Title: "Flow with the discharge line off",
		About:   "What the compressor delivers into the open, and what of it comes through to the dryer.",
		Minutes: 2, Start: v.at.empty,
		Tools: []string{"flow meter for free air", "spanners", "gloves"},
		State: circuit.State{Engine: "idle", Compressor: "loaded", Park: "set", Pedal: "up"},
	}
	due := v.compressor.Value("displacement") * v.compressor.Value("drive_ratio") * v.circuit.Engine.Idle.SI
	feel := Judge{Half: 0.45 * due, Spread: 0.2, Log: true, Miss: 0.03, False: 0.03}
	from := v.compressor.Room("head")
	for _, l := range lines {
		end, near := "from", l.From
		if !v.joinedTo(from, l, l.From) {
			end, near = "to", l.To
		}
		at := v.nameOf(near.Component)
		p.Minutes += 4
		p.Steps = append(p.Steps,
			Step{lineOff{l.ID, l.Name, at, true}, ""},
			Step{v.engine("idle"), ""},
			Step{wait{20, ""}, ""},
			Step{readFlow{ids: []string{"flow", "delivers"}, places: []string{l.ID + "." + end}, as: l.ID,
				text: "Write down the flow out of the " + at + " where the " + l.Name + " was, and whether it blows strongly against a gloved hand held at some distance."}, ""},
			Step{v.engine("off"), ""},
			Step{lineOff{l.ID, l.Name, at, false}, ""},
			Step{beginAgain{}, ""},
		)
		hand := said("delivers", "air blows strongly out of the "+at+" with the "+l.Name+" off", l.ID, Hand, byHand, feel)
		hand.Dimension, hand.Access = circuit.Flow, v.access(l.ID)
		p.Readings = append(p.Readings, hand, Reading{
			ID: "flow", Title: "free air out of the " + at + " with the " + l.Name + " off, at idle", Place: l.ID, Dimension: circuit.Flow, Form: Measured, Sense: Eye,
			Instrument: "flow meter", Sigma: 0.05 * due, Access: v.access(l.ID),
		})
	}
	return v.procedure(p)
}

// joinedTo says whether one end of a line is the nearer one to a room: reached from it without the line.
func (v *vehicle) joinedTo(room string, l *circuit.Line, end circuit.PortRef) bool {
	for _, r := range v.plumbing.Reach(room, func(id, passage string) bool { return passage == circuit.Bore && id != l.ID }) {
		if r == v.circuit.Room(end) {
			return true
		}
	}
	return false
}
