package procedure

import (
	"math"
	"strings"
)

// What is read: each action puts values, and says what to write down.

// noteNeedles keeps what the needles show now under a name.
type noteNeedles struct{ mark string }

func (noteNeedles) words(phrase) string { return "Write down what the needles show." }

func (a noteNeedles) run(x *execution) error { x.marks[a.mark] = x.moment(); return nil }

func (noteNeedles) dangers() []danger { return nil }

// readMark: what needles showed at a moment.
type readMark struct {
	id, mark, when string
	taps           []tap
}

func (a readMark) words(phrase) string {
	return "Write down what " + theTaps(a.taps) + " showed " + a.when + "."
}

func (a readMark) run(x *execution) error {
	for _, t := range a.taps {
		x.put(a.id, t.place, x.at(a.mark).taps[x.index(t)])
	}
	return nil
}

func (readMark) dangers() []danger { return nil }

// readHigher: what the higher of some needles showed at a moment.
type readHigher struct {
	id, mark, when string
	taps           []tap
}

func (a readHigher) words(phrase) string {
	if len(a.taps) == 1 {
		return "Write down what " + theTaps(a.taps) + " showed " + a.when + "."
	}
	return "Write down what the higher needle showed " + a.when + "."
}

func (a readHigher) run(x *execution) error {
	high := math.NaN()
	for _, t := range a.taps {
		if p := x.at(a.mark).taps[x.index(t)]; !(p <= high) {
			high = p
		}
	}
	x.put(a.id, "", high)
	return nil
}

func (readHigher) dangers() []danger { return nil }

// readNow: what needles show now.
type readNow struct {
	id   string
	taps []tap
}

func (a readNow) words(phrase) string {
	return "Write down what " + theTaps(a.taps) + " show" + s(a.taps) + "."
}

func (a readNow) run(x *execution) error {
	for _, t := range a.taps {
		x.put(a.id, t.place, t.read(x.run))
	}
	return nil
}

func (readNow) dangers() []danger { return nil }

// readFall: how far needles have fallen since a moment, or how fast. Extra readings may take the same value.
type readFall struct {
	id, since string
	also      []string
	taps      []tap
	perMinute bool
}

func (a readFall) words(phrase) string {
	if a.perMinute {
		return "Write down how far " + theTaps(a.taps) + " " + have(a.taps) + " fallen since, and divide by the minutes."
	}
	return "Write down how far " + theTaps(a.taps) + " " + have(a.taps) + " fallen since."
}

func (a readFall) run(x *execution) error {
	before, now := x.at(a.since), x.moment()
	for _, t := range a.taps {
		i := x.index(t)
		fall := before.taps[i] - now.taps[i]
		if a.perMinute {
			fall /= now.time - before.time // SI: per second
		}
		for _, id := range append([]string{a.id}, a.also...) {
			x.put(id, t.place, fall)
		}
	}
	return nil
}

func (readFall) dangers() []danger { return nil }

// readDip: how far needles have dipped below what they showed at a moment.
type readDip struct {
	id, since string
	taps      []tap
}

func (a readDip) words(phrase) string {
	return "Write down how far " + theTaps(a.taps) + " dipped at most."
}

func (a readDip) run(x *execution) error {
	before := x.at(a.since)
	for _, t := range a.taps {
		i := x.index(t)
		x.put(a.id, t.place, before.taps[i]-x.curves.lowest(i, before.time))
	}
	return nil
}

func (readDip) dangers() []danger { return nil }

// readClimb: how long the needle that is behind took from one level to another, and how far it was behind.
type readClimb struct {
	time, behind string // reading ids; behind "" for none
	taps         []tap
	from, to     float64
	since        string // a moment; "" for the first step
	limit        float64
}

func (a readClimb) words(f phrase) string {
	text := "Write down how long the needle that came last took from " + f.pressure(a.from) + " to " + f.pressure(a.to)
	if a.behind != "" && len(a.taps) > 1 {
		text += ", which needle that was, and how far it lagged"
	}
	return text + "."
}

