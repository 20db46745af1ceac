package main

import (
	"flag"
	"fmt"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/drill"
)

var drillCheckCommand = command{
	name:     "check",
	synopsis: "EXERCISE [KEY] [WORK...]",
	about:    "hold an exercise against its vehicle, and keys and works against the exercise",
	details: `
The first file is an exercise; keys and works that follow must belong to it. Exit status 1: a file can't be read, is not
what it should be, or does not belong.
`,
	declare: func(*flag.FlagSet) func(*program, []string) error {
		return func(p *program, args []string) error {
			if len(args) == 0 {
				return badCall("drill check: say which exercise")
			}
			return p.drillCheck(args[0], args[1:])
		}
	},
}

func (p *program) drillCheck(path string, others []string) error {
	e, n, err := p.loadExercise(path)
	if err != nil {
		return err
	}
	if err := e.Fits(n.Circuit(), procedure.For(n)); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	fmt.Fprintf(p.out, "%s: %q on %s, %d procedures, %s to name\n", path, e.Title, e.Circuit, len(e.Allowed), counted(e.Parts, "part"))
	for _, other := range others {
		if err := p.belongs(other, e, n); err != nil {
			return err
		}
	}
	return nil
}

// belongs says whether a key or a work belongs to the exercise.
func (p *program) belongs(path string, e *drill.Exercise, n *airflow.Network) error {
	name, text, err := p.readInput(path)
	if err != nil {
		return err
	}
	if drill.Kind(text) == "airpath_key" {
		k, err := drill.ReadKey(name, text)
		if err == nil {
			err = k.Fits(e, n.Circuit())
		}
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		fmt.Fprintf(p.out, "%s: the key to it, level %s\n", name, k.Difficulty.Level)
		return nil
	}
	w, err := drill.ReadWork(name, text)
	if err != nil {
		return err
	}
	if err := w.Fits(e); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	fmt.Fprintf(p.out, "%s: %s's work on it, %s\n", name, w.Trainee, counted(len(w.Steps), "step"))
	return nil
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
