package procedure

import (
	"fmt"
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/limit"
)

// towing are the tests of a tractor with its trailer on: coupled, uncoupled, torn off; and the rounds by ear with the hand valve and
// with the trailer's supply shut.
func towing(v *vehicle) []*Procedure {
	if !v.brakes() || v.at.released == nil {
		return nil
	}
	var all []*Procedure
	if v.first("hand-control") != nil {
		all = append(all, v.listenHand())
	}
	if _, ok := v.trailerKnob(true); ok && v.first("coupling") != nil {
		all = append(all, v.listenTrailerOut(), v.trailerCoupled(), v.trailerUncoupled(), v.trailerTornOff())
	}
	return all
}

// lever of the trailer's hand control, all the way on or back.
type lever struct {
	control, name string
	on            bool
}

func (a lever) words(phrase) string {
	if a.on {
		return "Move the lever of the " + a.name + " all the way on and hold it there."
	}
	return "Let the lever of the " + a.name + " back."
}

func (a lever) run(x *execution) error  { return x.run.Set(a.control, share(a.on), 0.3) }
func (lever) dangers() []danger         { return []danger{airWorked} }
func (lever) looksAt() sight            { return sight{} }
func (a lever) sets() (string, float64) { return a.control, share(a.on) }
func (v *vehicle) lever(on bool) lever {
	c := v.first("hand-control")
	return lever{c.ID + ".lever", c.Name, on}
}
func (trailerKnob) looksAt() sight { return sight{} }

func (v *vehicle) listenHand() *Procedure {
	return v.listen(Procedure{
		ID: "listen-hand", Title: "Listen, hand valve applied",
		About: "Engine off, the trailer's hand control all the way on, pedal up: what is heard now and not with the lever back is the trailer's service air, or air that a double check lets back to the foot valve's exhaust.",
		Start: v.at.released,
		Tools: []string{"chocks"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "up", Hand: "applied"},
		Steps: []Step{
			{v.lever(true), "A second person holds it."},
			{wait{30, "for the sound of the application to die away"}, ""},
		},
	}, nil, 0)
}

func (v *vehicle) listenTrailerOut() *Procedure {
	out, _ := v.trailerKnob(false)
	return v.listen(Procedure{
		ID: "listen-trailer-out", Title: "Listen, trailer supply shut",
		About: "Engine off, park released, the trailer supply knob pulled out: the trailer brakes itself with its own air. What is heard now and not with the knob in leaks on the trailer's brakes or back into the tractor.",
		Start: v.at.released,
		Tools: []string{"chocks"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "up", Trailer: "out"},
		Steps: []Step{
			{out, ""},
			{wait{30, "for the sound of the exhaust to die away"}, ""},
		},
	}, nil, 0)
}

// couple or uncouple the trailer.
type couple struct {
	coupling *circuit.Component
	on       bool
	plugged  bool // hang the tractor's hoses on plugs
}

func (a couple) words(phrase) string {
	switch {
	case a.on:
		return "Couple the trailer's hoses again: supply to supply, control to control."
	case a.plugged:
		return "Uncouple both hoses of the trailer and hang the tractor's on dummy couplings with plugs, so that they hold."
	}
	return "Uncouple both hoses of the trailer, supply first, and keep clear of the blast."
}

func (a couple) run(x *execution) error {
	if err := x.run.Set(a.coupling.ID+".coupled", share(a.on), 0); err != nil {
		return err
	}
	if a.plugged {
		for _, port := range []string{"11", "12"} {
			if err := x.run.Plug(a.coupling.ID+"."+port, !a.on); err != nil {
				return err
			}
		}
	}
	return nil
}

func (couple) dangers() []danger { return []danger{lineOpen, blast, airWorked} }
func (couple) looksAt() sight    { return sight{} }

// trailerSprings are the spring brake chambers of the trailer.
func (v *vehicle) trailerSprings() []*circuit.Component {
	var out []*circuit.Component
	for _, c := range v.springs {
		if c.Place == "trailer" {
			out = append(out, c)
		}
	}
	return out
}

// trailerTanks are gauges on the reservoirs of the trailer.
func (v *vehicle) trailerTanks() []tap {
	var out []tap
	for _, r := range v.reservoirs {
		if v.whereabouts(r.room) == "trailer" {
			out = append(out, v.serviceGauge(r.room, r.name))
		}
	}
	return out
}

