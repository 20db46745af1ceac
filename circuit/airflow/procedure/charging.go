package procedure

import (
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/limit"
)

// charging are the tests of making air: how fast, up to where, and from where again.
func charging(v *vehicle) []*Procedure {
	if !v.builds() {
		return nil
	}
	return []*Procedure{v.buildUp(), v.buildUpFromEmpty(), v.governorCutOut(), v.governorCutIn(), v.safetyValve()}
}

// lags is the judgement on which needle came last: most people see a lag of a few seconds.
var lags = Judge{Half: 5, Spread: 1.5, Miss: 0.02, False: 0.02}

func (v *vehicle) lagging(level float64) []Reading {
	var out []Reading
	if len(v.dash) < 2 {
		return nil
	}
	for _, t := range v.dash {
		r := said("lags", fmt.Sprintf("the %s lags behind at %.0f psi", t.name, level), t.place, Needle, dashGauge, lags)
		r.Dimension, r.Also, r.Gauge = circuit.Time, v.alsoAt(t), t.own()
		out = append(out, r)
	}
	return out
}

func (v *vehicle) buildUp() *Procedure {
	const give = 600
	return v.procedure(Procedure{
		ID: "build-up-85-100", Title: "Build-up from 85 to 100 psi",
		About:   "How long the compressor takes at rated speed, on the needle that comes last. Slow means little air made or much lost on the way; fast means less volume than there should be.",
		Minutes: 2, Start: v.at.low, every: 0.5,
		Tools: []string{stopwatch},
		State: circuit.State{Engine: "rated", Compressor: "loaded", Park: "set", Pedal: "up"},
		Steps: []Step{
			{v.engine("rated"), ""},
			{await{until: []condition{needles{v.dash, true, gauge(100), true}}, within: give, rising: true, mark: "full"}, "Start the stopwatch as the slower needle passes 85 psi."},
			{readClimb{time: "time", behind: behindOf(v), taps: v.dash, from: gauge(85), to: gauge(100), limit: give}, ""},
		},
		Readings: append([]Reading{timed("time", "time from 85 to 100 psi on the slower needle, at rated speed", 0.8*psi).within(v, limit.BuildUp85To100)}, v.lagging(100)...),
	})
}

// behindOf names the reading on which needle lags, where there is more than one.
func behindOf(v *vehicle) string {
	if len(v.dash) < 2 {
		return ""
	}
	return "lags"
}

func (v *vehicle) buildUpFromEmpty() *Procedure {
	const give = 1800
	return v.procedure(Procedure{
		ID: "build-up-from-empty", Title: "Build-up from empty",
		About:   "The whole charge at idle, up to cut-out. It weighs leaks against the compressor at another speed than the build-up from 85 to 100 psi does.",
		Minutes: 10, Start: v.at.empty, every: 1,
		Tools: []string{stopwatch},
		State: circuit.State{Engine: "idle", Compressor: "loaded", Park: "set", Pedal: "up"},
		Steps: []Step{
			{v.engine("idle"), ""},
			{startWatch{"start"}, ""},
			{await{until: []condition{needles{v.dash, true, gauge(90), true}, unloads{v}}, within: give, rising: true, mark: "ninety"}, ""},
			{readClimb{time: "time-50-90", behind: behindOf(v), taps: v.dash, from: gauge(50), to: gauge(90), limit: give}, ""},
			{await{until: []condition{unloads{v}}, within: give, rising: true, mark: "full"}, ""},
			{readSpan{id: "time", from: "start", to: "full", what: "it took from the start to the first cut-out"}, ""},
			{readReach{"time-80", v.dash, v.share(0.80 * v.cutOutSpan()), give}, ""},
			{readReach{"time-65", v.dash, v.share(0.65 * v.cutInSpan()), give}, ""},
			{readReach{"time-working", v.dash, v.share(v.cutInSpan()), give}, ""},
		},
		Readings: append([]Reading{
			timed("time-50-90", "time from 50 to 90 psi on the slower needle, at idle", 0.4*psi).within(v, limit.BuildUp50To90),
			timed("time", "time from empty to the first cut-out, at idle", 0.2*psi),
			timed("time-80", "time from empty to 80 % of cut-out on the slower needle, at idle", 0.2*psi).within(v, limit.BuildUpTo80),
			timed("time-65", "time from empty to 65 % of cut-in on the slower needle, at idle", 0.2*psi).within(v, limit.FillTo65),
			timed("time-working", "time from empty to cut-in on the slower needle, at idle", 0.2*psi).within(v, limit.FillToWorking),
		}, v.lagging(90)...),
	})
}

