package procedure

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// What is read with other things than the needles of the starting taps: ears, hands, service gauges, a speed counter.

// readFlow: what blows or hisses where, in the state that the steps before have brought about. With while, it listens for so
// many seconds and takes what was last heard while that lasted.
type readFlow struct {
	ids     []string // readings that take the same value
	places  []string
	as      string // place of the readings where it is not the vent's own name
	text    string
	seconds float64
	while   func(*execution) bool
}

func (a readFlow) words(phrase) string { return a.text }

// An ear takes a moment to be sure.
func (a readFlow) run(x *execution) error {
	const step = 1.0
	if a.while == nil {
		if err := x.run.Advance(step); err != nil {
			return err
		}
	}
	for end := x.elapsed() + a.seconds; a.while != nil && x.elapsed() < end; {
		a.take(x)
		if err := x.run.Advance(step); err != nil {
			return err
		}
		if !a.while(x) {
			return nil
		}
	}
	a.take(x)
	return nil
}

// Air that is drawn in makes a sound too, but one that belongs there: it counts as none.
func (a readFlow) take(x *execution) {
	for _, place := range a.places {
		flow := math.Max(airflow.FreeAir(x.run.VentFlow(place)), 0)
		at := place
		if a.as != "" {
			at = a.as
		}
		for _, id := range a.ids {
			x.put(id, at, flow)
		}
	}
}

func (readFlow) dangers() []danger { return []danger{nearWheel, blast} }

// readBelow: how far a room is below the atmosphere.
type readBelow struct{ id, place, room, name string }

func (a readBelow) words(phrase) string {
	return "Write down what the vacuum gauge on the " + a.name + " shows."
}

func (a readBelow) run(x *execution) error {
	x.put(a.id, a.place, x.run.Pressure(circuit.Atmosphere)-x.run.Pressure(a.room))
	return nil
}

func (readBelow) dangers() []danger { return nil }

// readBeside: a service gauge, and how far it is above a dash gauge at the same place.
type readBeside struct {
	level, above, place string
	service, dash       tap
}

func (a readBeside) words(phrase) string {
	return "Write down what the " + a.service.name + " shows and what the " + a.dash.name + " shows."
}

func (a readBeside) run(x *execution) error {
	p := a.service.read(x.run)
	x.put(a.level, a.place, p)
	x.put(a.above, a.place, p-a.dash.read(x.run))
	return nil
}

func (readBeside) dangers() []danger { return nil }

// readTurns: the share of the turns that are due to the compressor that it makes.
type readTurns struct{ share, turns string }

func (readTurns) words(phrase) string {
	return "Write down the compressor's speed over what its drive should give it, and whether it turns with the engine."
}

func (a readTurns) run(x *execution) error {
	t := x.run.Turns(x.v.compressor.ID) / (x.run.Get(airflow.Engine) * x.v.compressor.Value("drive_ratio"))
	x.put(a.share, "", t)
	x.put(a.turns, "", t)
	return nil
}

func (readTurns) dangers() []danger { return []danger{engineRuns} }

// readStop: what a needle showed when the blowing at a port stopped; never, where it did not blow, or blew on.
type readStop struct {
	id, blew, port, mark string
	tap                  tap
}

func (a readStop) words(phrase) string {
	return "Write down what the " + a.tap.name + " showed then, if it had blown at all."
}

func (a readStop) run(x *execution) error {
	i, _ := x.p.Reading(a.blew, a.port)
	m := x.at(a.mark)
	if x.p.Readings[i].Judge.Says(x.values[i]) < 0.5 {
		m = x.never()
	}
	x.put(a.id, a.tap.place, m.taps[x.index(a.tap)])
	return nil
}

func (readStop) dangers() []danger { return nil }

// waitOut waits until so many seconds after a moment.
type waitOut struct {
	mark    string
	seconds float64
}

func (a waitOut) words(phrase) string {
	return "Watch the needles until " + duration(a.seconds) + " have gone by in all."
}

func (a waitOut) run(x *execution) error {
	return x.run.Advance(math.Max(0, x.at(a.mark).time+a.seconds-x.elapsed()))
}

func (waitOut) dangers() []danger { return nil }
