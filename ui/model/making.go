package model

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/drill"
)

// An Instructor makes exercises and marks works. The real one is package engine's; window tests put a quick one in its place.
type Instructor interface {
	Engine
	// MakeExercise hides what the setting says.
	MakeExercise(ctx context.Context, s drill.Setting, progress func(done, total int)) (*drill.Exercise, *drill.Key, error)
	// DrawExercise hides faults at random.
	DrawExercise(ctx context.Context, w drill.Wish, progress func(draw, done, total int)) (*drill.Exercise, *drill.Key, error)
	// MarkWork says what a trainee's work is worth.
	MarkWork(ctx context.Context, e *drill.Exercise, k *drill.Key, w *drill.Work, progress func(done, total int)) (*drill.Marks, error)
}

// A Making is an exercise that is being made. It belongs to one goroutine, the window's.
type Making struct {
	Circuit    *circuit.Circuit
	Vehicle    string // name in the library or path, as the exercise is to name it
	Instructor Instructor

	history *History[*Plan]
	task    *Task[*Made]
	made    *Made
	of      *Plan // what made was made of
	trouble error
	said    string
}

// A Plan is what the instructor wants. Nobody changes one after it entered the history.
type Plan struct {
	Title     string
	Complaint string
	Faults    []airflow.Fault
	Hints     bool
	Only      []string           // procedures that are allowed; nil allows all
	Minutes   map[string]float64 // what a procedure costs, where it is not the usual
	Level     string             // drawn at random; "" where faults are chosen
	Parts     int                // how many are drawn
	Seed      uint64
	Notes     string
}

func (p *Plan) clone() *Plan {
	q := *p
	q.Faults, q.Only = slices.Clone(p.Faults), slices.Clone(p.Only)
	q.Minutes = map[string]float64{}
	for id, m := range p.Minutes {
		q.Minutes[id] = m
	}
	return &q
}

// Made is a finished exercise.
type Made struct {
	Exercise *drill.Exercise
	Key      *drill.Key
}

// NewMaking begins with nothing hidden.
func NewMaking(c *circuit.Circuit, vehicle string, i Instructor, wake func()) *Making {
	return &Making{Circuit: c, Vehicle: vehicle, Instructor: i, history: NewHistory(&Plan{Parts: 1, Seed: 1}), task: NewTask[*Made](wake)}
}

// Plan as it stands; the caller must not change it.
func (m *Making) Plan() *Plan { return m.history.Now() }

// Change makes a new plan by way of edit, as one deed.
func (m *Making) Change(deed string, edit func(p *Plan)) {
	p := m.Plan().clone()
	edit(p)
	m.history.Do(deed, p)
	m.said = deed
}

// LastDeed is what was done last, in words.
func (m *Making) LastDeed() string { return m.said }

// CanUndo names what would be undone and done again; "" for nothing.
func (m *Making) CanUndo() (undo, redo string) {
	undo, _ = m.history.CanUndo()
	redo, _ = m.history.CanRedo()
	return undo, redo
}

// Undo takes the last deed back.
func (m *Making) Undo() { m.history.Undo() }

// Redo does it again.
func (m *Making) Redo() { m.history.Redo() }

// Hide a fault, in place of another of the same part.
func (m *Making) Hide(f airflow.Fault) {
	m.Change("Hidden: "+NameOf(m.Circuit, f.Target)+", "+f.Mode, func(p *Plan) {
		p.Faults = append(slices.DeleteFunc(p.Faults, func(g airflow.Fault) bool { return g.Target == f.Target }), f)
		p.Level = ""
	})
}

// Unhide takes the fault of a part out again.
func (m *Making) Unhide(target string) {
	m.Change("No longer hidden: "+NameOf(m.Circuit, target), func(p *Plan) {
		p.Faults = slices.DeleteFunc(p.Faults, func(g airflow.Fault) bool { return g.Target == target })
	})
}

// SetSeverity of the hidden fault of a part (SI).
func (m *Making) SetSeverity(target string, severity float64) {
	m.Change("Severity at the "+NameOf(m.Circuit, target), func(p *Plan) {
		for i := range p.Faults {
			if p.Faults[i].Target == target {
				p.Faults[i].Severity = severity
			}
		}
	})
}

// Allows tells whether a procedure is allowed.
func (p *Plan) Allows(id string) bool { return p.Only == nil || slices.Contains(p.Only, id) }

// Allow a procedure, or not.
func (m *Making) Allow(x *procedure.Procedure, on bool) {
	deed := "Not allowed: " + x.Title
	if on {
		deed = "Allowed: " + x.Title
	}
	m.Change(deed, func(p *Plan) {
		var only []string
		for _, q := range m.Instructor.Procedures() {
			if q.ID == x.ID && on || q.ID != x.ID && p.Allows(q.ID) {
				only = append(only, q.ID)
			}
		}
		p.Only = only
		if len(only) == len(m.Instructor.Procedures()) {
			p.Only = nil
		}
		if p.Only == nil && !on {
			p.Only = []string{}
		}
	})
}

