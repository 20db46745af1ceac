package procedure

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// await waits until the first of some conditions holds, at most within seconds, and keeps the moment under a name. Where
// none holds in time, the moment is none: what is read from it was never reached.
type await struct {
	until  []condition
	within float64 // s
	rising bool    // give up, too, when no needle rises any more
	mark   string
}

// Nobody goes on waiting for a needle that stands still: one that has risen by less than this for this long.
const (
	stillRise = 1 * circuit.PSI
	stillFor  = 60.0 // s
)

func (a await) words(f phrase) string {
	conditions := make([]string, len(a.until))
	for i, c := range a.until {
		conditions[i] = c.words(f)
	}
	text := "Wait until " + list(conditions, "or") + "; give up after " + duration(a.within)
	if a.rising {
		text += ", or when no needle has risen by " + f.span(stillRise) + " for a minute"
	}
	return text + "."
}

func (await) dangers() []danger { return nil }

// between is how often a person looks who waits for what gives no sign, s.
const between = 2.0

// awaiting is how far a wait has come.
type awaiting struct {
	since    float64 // s of its history, of a wait for time
	deadline float64 // by the run's time
	risen    moment  // when a needle was last seen to have risen
	looked   bool    // at least once
}

func (a await) run(x *execution) error {
	t := x.stem()
	if x.waiting == nil && t != nil && t.node != "" {
		if n, ok := x.take(t.node); ok {
			x.marks[a.mark] = n.momentOf(x)
			return nil
		}
	}
	w := awaiting{deadline: x.run.Time() + a.within, risen: x.moment()}
	if x.waiting != nil {
		w, x.waiting = *x.waiting, nil
	}
	if err := a.follow(x, w); err != nil {
		return err
	}
	if t != nil && t.node != "" {
		x.leave(t.node, x.marks[a.mark])
	}
	return nil
}

// follow the needles from where a wait has come to.
func (a await) follow(x *execution, w awaiting) error {
	left := func() float64 { return math.Max(w.deadline-x.run.Time(), 0) }
	for ; ; w.looked = true {
		if w.looked {
			so := w
			x.chart(a, &so)
		}
		// What gives a sign is run up to exactly; the rest is looked at now and then.
		var signs []airflow.Event
		span := left()
		if a.rising {
			span = math.Min(span, stillFor/4)
		}
		blind := false
		for _, c := range a.until {
			events := c.events(x)
			signs = append(signs, events...)
			blind = blind || len(events) == 0
		}
		if blind {
			span = math.Min(span, between)
		}
		if len(signs) > 0 {
			if _, err := x.run.UntilAny(span, signs...); err != nil {
				return err
			}
		} else if w.looked {
			if err := x.run.Advance(span); err != nil {
				return err
			}
		}
		now := x.moment()
		for _, c := range a.until {
			ok, err := c.holds(x)
			if err != nil {
				return err
			}
			if ok {
				x.marks[a.mark] = now
				x.sample()
				return nil
			}
		}
		if x.rises(now, w.risen) {
			w.risen = now
		}
		if left() == 0 || a.rising && now.time-w.risen.time >= stillFor {
			x.marks[a.mark] = x.never()
			return nil
		}
	}
}

// rises says whether any of the driver's needles has clearly risen since a moment.
func (x *execution) rises(now, since moment) bool {
	for i, t := range x.taps {
		if t.gauge && now.taps[i] >= since.taps[i]+stillRise {
			return true
		}
	}
	return false
}

// A condition is something that a person can see or hear.
type condition interface {
	words(phrase) string
	// events are what the simulator may run to at once: the condition may hold when one of them comes, and not before. None
	// means that it has to look now and then.
	events(*execution) []airflow.Event
	// holds may let a moment pass to make sure.
	holds(*execution) (bool, error)
}

// needles reach a level: all of them, or the first.
type needles struct {
	which  []tap
	all    bool
	level  float64 // Pa absolute
	rising bool
}

func (c needles) words(f phrase) string {
	names := make([]string, len(c.which))
	for i, t := range c.which {
		names[i] = "the " + t.name
	}
	verb := map[bool]string{true: "reaches", false: "has fallen to"}[c.rising]
	switch {
	case len(names) == 1:
		return names[0] + " " + verb + " " + f.pressure(c.level)
	case c.all:
		verb = map[bool]string{true: "reach", false: "have fallen to"}[c.rising]
		return "all needles " + verb + " " + f.pressure(c.level)
	}
	return "the first needle " + verb + " " + f.pressure(c.level)
}

func (c needles) short(x *execution) (missing []tap) {
	for _, t := range c.which {
		p := t.read(x.run)
		if c.rising && p < c.level-needleSlack || !c.rising && p > c.level+needleSlack {
			missing = append(missing, t)
		}
	}
	return missing
}

