package procedure

import (
	"airpath/circuit"
	"airpath/circuit/limit"
)

// A Procedure is one test as it is done on one vehicle.
type Procedure struct {
	ID      string // "build-up-85-100"
	Title   string
	About   string  // what it tells, in a sentence or two
	SetUp   float64 // minutes to reach the starting state from a vehicle that has just been driven in
	Minutes float64 // minutes to carry out the steps, all places included

	Tools    []string
	Cautions []string // what holds before any work, then what these steps call for; see Safety
	State    circuit.State
	Start    *Start
	Steps    []Step
	Readings []Reading

	each    float64    // minutes for one place of a round; 0 for what is no round
	twin    *Procedure // see Twin
	soaped  *Procedure // the round with soap that belongs to a round by ear; nil for none
	vehicle *vehicle
	taps    []tap             // what the curves show
	every   float64           // s between recorded points of the curves
	stems   []stem            // by step
	index   map[[2]string]int // of readings, by id and place; nil while they are being made
	plots   bool              // some reading is taken from the curves
	whole   bool              // or from a recorder's traces
}

// A Step is one thing to do. Note says how or why and changes nothing.
type Step struct {
	Do   Action
	Note string
}

// Words of the step with pressures in the given unit: "psi", "bar" or "kPa".
func (s Step) Words(unit string) string {
	words := s.Do.words(phrase{unit})
	if s.Note != "" {
		words += " " + s.Note
	}
	return words
}

// An Action is what a step does: words for the technician and a deed for the simulator, from the same fields.
type Action interface {
	words(phrase) string
	run(*execution) error
	dangers() []danger
}

// Form of a reading: a figure, or a yes or no.
type Form string

const (
	Measured Form = "measured"
	YesNo    Form = "yes or no"
)

// Sense by which a reading is taken.
type Sense string

const (
	Needle Sense = "needle" // a pressure gauge
	Watch  Sense = "watch"  // a stopwatch
	Ear    Sense = "ear"
	Eye    Sense = "eye"
	Hand   Sense = "hand"
)

// A Reading is one quantity that a procedure yields.
type Reading struct {
	ID         string // "time", "hiss"
	Title      string // "time from 85 to 100 psi on the slower needle"
	Place      string // where it is taken, for readings that are taken at several: a component, "component.port" or a line
	Also       []string
	Either     bool // a finding may leave the place out: any of them will do, and the first is meant
	Dimension  circuit.Dimension
	Form       Form
	Sense      Sense
	Instrument string // what it is taken with unless the finding says otherwise
	Limits     []limit.Limit
	Sigma      float64 // of one reading, 1 σ in SI, without what is shared by all readings of a gauge
	Gauge      string  // the dash gauge whose own error it shares; "" for none
	Level      bool    // the gauge's error is in it in full; false: it is a difference or a slope on one gauge, and the error drops out
	Access     float64 // minutes to get at this place alone
	Touched    bool    // it is found at the part itself by eye or hand, and tells of nothing but that
	Judge      Judge   // how an exact value becomes a yes; YesNo only
}

// Reading finds a reading by id and place; ok is false where there is none.
func (p *Procedure) Reading(id, place string) (index int, ok bool) {
	if p.index != nil {
		index, ok = p.index[[2]string{id, place}]
		if !ok {
			return -1, false
		}
		return index, true
	}
	for i := range p.Readings {
		if p.Readings[i].ID == id && p.Readings[i].Place == place {
			return i, true
		}
	}
	return -1, false
}

// TimedAt says at which engine speed the procedure's results are taken: "off", "idle" or "rated".
func (p *Procedure) TimedAt() string { return p.State.Engine }
