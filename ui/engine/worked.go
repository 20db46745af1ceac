package engine

import (
	"fmt"
	"math"
	"slices"
	"time"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// A Worked vehicle is one that somebody works: its controls, its faults, its time that runs, stands or goes back. Beside a
// vehicle with faults a healthy one is carried along, with the same deeds at the same times. It is for one goroutine; Live
// gives it one of its own.
type Worked struct {
	network *airflow.Network
	index   *airflow.Index
	now     *airflow.Run
	healthy *airflow.Run // nil until there was a fault
	faults  []airflow.Fault

	line   timeline
	curves curves
	water  water

	begun  string // the deed by which this life of the vehicle began, in words; "" for the first
	over   []life // those before it
	undone []life // those after it that were undone, the next one last

	playing bool
	pace    float64 // seconds of the vehicle for each second of the clock
	actual  float64 // the pace that was kept of late
	trouble string

	last   string // the control that was moved last, for deeds that go on
	lastAt time.Time
	seq    uint64
	did    uint64
	glance airflow.Glance
}

// Paces of the clock, slowest first.
var Paces = []float64{0.1, 0.25, 0.5, 1, 2, 5, 10, 30, 60}

// NewWorked starts a vehicle: charged, engine idling, park set.
func NewWorked(n *airflow.Network) (*Worked, error) {
	w := &Worked{network: n, index: n.Index(), pace: 1}
	var err error
	if w.now, err = n.Start(nil, airflow.Scatter{}); err != nil {
		return nil, err
	}
	if w.water, err = newWater(n); err != nil {
		return nil, err
	}
	w.curves = newCurves(n)
	if err := w.Begin(true); err != nil {
		return nil, err
	}
	return w, nil
}

// chargingPatience is how long a vehicle may take to be charged at rated speed, s.
const chargingPatience = 900

// charge pumps until the compressor is unloaded, and lets the purge end with the engine idling.
func (w *Worked) charge() error {
	c := w.network.Circuit()
	if len(w.network.Pumps()) == 0 {
		return nil
	}
	set := func(control string, v float64) error { return w.now.Set(control, v, 0) }
	if err := set(airflow.Key, 1); err != nil {
		return err
	}
	if err := set(airflow.Engine, c.Engine.Rated.SI); err != nil {
		return err
	}
	for w.now.Time() < chargingPatience {
		if err := w.now.Advance(2); err != nil {
			return err
		}
		w.now.Glance(&w.glance)
		if w.now.Time() > 10 && !w.pumps(&w.glance) {
			break
		}
	}
	if err := set(airflow.Engine, c.Engine.Idle.SI); err != nil {
		return err
	}
	return w.now.Advance(60)
}

// pumps says whether any compressor delivers.
func (w *Worked) pumps(g *airflow.Glance) bool {
	for _, i := range w.water.pumpWays {
		if g.Flow[i] > 1e-5 {
			return true
		}
	}
	return false
}

// put makes both runs what they are with these faults, in a state.
func (w *Worked) put(faults []airflow.Fault, now, healthy *airflow.Snapshot) error {
	if err := w.now.Restart(faults, airflow.Scatter{}); err != nil {
		return err
	}
	w.now.Restore(now)
	if !slices.Equal(w.faults, faults) {
		if err := w.water.faults(w.network, faults); err != nil {
			return err
		}
	}
	w.faults = faults
	if len(faults) == 0 {
		return nil
	}
	if w.healthy == nil {
		var err error
		if w.healthy, err = w.network.Start(nil, airflow.Scatter{}); err != nil {
			return err
		}
	}
	if healthy == nil {
		healthy = now
	}
	w.healthy.Restore(healthy)
	return nil
}

// runs are the vehicle and, where it has faults, the healthy one.
func (w *Worked) runs() []*airflow.Run {
	if len(w.faults) == 0 {
		return []*airflow.Run{w.now}
	}
	return []*airflow.Run{w.now, w.healthy}
}

// goingOn is how soon the same control must be moved again for it to be the same deed.
const goingOn = 700 * time.Millisecond

// A Move of a control to a value, in so many seconds.
type Move struct {
	Control     string
	Value, Over float64
}

// Set moves a control to a value in so many seconds. At says when, on the clock of the person: what is moved on without a
// stop is one deed.
func (w *Worked) Set(control string, value, over float64, at time.Time, words string) {
	w.SetAll([]Move{{control, value, over}}, at, words)
}

// SetAll moves several controls, as one deed.
func (w *Worked) SetAll(moves []Move, at time.Time, words string) {
	moves = slices.DeleteFunc(slices.Clone(moves), func(m Move) bool { return math.Abs(w.now.Get(m.Control)-m.Value) < 1e-9 })
	if len(moves) == 0 {
		return
	}
	last := moves[len(moves)-1].Control
	same := len(moves) == 1 && w.last == last && at.Sub(w.lastAt) < goingOn && w.line.atEnd()
	w.cut()
	for _, m := range moves {
		for _, r := range w.runs() {
			if err := r.Set(m.Control, m.Value, m.Over); err != nil {
				w.trouble = err.Error()
				return
			}
		}
	}
	w.last, w.lastAt = last, at
	if !same {
		w.take(words)
		return
	}
	m := w.moment("")
	m.input = true
	w.line.goOn(m)
}

// SetFaults makes these the faults that the vehicle has.
func (w *Worked) SetFaults(faults []airflow.Fault, words string) {
	faults = slices.Clone(faults)
	for i := range faults {
		if mode, err := airflow.ModeOf(w.Circuit(), faults[i]); err == nil && math.IsNaN(faults[i].Severity) {
			faults[i].Severity = mode.Severity.Typical
		}
	}
	if slices.Equal(faults, w.faults) {
		return
	}
	w.cut()
	old, now := w.faults, w.now.Snapshot()
	healthy := now
	if len(old) > 0 {
		healthy = w.healthy.Snapshot()
	}
	if err := w.put(faults, now, healthy); err != nil {
		w.trouble = err.Error()
		if err := w.put(old, now, healthy); err != nil {
			w.trouble = err.Error()
		}
		return
	}
	w.water.weather(w.water.temperature, w.water.humidity)
	w.last = ""
	w.take(words)
}

// SetWeather changes what the compressor draws in: temperature in K, humidity as a share of saturation.
func (w *Worked) SetWeather(temperature, humidity float64, words string) {
	w.cut()
	w.water.weather(temperature, humidity)
	w.last = ""
	w.take(words)
}

// Play lets time run, or stand.
func (w *Worked) Play(on bool) {
	if on && !w.playing {
		w.trouble = ""
	}
	w.playing = on
}

// Pace sets how fast time runs.
func (w *Worked) Pace(p float64) { w.pace = min(max(p, Paces[0]), Paces[len(Paces)-1]) }

// Step lets some time go by at once, and then stand.
func (w *Worked) Step(seconds float64) {
	w.playing = false
	w.Advance(seconds, time.Time{})
}

// Advance lets the vehicle's time go by, at the latest until a deadline of the clock (zero: none), and says how much of it
// did.
func (w *Worked) Advance(seconds float64, deadline time.Time) float64 {
	if seconds <= 0 {
		return 0
	}
	w.cut()
	begin := w.now.Time()
	end := begin + seconds
	for w.now.Time() < end-1e-9 {
		if !w.advanceTo(min(w.curves.next(w.now.Time()), w.now.Time()+mostAtOnce, end)) {
			break
		}
		if !deadline.IsZero() && time.Now().After(deadline) {
			break
		}
	}
	return w.now.Time() - begin
}

// mostAtOnce is how long a stretch may be for which the flows at its end stand, s.
const mostAtOnce = 0.5

// advanceTo goes to a time no further than the next sample.
func (w *Worked) advanceTo(t float64) bool {
	from := w.now.Time()
	for _, r := range w.runs() {
		if err := r.Advance(max(0, t-r.Time())); err != nil {
			w.trouble = err.Error()
			w.playing = false
			return false
		}
	}
	w.now.Glance(&w.glance)
	w.water.count(w, &w.glance, w.now.Time()-from)
	if w.curves.due(w.now.Time()) {
		w.sample()
	}
	if w.line.due(w.now.Time()) {
		w.take("")
	}
	return true
}

func (w *Worked) sample() {
	w.now.Glance(&w.glance)
	var healthy *airflow.Run
	if len(w.faults) > 0 {
		healthy = w.healthy
	}
	w.curves.sample(w.now.Time(), w.now, healthy)
}

func (w *Worked) moment(words string) moment {
	m := moment{t: w.now.Time(), now: w.now.Snapshot(), faults: w.faults, water: w.water.tally.clone(), deed: words, input: words != ""}
	if len(w.faults) > 0 {
		m.healthy = w.healthy.Snapshot()
	}
	return m
}

// take puts the present moment on the time line.
func (w *Worked) take(words string) {
	if words != "" {
		w.did++
	}
	w.line.append(w.moment(words))
}

// cut forgets what lies after the present moment: from here on it goes otherwise.
func (w *Worked) cut() {
	w.undone = nil
	if w.line.cut() {
		w.curves.cut(w.now.Time())
	}
}

// Seek goes to a time on the time line. Deeds that were done by then are done.
func (w *Worked) Seek(t float64) {
	w.leave()
	t = min(max(t, w.line.begin()), w.line.end())
	w.goTo(w.line.at(t), t)
}

// leave takes the present moment down, where nothing has been taken down yet this late, so that one can come back to it.
func (w *Worked) leave() {
	w.playing = false
	w.takeDown()
}

func (w *Worked) takeDown() {
	if w.line.atEnd() && w.now.Time() > w.line.end() {
		w.take("")
	}
}

// goTo restores the moment of an index and goes on from there to a time.
func (w *Worked) goTo(i int, t float64) {
	w.did++
	w.trouble, w.last = "", ""
	m := &w.line.moments[i]
	if err := w.put(m.faults, m.now, m.healthy); err != nil {
		w.trouble = err.Error()
		return
	}
	w.water.tally = m.water.clone()
	w.line.here = i
	for _, r := range w.runs() {
		if err := r.Advance(max(0, t-r.Time())); err != nil {
			w.trouble = err.Error()
			return
		}
	}
}

// Frame takes down what can be seen now.
func (w *Worked) Frame() *Frame {
	w.seq++
	w.now.Glance(&w.glance)
	f := &Frame{
		Seq: w.seq, Did: w.did, Network: w.network, Now: w.glance.Clone(), Faults: w.faults, Playing: w.playing, Pace: w.pace, Actual: w.actual, Trouble: w.trouble,
		Begin: w.line.begin(), End: max(w.line.end(), w.now.Time()), Deeds: w.line.deeds(), Curves: w.curves.frame(), Water: w.water.frame(max(2, w.pace)),
	}
	if len(w.faults) > 0 {
		w.healthy.Glance(&w.glance)
		f.Healthy = w.glance.Clone()
	}
	f.CanUndo, f.CanRedo = w.canUndo(), w.canRedo()
	return f
}

// Circuit that is worked.
func (w *Worked) Circuit() *circuit.Circuit { return w.network.Circuit() }

func (w *Worked) String() string {
	return fmt.Sprintf("%s at %.2f s", w.Circuit().Name, w.now.Time())
}
