package drill

import (
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// A Key is the instructor's: the answer to one exercise, and how it was made.
type Key struct {
	Airpath    int        `json:"airpath_key"` // version of the format
	Title      string     `json:"title"`
	Exercise   string     `json:"exercise"` // its seal
	Faults     []Hidden   `json:"faults"`
	Seed       uint64     `json:"seed"` // of the vehicle's scatter and the instruments' errors
	Difficulty Difficulty `json:"difficulty"`
	Best       []Taken    `json:"best"`         // the tracer's own way
	Cost       float64    `json:"best_minutes"` // of it
	Notes      string     `json:"notes,omitempty"`
}

// Hidden is one fault of the hidden vehicle.
type Hidden struct {
	Component string  `json:"component"` // or line
	Mode      string  `json:"mode"`
	Severity  float64 `json:"severity"` // SI
}

// Taken is one procedure on a way, and the places where its readings were taken; none means all.
type Taken struct {
	Procedure string   `json:"procedure"`
	Places    []string `json:"places,omitempty"`
	Minutes   float64  `json:"minutes"`
}

// Fault of the air model.
func (h Hidden) Fault() airflow.Fault {
	return airflow.Fault{Target: h.Component, Mode: h.Mode, Severity: h.Severity}
}

// Write gives the key's file.
func (k *Key) Write() []byte { return write(k) }

// ReadKey reads a key's file; name is what errors call it.
func ReadKey(name string, text []byte) (*Key, error) {
	k := &Key{}
	if err := read(name, text, "airpath_key", k); err != nil {
		return nil, err
	}
	if len(k.Faults) == 0 {
		return nil, fmt.Errorf(`%s: "faults" is empty; a key names at least one`, name)
	}
	return k, nil
}

// Fits says where the key does not belong to the exercise or its vehicle.
func (k *Key) Fits(e *Exercise, c *circuit.Circuit) error {
	if seal := e.Seal(); seal != k.Exercise {
		return fmt.Errorf("the key belongs to another exercise (%.12s…), or the exercise (%.12s…) was changed after it was made", k.Exercise, seal)
	}
	if len(k.Faults) != e.Parts {
		return fmt.Errorf("the key has %d faults, and the exercise asks for %d parts", len(k.Faults), e.Parts)
	}
	for _, h := range k.Faults {
		if _, err := airflow.ModeOf(c, h.Fault()); err != nil {
			return fmt.Errorf("the key's fault: %w", err)
		}
	}
	return nil
}
