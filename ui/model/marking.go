package model

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"slices"

	"airpath/circuit"
	"airpath/trace/drill"
)

// A Marking is the works of a class on one exercise being marked with its key.
type Marking struct {
	Circuit    *circuit.Circuit
	Instructor Instructor
	Exercise   *drill.Exercise
	Key        *drill.Key
	Marks      []*drill.Marks // in the order in which they were marked

	task    *Task[*drill.Marks]
	waiting []*drill.Work
	trouble error
}

// NewMarking of an exercise with its key. They must belong together.
func NewMarking(c *circuit.Circuit, i Instructor, e *drill.Exercise, k *drill.Key, wake func()) (*Marking, error) {
	if err := e.Fits(c, i.Procedures()); err != nil {
		return nil, err
	}
	if err := k.Fits(e, c); err != nil {
		return nil, err
	}
	return &Marking{Circuit: c, Instructor: i, Exercise: e, Key: k, task: NewTask[*drill.Marks](wake)}, nil
}

// Add the work in a file, to be marked in the background. A work that was marked before is marked again.
func (m *Marking) Add(path string) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return fmt.Errorf("trainee's work: %w", err)
	}
	w, err := drill.ReadWork(path, text)
	if err != nil {
		return err
	}
	if err := w.Fits(m.Exercise); err != nil {
		return err
	}
	m.waiting = append(m.waiting, w)
	m.next()
	return nil
}

func (m *Marking) next() {
	if p, _ := m.task.Working(); p.Running || len(m.waiting) == 0 {
		return
	}
	w := m.waiting[0]
	m.waiting = m.waiting[1:]
	i, e, k := m.Instructor, m.Exercise, m.Key
	m.trouble = nil
	m.task.Start(func(ctx context.Context, tell Tell) (*drill.Marks, error) {
		return i.MarkWork(ctx, e, k, w, func(done, total int) { tell("Work of "+w.Trainee, done, total) })
	})
}

// Collect takes in what has been marked and goes on to the next work; the window calls it once a frame.
func (m *Marking) Collect() {
	marks, ok, err := m.task.Collect()
	if ok {
		if m.trouble = err; err == nil {
			m.Marks = slices.DeleteFunc(m.Marks, func(old *drill.Marks) bool { return old.Trainee == marks.Trainee })
			m.Marks = append(m.Marks, marks)
		}
	}
	m.next()
}

// Working says how far the marking is, and whose work it is.
func (m *Marking) Working() (Progress, string) { return m.task.Working() }

// Waiting is how many works are still to be marked.
func (m *Marking) Waiting() int { return len(m.waiting) }

// Stop marking, and forget what waits.
func (m *Marking) Stop() {
	m.waiting = nil
	m.task.Stop()
}

// Trouble is why a work could not be marked; nil when all could.
func (m *Marking) Trouble() error { return m.trouble }

// SaveClass writes the class's results as CSV.
func (m *Marking) SaveClass(path string) error {
	var b bytes.Buffer
	if err := drill.WriteClass(&b, m.Marks); err != nil {
		return err
	}
	return circuit.Save(path, b.Bytes())
}
