package model

import (
	"context"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/circuit/limit"
)

// An Engine is what the window asks: the tracer and the simulator behind it. The real one is package engine; window
// tests put a quick one in its place.
type Engine interface {
	// Procedures lists what can be done and read on this vehicle, in a fixed order.
	Procedures() []*procedure.Procedure
	// Ask works out what the findings say, in words that speak of pressures in the person's unit. It stops early when ctx
	// is done, and tells how far it is.
	Ask(ctx context.Context, cs *circuit.Case, u Units, progress func(done, total int)) (*Answer, error)
	// Curves simulates one test on the healthy vehicle and on one with the suspect's fault, if there is one, and draws in
	// what the case has measured.
	Curves(ctx context.Context, cs *circuit.Case, s *Suspect, p *procedure.Procedure) (*Plot, error)
}

// EarlyEngine is an engine that tells what the findings say before it knows what to do next, where that takes much longer: on a
// vehicle that is asked about for the first time.
type EarlyEngine interface {
	Engine
	// AskInParts is Ask; first hears the answer as far as it is known: a rough one, a better one, or none.
	AskInParts(ctx context.Context, cs *circuit.Case, u Units, first func(*Answer), progress func(done, total int)) (*Answer, error)
}

// An Answer is what the findings say.
type Answer struct {
	Early       bool      // it is not known yet which are alike and what to do next
	Rough       bool      // nor has anybody looked closely at what leads: a better early answer follows
	Suspects    []Suspect // likeliest first
	Alike       []Alike
	Cleared     []Cleared
	Next        []Next // best first
	Stop        string // why no further test is worth its minutes; "" while one is
	Pairs       []Pair // two faults that explain the findings together, likeliest first
	NoFault     float64
	Else        float64
	Unknown     bool // something else is likelier than any one suspect; Pairs are what a workshop would think of first
	Unexplained []Remark
	Ignored     []Remark         // findings that say nothing
	Disagree    []string         // where paths and numbers differ
	Limits      map[string]Check // by finding id

	ranks []Rank // once they have been asked for
}

// A Suspect is a fault that the findings leave standing.
type Suspect struct {
	Key            string // "compressor/worn"
	Target, Mode   string
	Title          string // "compressor: worn"
	Probability    float64
	Low, Mid, High float64 // severity, SI
	Dimension      circuit.Dimension
	Means          string // what the severity is a size of: "share of output lost"
	Path           []Step // from the fault to the symptom
	Because        string
	Confirm        string
	Repair         string
	RepairMinutes  float64
	Cautions       []string
	For, Against   []string // ids of findings that speak for it and against it, strongest first
}

// Alike are suspects that the findings so far can't tell apart.
type Alike struct {
	Suspects  []int // by index
	Separable bool  // some listed test tells them apart
}

// A Pair is two faults at once.
type Pair struct {
	Keys        [2]string // as suspects have them, the surer one first
	Titles      [2]string
	Targets     [2]string
	Probability float64
}

// A Step of a path: one thing on the sheet, and what happens there.
type Step struct {
	Target string
	Words  string
}

// Cleared is a fault that the findings rule out.
type Cleared struct {
	Target, Mode string
	Title        string
	Because      string
	Findings     []string // ids
}

// Next is one procedure and what it is worth.
type Next struct {
	Procedure *procedure.Procedure
	Minutes   float64
	Bits      float64
	Because   string
	Wanted    []string // titles of the readings that tell most
}

// A Side is one answer that a test may give, and what it speaks for.
type Side struct{ Answer, For string }

// Told parts the sentence that says what the test does: what it tells apart, and by which answers. A sentence that names no answers
// is whole.
func (n Next) Told() (head string, sides []Side) {
	head, rest, ok := strings.Cut(n.Because, ": ")
	if !ok {
		return n.Because, nil
	}
	for _, part := range strings.Split(rest, "; ") {
		answer, what, ok := strings.Cut(part, ": ")
		if !ok {
			return n.Because, nil
		}
		sides = append(sides, Side{answer, what})
	}
	return head, sides
}

// A Remark is something to say about one finding.
type Remark struct {
	Finding string
	Words   string
}

// A Check is a finding held against its limits.
type Check struct {
	Met   bool
	Limit limit.Limit
}

// A Plot is what the gauges would show during one test.
type Plot struct {
	Title   string
	Suspect string // whose fault it is; empty for the healthy vehicle alone
	Since   string // what happens at time zero: "since 85 psi"
	Curves  []Curve
	Marks   []Mark
	Values  []Value
	Failed  string // why a curve is missing
}

// A Curve is one gauge over time, in absolute Pa.
type Curve struct {
	Title   string
	Healthy bool
	Logged  bool // recorded on the vehicle
	Time    []float64
	Value   []float64
}

// A Mark is a bound or a measured value drawn into the plot: a level right across, or a straight line between two moments.
type Mark struct {
	Words     string  // "at most"
	Limit     float64 // SI, written behind the words
	Dimension circuit.Dimension
	Measured  bool
	From, To  float64 // Pa absolute; equal for a level
	Start     float64 // s; NaN for a level
	End       float64
}

// A Value is what one reading comes to on the healthy vehicle, with the suspect's fault, and as it was measured.
type Value struct {
	Title            string
	Dimension        circuit.Dimension
	Healthy, Suspect float64 // SI; NaN where it is never reached
	Measured         string
}