// The needle that comes last is timed from its own passing of the lower level; one that never gets there has never been
// timed, and lags for as long as anybody waited.
func (a readClimb) run(x *execution) error {
	after := 0.0
	if a.since != "" {
		after = x.at(a.since).time
	}
	ends := make([]float64, len(a.taps))
	last, took := math.Inf(-1), math.NaN()
	for i, t := range a.taps {
		k := x.index(t)
		ends[i] = x.curves.crosses(k, a.to, after)
		if math.IsNaN(ends[i]) {
			ends[i] = math.Inf(1)
		}
		if ends[i] > last {
			last, took = ends[i], ends[i]-x.curves.crosses(k, a.from, after)
		}
	}
	if math.IsInf(last, 1) {
		took = math.NaN()
	}
	x.put(a.time, "", took)
	if a.behind != "" {
		for i, t := range a.taps {
			x.put(a.behind, t.place, behindOthers(ends, i, a.limit))
		}
	}
	return nil
}

// behindOthers is how long after the first of the others a needle got somewhere, negative where it was there before them: a needle that
// reads a little high takes as much from its lag as one that reads a little low adds to it.
func behindOthers(ends []float64, i int, limit float64) float64 {
	first := math.Inf(1)
	for j, end := range ends {
		if j != i {
			first = math.Min(first, end)
		}
	}
	if math.IsInf(first, 1) && math.IsInf(ends[i], 1) {
		return 0
	}
	return math.Max(-limit, math.Min(limit, ends[i]-first))
}

func (readClimb) dangers() []danger { return nil }

// readReach: when the last needle first came to a level, from the first step on.
type readReach struct {
	id    string
	taps  []tap
	level float64 // Pa absolute
	limit float64 // s for which anybody would wait
}

func (a readReach) words(f phrase) string {
	return "Write down how long it took until the slower needle came to " + f.pressure(a.level) + "."
}

func (a readReach) run(x *execution) error {
	last := 0.0
	for _, t := range a.taps {
		last = math.Max(last, x.curves.crosses(x.index(t), a.level, 0)) // NaN where one never does
	}
	x.put(a.id, "", last)
	return nil
}

func (readReach) dangers() []danger { return nil }
func (readReach) looksAt() sight    { return sight{needles: true} }
func (readReach) plots()            {}

// readSpan: the time between two moments.
type readSpan struct {
	id, place, from, to string
	what                string // "it took from the start to the first cut-out"
	most                float64
}

func (a readSpan) words(phrase) string { return "Write down how long " + a.what + "." }

// A span whose end never came is as long as was waited, where most says how long; else it was never reached.
func (a readSpan) run(x *execution) error {
	took := x.at(a.to).time - x.at(a.from).time
	if math.IsNaN(took) && a.most > 0 && !math.IsNaN(x.at(a.from).time) {
		took = a.most
	}
	x.put(a.id, a.place, took)
	return nil
}

func (readSpan) dangers() []danger { return nil }

// readLit: whether lamps are lit and buzzers sound.
type readLit struct {
	id    string
	sinks []string // ids
	names []string
}

func (a readLit) words(phrase) string {
	return "Write down for each whether it is on: " + list(a.names, "and") + "."
}

func (a readLit) run(x *execution) error {
	for _, id := range a.sinks {
		on := 0.0
		if x.run.Lit(id) {
			on = 1
		}
		x.put(a.id, id, on)
	}
	return nil
}

func (readLit) dangers() []danger { return nil }

func theTaps(taps []tap) string {
	names := make([]string, len(taps))
	for i, t := range taps {
		names[i] = "the " + t.name
	}
	return list(names, "and")
}

func have(taps []tap) string {
	if len(taps) == 1 {
		return "has"
	}
	return "have"
}

func s(taps []tap) string {
	return strings.Repeat("s", map[bool]int{true: 1, false: 0}[len(taps) == 1])
}
