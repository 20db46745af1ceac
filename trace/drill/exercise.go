package drill

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// version of the three file formats.
const version = 1

// An Exercise is what a trainee gets. Nothing in it depends on the hidden faults but the results.
type Exercise struct {
	Airpath      int       `json:"airpath_exercise"` // version of the format
	Title        string    `json:"title"`
	Circuit      string    `json:"circuit"` // library name or path, as in a case
	Digest       string    `json:"digest"`  // of the whole circuit
	Complaint    string    `json:"complaint"`
	Jurisdiction string    `json:"jurisdiction,omitempty"` // whose limits apply; "" is US
	Hints        bool      `json:"hints"`                  // the trainee may see the tracer's suspects
	Parts        int       `json:"parts"`                  // how many parts are to be named
	Allowed      []Allowed `json:"allowed"`
}

// An Allowed procedure, with what it costs and what it would show on the hidden vehicle.
type Allowed struct {
	Procedure string     `json:"procedure"`
	SetUp     float64    `json:"set_up"`           // minutes
	Minutes   float64    `json:"minutes"`          // for all readings; of a round of places, see Round
	Round     bool       `json:"round,omitempty"`  // places are gone to one by one: each result has its own minutes
	Undone    string     `json:"undone,omitempty"` // why it can't be carried out on this vehicle
	Results   []Observed `json:"results"`
}

// Observed is the result of one reading, in the words in which a finding is noted.
type Observed struct {
	Reading string  `json:"reading"`
	Place   string  `json:"place,omitempty"`
	Result  string  `json:"result"`            // "47 s", "yes", "never"
	Minutes float64 `json:"minutes,omitempty"` // to get at the place, on a round
}

// Allows finds an allowed procedure; nil where it is not allowed.
func (e *Exercise) Allows(id string) *Allowed {
	i := slices.IndexFunc(e.Allowed, func(a Allowed) bool { return a.Procedure == id })
	if i < 0 {
		return nil
	}
	return &e.Allowed[i]
}

// startOfRound is how many minutes a round takes beside its places, and each result on it beside getting there.
const (
	startOfRound = 1.0
	eachOnRound  = 0.1
)

// Cost of the procedure in minutes when its results are taken at the places given; none given is all of them.
func (a *Allowed) Cost(places []string) float64 {
	if !a.Round || len(places) == 0 {
		return a.SetUp + a.Minutes
	}
	cost, gone := a.SetUp+startOfRound, []string{}
	for _, o := range a.Results {
		if !slices.Contains(places, o.Place) {
			continue
		}
		cost += eachOnRound
		if !slices.Contains(gone, o.Place) {
			gone = append(gone, o.Place)
			cost += o.Minutes
		}
	}
	return min(cost, a.SetUp+a.Minutes)
}

// At are the results at the places given; none given is all of them.
func (a *Allowed) At(places []string) []Observed {
	if !a.Round || len(places) == 0 {
		return a.Results
	}
	var out []Observed
	for _, o := range a.Results {
		if slices.Contains(places, o.Place) {
			out = append(out, o)
		}
	}
	return out
}

// Write gives the exercise's file.
func (e *Exercise) Write() []byte { return write(e) }

// Seal sums up the exercise: whatever is changed in its file changes it.
func (e *Exercise) Seal() string {
	sum := sha256.Sum256(e.Write())
	return hex.EncodeToString(sum[:])
}

// ReadExercise reads an exercise's file; name is what errors call it.
func ReadExercise(name string, text []byte) (*Exercise, error) {
	e := &Exercise{}
	if err := read(name, text, "airpath_exercise", e); err != nil {
		return nil, err
	}
	if err := e.check(); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return e, nil
}

func (e *Exercise) check() error {
	switch {
	case e.Circuit == "":
		return fmt.Errorf(`"circuit" is missing; name a vehicle of the library, such as "gritter", or the path of its file`)
	case e.Parts < 1:
		return fmt.Errorf(`"parts" is %d; at least one part is to be named`, e.Parts)
	case len(e.Allowed) == 0:
		return fmt.Errorf(`"allowed" is empty; at least one procedure must be allowed`)
	case e.Jurisdiction != "" && !slices.Contains(circuit.Jurisdictions, e.Jurisdiction):
		return fmt.Errorf(`"jurisdiction" is %q; %s`, e.Jurisdiction, circuit.Suggest(e.Jurisdiction, circuit.Jurisdictions))
	}
	for i, a := range e.Allowed {
		switch {
		case a.Procedure == "":
			return fmt.Errorf(`"allowed" number %d names no "procedure"`, i+1)
		case slices.ContainsFunc(e.Allowed[:i], func(b Allowed) bool { return b.Procedure == a.Procedure }):
			return fmt.Errorf("procedure %q is allowed twice; leave one out", a.Procedure)
		case !(a.SetUp >= 0 && a.Minutes >= 0 && a.SetUp+a.Minutes > 0 && a.SetUp+a.Minutes < 1e4):
			return fmt.Errorf("procedure %q: set_up %v and minutes %v; want minutes that are not negative, and more than none together", a.Procedure, a.SetUp, a.Minutes)
		}
		for _, o := range a.Results {
			if _, err := circuit.ParseResult(o.Result); err != nil {
				return fmt.Errorf("procedure %q, reading %q: %w", a.Procedure, o.Reading, err)
			}
			if !(o.Minutes >= 0 && o.Minutes < 1e4) {
				return fmt.Errorf("procedure %q, reading %q: minutes %v; want a number that is not negative", a.Procedure, o.Reading, o.Minutes)
			}
		}
	}
	return nil
}

// Fits says where the exercise does not fit the vehicle that it is held against.
func (e *Exercise) Fits(c *circuit.Circuit, all []*procedure.Procedure) error {
	if d := DigestOf(c); d != e.Digest {
		return fmt.Errorf("the exercise was made for another state of circuit %q: its digest is %s, and the circuit's is %s; make the exercise anew, or use the circuit file that it was made with", e.Circuit, e.Digest, d)
	}
	for _, a := range e.Allowed {
		i := slices.IndexFunc(all, func(p *procedure.Procedure) bool { return p.ID == a.Procedure })
		if i < 0 {
			return fmt.Errorf("no procedure %q on circuit %q; make the exercise anew", a.Procedure, e.Circuit)
		}
		for _, o := range a.Results {
			if _, _, _, err := procedure.BindUnder(e.Jurisdiction, all, o.finding("x", a.Procedure)); err != nil {
				return err
			}
		}
	}
	return nil
}

// DigestOf sums up all that matters to the air in a circuit.
func DigestOf(c *circuit.Circuit) string {
	var ids []string
	for _, p := range c.Components {
		ids = append(ids, p.ID)
	}
	for _, l := range c.Lines {
		ids = append(ids, l.ID)
	}
	sum := sha256.Sum256([]byte(c.Digest(ids...)))
	return hex.EncodeToString(sum[:8])
}

// finding of a case that the result is.
func (o Observed) finding(id, procedure string) circuit.Finding {
	r, _ := circuit.ParseResult(o.Result) // checked on reading
	return circuit.Finding{ID: id, Procedure: procedure, Reading: o.Reading, Place: o.Place, Result: r}
}

// write a file: JSON, indented, so that a person can read it and a diff shows what changed.
func write(v any) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(v); err != nil {
		panic("drill: " + err.Error()) // only plain structs of text and finite numbers are written
	}
	return b.Bytes()
}
