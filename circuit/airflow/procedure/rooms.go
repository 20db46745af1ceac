package procedure

import (
	"fmt"
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// What service gauges and a recorder show that are fitted at valves and chambers, while the pedal is worked.

const recorder = "pressure recorder"

// recorderError is that of a time taken off a recorder's trace, s: 1 σ.
const recorderError = 0.02

// roomTap is a service gauge fitted at a place.
func roomTap(place, room, name string) tap {
	return tap{place: place, name: "service gauge at the " + name, room: room}
}

// readRooms: what service gauges show now, each for its own place.
type readRooms struct {
	id   string
	taps []tap
}

func (a readRooms) words(phrase) string {
	return "Write down what " + theTaps(a.taps) + " show" + s(a.taps) + "."
}

func (a readRooms) run(x *execution) error {
	for _, t := range a.taps {
		x.put(a.id, t.place, t.read(x.run))
	}
	return nil
}

func (readRooms) dangers() []danger { return nil }
func (readRooms) looksAt() sight    { return sight{} }
func (readRooms) still()            {}

// readApart: by how much one gauge shows more than its opposite: left over right, delivery under control.
type readApart struct {
	id    string
	pairs [][2]tap
}

func (a readApart) words(phrase) string {
	text := "Write down the differences: "
	for i, p := range a.pairs {
		if i > 0 {
			text += ", "
		}
		text += "the " + p[0].name + " over the " + p[1].name
	}
	return text + "."
}

func (a readApart) run(x *execution) error {
	for _, p := range a.pairs {
		x.put(a.id, p[0].place, p[0].read(x.run)-p[1].read(x.run))
	}
	return nil
}

func (readApart) dangers() []danger { return nil }
func (readApart) looksAt() sight    { return sight{} }
func (readApart) still()            {}

// A timing is what is read off a recorder's trace: the time from the first movement of the control until a level is passed.
type timing struct {
	id    string
	share float64   // of the pressure that is reached in the end, above the atmosphere
	level []float64 // or a level, Pa absolute, by place: infinite where the share counts. Nil: everywhere the share
}

// recordPedal works a control fast and reads times off the traces of a recorder: of all rooms together, so that it is done once.
type recordPedal struct {
	do      Action // the pedal, or a knob
	taps    []tap
	rising  bool
	seconds float64 // for which the recorder runs
	times   []timing
}

func (a recordPedal) words(f phrase) string {
	text := "Start the recorder. " + a.do.words(f) + " Stop the recorder after " + duration(a.seconds) + " and take off for each trace how long it took from the first movement of the hand or foot"
	for i, t := range a.times {
		if i > 0 {
			text += ", and"
		}
		switch {
		case t.level == nil:
			text += fmt.Sprintf(" to %.0f %% of where it ended", 100*t.share)
		case math.IsInf(slices.Max(t.level), 1):
			text += " to " + f.pressure(slices.Min(t.level)) + fmt.Sprintf(", behind a valve that keeps the pressure down to %.0f %% of where it ended", 100*t.share)
		case slices.Min(t.level) != slices.Max(t.level):
			text += " to where its spring pushes with all its force, " + f.pressure(slices.Min(t.level)) + " or more"
		default:
			text += " to " + f.pressure(t.level[0])
		}
	}
	return text + "."
}

// traced is how often the recorder looks, s.
const traced = 0.02

func (a recordPedal) run(x *execution) error {
	var times []float64
	traces := make([][]float64, len(a.taps))
	look := func(r *airflow.Run) {
		times = append(times, x.elapsed())
		for i, t := range a.taps {
			traces[i] = append(traces[i], r.Pressure(t.room))
		}
		if n := len(x.curves.Seconds); x.every > 0 && (n == 0 || x.elapsed() >= x.curves.Seconds[n-1]+x.every) {
			x.sample()
		}
	}
	look(x.run)
	if err := a.do.run(x); err != nil {
		return err
	}
	x.run.Record(traced, look)
	err := x.run.Advance(min(traceOut, a.seconds))
	x.run.Record(0, nil)
	if err == nil {
		err = x.run.Advance(a.seconds - min(traceOut, a.seconds))
	}
	if err != nil {
		return err
	}
	look(x.run)
	if t := x.stem(); t != nil && len(t.cuts) > 0 && t.cuts[len(t.cuts)-1] == a.seconds {
		x.leave(at(t.did, a.seconds), moment{})
	}
	if x.every > 0 {
		x.run.RecordSince(x.since, x.every, func(*airflow.Run) { x.sample() })
	}
	for _, t := range a.times {
		for i, tap := range a.taps {
			end := traces[i][len(times)-1]
			level := circuit.AtmospherePressure + t.share*(end-circuit.AtmospherePressure)
			if t.level != nil && !math.IsInf(t.level[i], 1) {
				level = t.level[i]
			}
			x.put(t.id, tap.place, crossing(times, traces[i], level, a.rising)-times[0])
		}
	}
	return nil
}

// traceOut is for how long a trace is kept as finely as it is, s: what takes longer has failed by any measure.
const traceOut = 6.0

func (a recordPedal) dangers() []danger { return a.do.dangers() }
func (recordPedal) looksAt() sight      { return sight{} }

// crossing is when a trace first passes a level; NaN where it never does. One that stands beyond it from the beginning has never
// been seen to pass it.
func crossing(at, trace []float64, level float64, rising bool) float64 {
	beyond := func(p float64) bool { return rising && p >= level || !rising && p <= level }
	for i := 1; i < len(at); i++ {
		if !beyond(trace[i-1]) && beyond(trace[i]) {
			return at[i-1] + (at[i]-at[i-1])*(level-trace[i-1])/(trace[i]-trace[i-1])
		}
	}
	return math.NaN()
}

// timedBy a recorder at a place.
func (v *vehicle) recorded(id, title string, t tap) Reading {
	return Reading{
		ID: id, Title: title, Place: t.place, Dimension: circuit.Time, Form: Measured, Sense: Watch, Instrument: recorder,
		Sigma: recorderError, Access: v.access(t.place),
	}
}

// chambers of a vehicle, in file order.
func (v *vehicle) chambers() []*circuit.Component {
	var out []*circuit.Component
	for _, c := range v.circuit.Components {
		if _, ok := c.Kind.Param("contact_at"); ok {
			out = append(out, c)
		}
	}
	return out
}

// keptDown says whether a valve keeps a chamber's pressure below what the foot valve or relay delivers. Quick releases and
// modulators may stand between the two.
func (v *vehicle) keptDown(c *circuit.Component) bool {
	on := func(id, passage string) bool {
		part := v.circuit.Component(id)
		return passage == circuit.Bore || passage == "inlet" && part != nil && slices.Contains(passedOn, part.Kind.Name)
	}
	return slices.ContainsFunc(v.circuit.Components, func(o *circuit.Component) bool {
		return (o.Kind.Name == "limiting-valve" || o.Kind.Name == "ratio-valve") && slices.Contains(v.plumbing.Reach(o.Room("2"), on), c.Room("service"))
	})
}

// passedOn are the kinds that hand the pressure that they get on to the brakes.
var passedOn = []string{"quick-release-valve", "anti-lock-modulator"}

// serviceTap is a gauge on a chamber's service side, springTap one on its spring side.
func (v *vehicle) serviceTap(c *circuit.Component) tap {
	return roomTap(c.ID, c.Room("service"), c.Name)
}

func (v *vehicle) springTap(c *circuit.Component) tap {
	return tap{place: c.ID, name: "service gauge on the spring side of the " + c.Name, room: c.Room("spring")}
}

func (v *vehicle) serviceTaps() []tap {
	var out []tap
	for _, c := range v.chambers() {
		out = append(out, v.serviceTap(c))
	}
	return out
}

// sides pairs what is left with what is right, by their ids.
func sides[T any](all []T, id func(T) string) [][2]T {
	var out [][2]T
	for _, l := range all {
		for _, r := range all {
			if other, ok := swapSide(id(l)); ok && id(r) == other {
				out = append(out, [2]T{l, r})
			}
		}
	}
	return out
}