// trailerUncoupled takes the trailer away: what leaks on then is the tractor, and what the trailer loses now is its own.
func (v *vehicle) trailerUncoupled() *Procedure {
	const settle = 60
	coupling := v.first("coupling")
	out, _ := v.trailerKnob(false)
	in, _ := v.trailerKnob(true)
	tanks, springs := v.trailerTanks(), v.trailerSprings()
	p := Procedure{
		ID: "trailer-uncoupled", Title: "Leak-down with the trailer uncoupled",
		About:   "The tractor alone with its hoses on plugs, supply in, pedal down, beside the trailer alone on its own air. Whichever falls has the leak that showed when they were coupled.",
		Minutes: 6 + (settle+watched)/60, Start: v.at.released,
		Tools: []string{"dummy couplings with plugs", serviceGauge, stopwatch, "chocks for tractor and trailer", "pedal prop"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "down", Trailer: "uncoupled"},
		Steps: []Step{
			{out, ""},
			{wait{5, ""}, ""},
			{couple{coupling, false, true}, "The trailer stands on its springs: chock it all the same."},
			{in, "It fills the plugged hose only."},
			{v.pedal(true), "Use a pedal prop."},
			{wait{settle, "for the needles to settle"}, ""},
			{noteNeedles{"before"}, ""},
			{wait{watched, ""}, ""},
			{readFall{id: "fall", since: "before", taps: v.dash, perMinute: true}, ""},
		},
	}
	for _, t := range v.dash {
		p.Readings = append(p.Readings, v.rate("fall", "fall per minute on the "+t.name+", trailer uncoupled, pedal down", t, watched).withinAs(v, limit.LeakApplied, "truck"))
	}
	if len(tanks) > 0 {
		p.Steps = append(p.Steps, Step{readFall{id: "trailer-fall", since: "before", taps: tanks, perMinute: true}, ""})
		for _, t := range tanks {
			p.Readings = append(p.Readings, v.rate("trailer-fall", "fall per minute on the "+t.name+", trailer uncoupled", t, watched))
		}
	}
	if len(springs) > 0 {
		p.Steps = append(p.Steps, Step{readRods{id: "rod-out", chambers: idsOf(springs), names: namesOf(springs)}, ""})
		p.Readings = append(p.Readings, v.rodsSeen("rod-out", springs, "trailer uncoupled")...)
	}
	p.Steps = append(p.Steps, Step{v.pedal(false), ""}, Step{out, ""}, Step{couple{coupling, true, true}, ""})
	return v.procedure(p, tanks...)
}

func idsOf(parts []*circuit.Component) []string {
	out := make([]string, len(parts))
	for i, c := range parts {
		out[i] = c.ID
	}
	return out
}

// trailerTornOff opens the supply hose with the knob in, as when the trailer is lost on the road.
func (v *vehicle) trailerTornOff() *Procedure {
	const give, keep = 120, 60
	coupling := v.first("coupling")
	in, _ := v.trailerKnob(true)
	springs := v.trailerSprings()
	gladhand := coupling.ID + "." + "3"
	p := Procedure{
		ID: "trailer-torn-off", Title: "Trailer torn off",
		About:   "Both hoses open with the supply in, as when the trailer is lost: the supply must shut by itself, the trailer brake, and the tractor keep its air.",
		Minutes: 6 + keep/60, Start: v.at.released, every: 0.5,
		Tools: []string{"chocks for tractor and trailer"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "up", Trailer: "uncoupled"},
		Steps: []Step{
			{couple{coupling, false, false}, ""},
			{await{until: []condition{pops{in.control, in.name}}, within: give, mark: "pop"}, ""},
			{readHigher{id: "pressure", mark: "pop", when: "at that moment", taps: v.dash}, ""},
			{wait{keep, ""}, ""},
			{readNow{id: "keeps", taps: v.dash}, ""},
			{readFlow{ids: []string{"blows"}, places: []string{gladhand}, text: "Listen at the open hoses of the tractor: do they blow on?"}, ""},
		},
	}
	top := v.level("pressure", "pressure on the higher needle when the trailer supply shuts", v.dash[0]).within(v, limit.TornOffAt)
	top.Place, top.Also, top.Access = "", nil, 0
	p.Readings = append(p.Readings, top)
	for _, t := range v.dash {
		p.Readings = append(p.Readings, v.level("keeps", "what the "+t.name+" stands at a minute after the trailer was lost", t).within(v, limit.TractorKeeps))
	}
	b := said("blows", "the tractor's open hoses blow on", gladhand, Ear, byEar, HeardBy("off"))
	b.Dimension, b.Access = circuit.Flow, v.access(coupling.ID)
	p.Readings = append(p.Readings, b)
	if len(springs) > 0 {
		p.Steps = append(p.Steps, Step{readRods{id: "rod-out", chambers: idsOf(springs), names: namesOf(springs)}, ""})
		p.Readings = append(p.Readings, v.rodsSeen("rod-out", springs, "trailer lost")...)
	}
	p.Steps = append(p.Steps, Step{couple{coupling, true, false}, ""})
	return v.procedure(p)
}

// both knobs watched as the air is lost.
type bothPop struct {
	first, second pops // the park's and the trailer's
	within        float64
	marks         [2]string
}

func (a bothPop) words(phrase) string {
	return fmt.Sprintf("Watch the knobs of the %s and of the %s and note the higher needle as each pops out; give up after %s.", a.first.name, a.second.name, duration(a.within))
}

func (a bothPop) run(x *execution) error {
	deadline := x.run.Time() + a.within
	open := []pops{a.first, a.second}
	marks := []string{a.marks[0], a.marks[1]}
	x.marks[marks[0]], x.marks[marks[1]] = x.never(), x.never()
	for len(open) > 0 {
		var signs []airflow.Event
		for i := 0; i < len(open); {
			if ok, _ := open[i].holds(x); ok {
				x.marks[marks[i]] = x.moment()
				open, marks = append(open[:i:i], open[i+1:]...), append(marks[:i:i], marks[i+1:]...)
				continue
			}
			signs = append(signs, open[i].events(x)...)
			i++
		}
		left := deadline - x.run.Time()
		if len(open) == 0 || left <= 0 {
			break
		}
		if _, err := x.run.UntilAny(math.Max(left, 0), signs...); err != nil {
			return err
		}
	}
	return nil
}

func (bothPop) dangers() []danger { return []danger{airWorked} }
func (bothPop) looksAt() sight    { return sight{needles: true} }
