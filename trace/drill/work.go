package drill

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
)

// A Work is what a trainee hands in.
type Work struct {
	Airpath  int    `json:"airpath_work"` // version of the format
	Exercise string `json:"exercise"`     // the seal of the exercise that it was done on
	Trainee  string `json:"trainee"`
	Steps    []Step `json:"steps"`
	Seal     string `json:"seal"` // over all of the above
}

// A Step is one thing that the trainee did; exactly one of its fields is set.
type Step struct {
	Prepare string  `json:"prepare,omitempty"` // id of a procedure.Preparation
	Do      *Taken  `json:"do,omitempty"`
	Clear   string  `json:"clear,omitempty"` // a part that is held to be good
	Doubt   string  `json:"doubt,omitempty"` // a part that was cleared and is no longer
	Fit     *Named  `json:"fit,omitempty"`   // a part changed or mended on trial
	Name    []Named `json:"name,omitzero"`   // the answer; the last one counts
}

// Named is a part with what is the matter with it and what is to be done.
type Named struct {
	Part   string `json:"part"`
	Mode   string `json:"mode"`
	Repair string `json:"repair,omitempty"` // in the trainee's words
}

// Answer is the last that was given; nil where there is none.
func (w *Work) Answer() []Named {
	for i := len(w.Steps) - 1; i >= 0; i-- {
		if w.Steps[i].Name != nil {
			return w.Steps[i].Name
		}
	}
	return nil
}

// seal of the work as it stands. It shows a slip and an idle change, and that the work belongs to its exercise; it is no
// lock against someone who knows how it is made.
func (w Work) seal() string {
	w.Seal = ""
	sum := sha256.Sum256(write(w))
	return hex.EncodeToString(sum[:])
}

// Write gives the work's file.
func (w *Work) Write() []byte { return write(w) }

// ReadWork reads a work's file; name is what errors call it. A work whose seal is broken is refused.
func ReadWork(name string, text []byte) (*Work, error) {
	w := &Work{}
	if err := read(name, text, "airpath_work", w); err != nil {
		return nil, err
	}
	if strings.TrimSpace(w.Trainee) == "" {
		return nil, fmt.Errorf(`%s: "trainee" is empty; whose work is it?`, name)
	}
	for i, s := range w.Steps {
		if s.kinds() != 1 {
			return nil, fmt.Errorf("%s: step %d does %d things; a step is exactly one of prepare, do, clear, doubt, fit, name", name, i+1, s.kinds())
		}
	}
	if w.Seal != w.seal() {
		return nil, fmt.Errorf("%s: the seal does not fit: the work was changed after it was handed in", name)
	}
	return w, nil
}

func (s Step) kinds() int {
	n := 0
	for _, set := range []bool{s.Prepare != "", s.Do != nil, s.Clear != "", s.Doubt != "", s.Fit != nil, s.Name != nil} {
		if set {
			n++
		}
	}
	return n
}

// Fits says whether the work was done on the exercise.
func (w *Work) Fits(e *Exercise) error {
	if seal := e.Seal(); w.Exercise != seal {
		return fmt.Errorf("the work of %s was done on another exercise (%.12s…), not on this one (%.12s…)", w.Trainee, w.Exercise, seal)
	}
	return nil
}