// needleSlack is less than can be seen on a dial, and more than the solver's tolerance for events.
const needleSlack = 20.0 // Pa

func (c needles) holds(x *execution) (bool, error) {
	missing := len(c.short(x))
	return missing == 0 || !c.all && missing < len(c.which), nil
}

func (c needles) events(x *execution) []airflow.Event {
	missing := c.short(x)
	if c.all && len(missing) > 1 {
		missing = missing[:1]
	}
	var out []airflow.Event
	for _, t := range missing {
		e := airflow.Event{Level: c.level, Rising: c.rising}
		if t.gauge {
			e.Gauge = t.place
		} else {
			e.Room = t.room
		}
		out = append(out, e)
	}
	return out
}

// unloads: the compressor stops pumping at cut-out, or the dryer blows its purge, which is how a person knows.
type unloads struct{ v *vehicle }

func (unloads) words(phrase) string {
	return "the compressor unloads (the dryer purges and the needles stop rising)"
}

func (c unloads) events(x *execution) []airflow.Event {
	if x.run.Latch(c.v.cutOut()) {
		return nil // it needs another look
	}
	return []airflow.Event{{Latch: c.v.cutOut(), Value: true}}
}

// A compressor that has never built anything up has not been heard to unload either.
const builtUp = circuit.AtmospherePressure + 40*circuit.PSI

func (c unloads) holds(x *execution) (bool, error) {
	if !x.run.Latch(c.v.cutOut()) || c.v.highest(x.run) < builtUp {
		return false, nil
	}
	if err := x.run.Advance(second); err != nil { // the unloader line fills, and a person looks twice
		return false, err
	}
	return !c.v.pumping(x.run) || c.v.purging(x.run), nil
}

// second look, s.
const second = 1.5

// loads: the compressor pumps again at cut-in.
type loads struct{ v *vehicle }

func (loads) words(phrase) string { return "the compressor loads again (the needles rise)" }

func (c loads) events(x *execution) []airflow.Event {
	if !x.run.Latch(c.v.cutOut()) {
		return nil
	}
	return []airflow.Event{{Latch: c.v.cutOut(), Value: false}}
}

func (c loads) holds(x *execution) (bool, error) {
	if x.run.Latch(c.v.cutOut()) {
		return false, nil
	}
	if err := x.run.Advance(second); err != nil {
		return false, err
	}
	return c.v.pumping(x.run), nil
}

// pumping: the compressor does a fair part of the work that is due at its speed.
func (v *vehicle) pumping(r *airflow.Run) bool {
	due := v.compressor.Value("displacement") * v.compressor.Value("drive_ratio") * r.Get(airflow.Engine) * airflow.ReferenceDensity
	return due > 0 && r.PassageFlow(circuit.Passage(v.compressor.ID, "pump")) > 0.05*due
}

// purging: more air comes out of the purge port than a leak would let out.
func (v *vehicle) purging(r *airflow.Run) bool {
	const blow = 20e-3 / 60 // m³/s
	return v.dryer != nil && airflow.FreeAir(r.VentFlow(v.purge())) > blow
}

func (v *vehicle) highest(r *airflow.Run) float64 {
	p := 0.0
	for _, t := range v.dash {
		p = math.Max(p, t.read(r))
	}
	return p
}

// lights: a lamp comes on or a buzzer sounds.
type lights struct{ sink *circuit.Component }

func (c lights) words(phrase) string {
	if c.sink.Kind.Name == "buzzer" {
		return "the " + c.sink.Name + " sounds"
	}
	return "the " + c.sink.Name + " comes on"
}

func (c lights) events(*execution) []airflow.Event {
	return []airflow.Event{{Lamp: c.sink.ID, Value: true}}
}

func (c lights) holds(x *execution) (bool, error) { return x.run.Lit(c.sink.ID), nil }

// pops: a control springs back by itself.
type pops struct{ control, name string }

func (c pops) words(phrase) string { return "the knob of the " + c.name + " pops out" }

func (c pops) events(*execution) []airflow.Event {
	return []airflow.Event{{Trip: c.control}}
}

func (c pops) holds(x *execution) (bool, error) { return x.run.Tripped(c.control), nil }

// quiet: the blowing at a place has stopped.
type quiet struct{ place, name string }

// hush is the flow below which nobody hears anything, engine off: see Ear.
const hush = 0.2e-3 / 60 * airflow.ReferenceDensity // kg/s

func (c quiet) words(phrase) string { return "the blowing at the " + c.name + " stops" }

func (c quiet) events(*execution) []airflow.Event {
	return []airflow.Event{{Vent: c.place, Level: hush}}
}

func (c quiet) holds(x *execution) (bool, error) { return x.run.VentFlow(c.place) <= 1.01*hush, nil }