// Cost of a procedure in minutes, as the plan has it.
func (m *Making) Cost(x *procedure.Procedure) float64 {
	if v, ok := m.Plan().Minutes[x.ID]; ok {
		return v
	}
	return x.SetUp + x.Minutes
}

// SetCost of a procedure in minutes; 0 is the usual.
func (m *Making) SetCost(x *procedure.Procedure, minutes float64) error {
	if !(minutes >= 0 && minutes < 1e4) {
		return fmt.Errorf("%v minutes for %s; want a number from 1 to 9999, or nothing for the usual", minutes, x.Title)
	}
	m.Change("Minutes of "+x.Title, func(p *Plan) {
		delete(p.Minutes, x.ID)
		if minutes > 0 {
			p.Minutes[x.ID] = minutes
		}
	})
	return nil
}

// Missing says what the plan still lacks; "" when it can be made.
func (m *Making) Missing() string {
	p := m.Plan()
	switch {
	case p.Only != nil && len(p.Only) == 0:
		return "Allow at least one test."
	case p.Level != "":
		return ""
	case len(p.Faults) == 0:
		return "Hide at least one fault: choose a part on the sheet, or draw at random."
	case p.Complaint == "":
		return "Say what the driver complains of."
	}
	return ""
}

// Start making the exercise in the background.
func (m *Making) Start() {
	if m.Missing() != "" {
		return
	}
	p := m.Plan()
	s := drill.Setting{
		Title: p.Title, Circuit: m.Vehicle, Complaint: p.Complaint, Faults: p.Faults, Allowed: p.Only, Minutes: p.Minutes,
		Hints: p.Hints, Seed: p.Seed, Notes: p.Notes,
	}
	m.of, m.trouble = p, nil
	i := m.Instructor
	m.task.Start(func(ctx context.Context, tell Tell) (*Made, error) {
		var made Made
		var err error
		if p.Level != "" {
			w := drill.Wish{Setting: s, Level: p.Level, Parts: p.Parts}
			w.Faults, w.Complaint = nil, ""
			made.Exercise, made.Key, err = i.DrawExercise(ctx, w, func(draw, done, total int) {
				stage := "Vehicle in good order"
				if draw > 0 {
					stage = fmt.Sprintf("Hidden vehicle %d", draw)
				}
				tell(stage, done, total)
			})
			return &made, err
		}
		if s.Title == "" {
			s.Title = s.Complaint
		}
		made.Exercise, made.Key, err = i.MakeExercise(ctx, s, func(done, total int) { tell("Hidden vehicle", done, total) })
		return &made, err
	})
}

// Stop making it.
func (m *Making) Stop() { m.task.Stop() }

// Working says how far it is, and at what.
func (m *Making) Working() (Progress, string) { return m.task.Working() }

// Collect takes in what has been made; the window calls it once a frame. What was drawn is the plan from then on.
func (m *Making) Collect() {
	made, ok, err := m.task.Collect()
	if !ok {
		return
	}
	if m.trouble = err; err != nil {
		return
	}
	m.made = made
	if m.of != m.Plan() || m.of.Level == "" {
		return
	}
	m.Change("Drawn: "+made.Exercise.Title, func(p *Plan) {
		p.Complaint, p.Title, p.Level = made.Exercise.Complaint, made.Exercise.Title, ""
		p.Seed, p.Faults = made.Key.Seed, nil
		for _, h := range made.Key.Faults {
			p.Faults = append(p.Faults, h.Fault())
		}
	})
	m.of = m.Plan()
}

// Made is the finished exercise, and whether it is of the plan as it stands; nil while there is none.
func (m *Making) Made() (made *Made, current bool) {
	return m.made, m.made != nil && m.of == m.Plan()
}

// Trouble is why the exercise could not be made; nil when it could.
func (m *Making) Trouble() error { return m.trouble }

// Save the exercise and its key beside one another: name is a path without an ending.
func (m *Making) Save(name string) (exercise, key string, err error) {
	made, current := m.Made()
	if !current {
		return "", "", fmt.Errorf("the exercise is not worked out as it stands; work it out first")
	}
	name = strings.TrimSuffix(strings.TrimSuffix(strings.TrimSpace(name), ExerciseEnding), ".json")
	if filepath.Base(name) == "." || name == "" || strings.HasSuffix(name, string(filepath.Separator)) {
		return "", "", fmt.Errorf("%q is no name for a file; want one such as monday", name)
	}
	exercise, key = name+ExerciseEnding, name+KeyEnding
	if err := circuit.Save(exercise, made.Exercise.Write()); err != nil {
		return "", "", err
	}
	return exercise, key, circuit.Save(key, made.Key.Write())
}

// Endings of the files of a drill.
const (
	ExerciseEnding = ".exercise.json"
	KeyEnding      = ".key.json"
)

// NameOf is what a person calls a component or line.
func NameOf(c *circuit.Circuit, id string) string {
	if part := c.Component(id); part != nil && part.Name != "" {
		return part.Name
	}
	if l := c.Line(id); l != nil && l.Name != "" {
		return l.Name
	}
	return id
}
