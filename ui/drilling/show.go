package drilling

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/ui/model"
)

// Ready an exercise's file: its work goes on where it was kept, or waits for a name to begin it.
func (a *Area) Ready(path string) {
	a.start.path.SetText(path)
	a.to(atStart)
	a.Begin(path)
}

// Verbs of what is done before a picture is taken, each with what it wants.
var verbs = map[string]func(a *Area, what string) error{
	"begin": func(a *Area, what string) error {
		a.start.name.SetText("A. Prentice")
		a.Begin(what)
		return nil
	},
	"do": func(a *Area, what string) error {
		return a.onTest(what, func(p *procedure.Procedure) error { return a.work.lesson.Do(p) })
	},
	"test": func(a *Area, what string) error {
		return a.onTest(what, func(p *procedure.Procedure) error { a.work.area.CarryOut(p.ID); return nil })
	},
	"part": func(a *Area, what string) error {
		switch a.face {
		case atWork:
			a.work.area.Open(what)
		case atMaking:
			a.making.part = what
		}
		return nil
	},
	"good":  func(a *Area, what string) error { return a.atWork(func(l *model.Lesson) { l.Clear(what) }) },
	"doubt": func(a *Area, what string) error { return a.atWork(func(l *model.Lesson) { l.Doubt(what) }) },
	"name": func(a *Area, what string) error {
		part, mode, _ := strings.Cut(what, "/")
		return a.atWork(func(l *model.Lesson) { l.Name(part, mode, "") })
	},
	"file": func(a *Area, what string) error {
		return a.atWork(func(*model.Lesson) { a.work.path.SetText(what) })
	},
	"make": func(a *Area, _ string) error { a.Make(); return nil },
	"hide": func(a *Area, what string) error {
		if a.face != atMaking {
			return fmt.Errorf("hide is for an exercise being made; say make first")
		}
		f, err := airflow.ParseFault(a.making.Circuit, what)
		if err == nil {
			a.making.Hide(f)
		}
		return err
	},
	"complaint": func(a *Area, what string) error {
		if a.face != atMaking {
			return fmt.Errorf("complaint is for an exercise being made; say make first")
		}
		a.making.Change("Complaint changed", func(p *model.Plan) { p.Complaint = what })
		return nil
	},
	"draw": func(a *Area, what string) error {
		if a.face != atMaking {
			return fmt.Errorf("draw is for an exercise being made; say make first")
		}
		a.making.wanted = what
		a.making.startDrawing()
		return nil
	},
	"work out": func(a *Area, _ string) error { a.making.Start(); return nil },
	"down": func(a *Area, _ string) error {
		a.marks.scroll.To(1000)
		if a.making != nil {
			a.making.scroll.To(1000)
		}
		return nil
	},
	"marks": func(a *Area, what string) error {
		a.to(atMarks)
		a.marks.exercise.SetText(what)
		a.marks.openBoth(a, what, "")
		return nil
	},
	"mark": func(a *Area, what string) error {
		if a.marks.marking == nil {
			return fmt.Errorf("no exercise is open to mark works of; say marks:EXERCISE first")
		}
		return a.marks.marking.Add(what)
	},
	"review": func(a *Area, what string) error { a.marks.shown = what; return nil },
}

func (a *Area) atWork(do func(l *model.Lesson)) error {
	if a.face != atWork {
		return fmt.Errorf("no exercise is open; say begin:EXERCISE first")
	}
	do(a.work.lesson)
	return nil
}

func (a *Area) onTest(id string, do func(p *procedure.Procedure) error) error {
	if a.face != atWork {
		return fmt.Errorf("no exercise is open; say begin:EXERCISE first")
	}
	for _, p := range a.work.lesson.Session.Procedures() {
		if p.ID == id {
			return do(p)
		}
	}
	return fmt.Errorf("no test %q in this exercise", id)
}

// Show does what words between semicolons say, before a picture is taken: VERB or VERB:WHAT. wait gives the background a moment, and is asked
// as long as it works.
func (a *Area) Show(moment string, wait func() error) error {
	for _, word := range strings.Split(moment, ";") {
		verb, what, _ := strings.Cut(strings.TrimSpace(word), ":")
		if verb == "" {
			continue
		}
		do, ok := verbs[verb]
		if !ok {
			var known []string
			for v := range verbs {
				known = append(known, v)
			}
			slices.Sort(known)
			return fmt.Errorf("moment %q: want one of %s", word, strings.Join(known, ", "))
		}
		if err := do(a, what); err != nil {
			return fmt.Errorf("moment %q: %w", word, err)
		}
		if a.trouble != "" {
			return fmt.Errorf("moment %q: %s", word, a.trouble)
		}
		for {
			if err := wait(); err != nil {
				return err
			}
			if d := a.Describe(); !d.Working {
				break
			}
			time.Sleep(20 * time.Millisecond)
		}
	}
	return nil
}
