package procedure

import (
	"slices"

	"airpath/circuit/airflow"
)

// sight is what an action looks at that may be wrong while the air is as it should be. With faults it looks at what no air
// tells: linings, drums, water, oil.
type sight struct{ needles, signals, rods, faults bool }

// anything of that differs; faulty says that anything at all is wrong with the vehicle.
func (s sight) anything(d *airflow.Difference, faulty bool) bool {
	return s.needles && d.Needles || s.signals && d.Signals || s.rods && d.Rods || s.faults && faulty
}

// An onlooker says what it looks at. An action that does not say is taken to look at everything.
type onlooker interface{ looksAt() sight }

func sightOf(a Action) sight {
	if o, ok := a.(onlooker); ok {
		return o.looksAt()
	}
	return sight{true, true, true, true}
}

// Hands and clocks look at nothing.
func (runEngine) looksAt() sight  { return sight{} }
func (pedal) looksAt() sight      { return sight{} }
func (knob) looksAt() sight       { return sight{} }
func (knobHeld) looksAt() sight   { return sight{} }
func (cock) looksAt() sight       { return sight{} }
func (lineOff) looksAt() sight    { return sight{} }
func (fitGauge) looksAt() sight   { return sight{} }
func (screwOn) looksAt() sight    { return sight{} }
func (lookOver) looksAt() sight   { return sight{} }
func (beginAgain) looksAt() sight { return sight{} }
func (filterOut) looksAt() sight  { return sight{} }
func (wait) looksAt() sight       { return sight{} }
func (waitOut) looksAt() sight    { return sight{} }

// Ears, service gauges and counters are taken to be right.
func (drained) looksAt() sight     { return sight{} }
func (readFlow) looksAt() sight    { return sight{} }
func (readBelow) looksAt() sight   { return sight{} }
func (readService) looksAt() sight { return sight{} }
func (readTurns) looksAt() sight   { return sight{} }

// Whoever marks a moment looks at the needles.
func (startWatch) looksAt() sight  { return sight{needles: true} }
func (noteNeedles) looksAt() sight { return sight{needles: true} }
func (readMark) looksAt() sight    { return sight{needles: true} }
func (readHigher) looksAt() sight  { return sight{needles: true} }
func (readNow) looksAt() sight     { return sight{needles: true} }
func (readFall) looksAt() sight    { return sight{needles: true} }
func (readDip) looksAt() sight     { return sight{needles: true} }
func (readClimb) looksAt() sight   { return sight{needles: true} }
func (readSpan) looksAt() sight    { return sight{needles: true} }
func (readCheck) looksAt() sight   { return sight{needles: true} }
func (readBeside) looksAt() sight  { return sight{needles: true} }
func (readStop) looksAt() sight    { return sight{needles: true} }

func (readLit) looksAt() sight    { return sight{signals: true} }
func (readWarned) looksAt() sight { return sight{needles: true, signals: true} }
func (readRods) looksAt() sight   { return sight{rods: true} }

func (a await) looksAt() sight {
	return sight{needles: true, signals: slices.ContainsFunc(a.until, func(c condition) bool { _, lamp := c.(lights); return lamp })}
}

// plotter is an action that reads from curves, which have to be recorded for it.
type plotter interface{ plots() }

func (readClimb) plots() {}
func (readDip) plots()   {}

func plots(steps []Step) bool {
	return slices.ContainsFunc(steps, func(s Step) bool { _, ok := s.Do.(plotter); return ok })
}