func (v *vehicle) governorCutOut() *Procedure {
	const give, listening = 900, 60
	p := Procedure{
		ID: "governor-cut-out", Title: "Governor cut-out",
		About:   "The pressure at which the compressor stops pumping, and how long the dryer blows then: a few seconds, up to half a minute as it dies away, are as it should be.",
		Minutes: 4, Start: v.at.low, every: 1,
		Tools: []string{stopwatch},
		State: circuit.State{Engine: "rated", Compressor: "unloaded", Park: "set", Pedal: "up"},
		Steps: []Step{
			// Not at idle: a vehicle that loses air on the way might never get there, and that is another test's business.
			{v.engine("rated"), ""},
			{await{until: []condition{unloads{v}}, within: give, rising: true, mark: "cut-out"}, ""},
			{readMark{id: "pressure", mark: "cut-out", when: "at that moment", taps: v.dash}, ""},
		},
	}
	for _, t := range v.dash {
		p.Readings = append(p.Readings, v.level("pressure", "cut-out pressure on the "+t.name, t).within(v, limit.CutOut).either())
	}
	if v.dryer != nil {
		p.Steps = append(p.Steps,
			Step{await{until: []condition{quiet{v.purge(), "purge port"}}, within: listening, mark: "quiet"}, ""},
			Step{readSpan{id: "purge", place: v.purge(), from: "cut-out", to: "quiet", what: "the purge port blew", most: listening}, ""},
		)
		r := timed("purge", "time that the purge port blows at cut-out", psi)
		r.Place, r.Sense, r.Sigma = v.purge(), Ear, 3
		p.Readings = append(p.Readings, r)
	}
	return v.procedure(p)
}

func (v *vehicle) governorCutIn() *Procedure {
	const give = 900
	kept := v.kept()
	if len(kept) == 0 {
		return nil
	}
	r := kept[0]
	t := *r.dash
	return v.procedure(Procedure{
		ID: "governor-cut-in", Title: "Governor cut-in",
		About:   "The pressure at which the compressor starts to pump again while a reservoir is bled slowly.",
		Minutes: 3, Start: v.at.idling, every: 1,
		State: circuit.State{Engine: "idle", Compressor: "loaded", Park: "set", Pedal: "up"},
		Steps: []Step{
			{await{until: []condition{stays{v}}, within: 300, mark: "unloaded"}, ""},
			{r.cock(0.12), "The supply reservoir follows it through its check valve."},
			{await{until: []condition{loads{v}}, within: give, mark: "cut-in"}, ""},
			{readMark{id: "pressure", mark: "cut-in", when: "at that moment", taps: []tap{t}}, ""},
			{r.cock(0), ""},
		},
		Readings: []Reading{v.level("pressure", "cut-in pressure on the "+t.name, t).within(v, limit.CutIn).either()},
	})
}

// stays: the compressor is unloaded. It is so at once on a vehicle that has just cut out, unless it has lost its air.
type stays struct{ v *vehicle }

func (stays) words(phrase) string { return "the compressor is unloaded" }

func (c stays) events(*execution) []airflow.Event {
	return []airflow.Event{{Latch: c.v.cutOut(), Value: true}}
}

func (c stays) holds(x *execution) (bool, error) { return x.run.Latch(c.v.cutOut()), nil }
