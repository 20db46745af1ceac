package main

import (
	"flag"
	"fmt"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuits"
	"airpath/trace"
	"airpath/trace/drill"
)

var drillCommand = command{
	name:     "drill",
	synopsis: "new|check|work|score ...",
	about:    "make exercises with hidden faults, work on them, and mark the work",
	details: `
An exercise holds what a trainee may observe: the complaint, and what each allowed procedure would show. The key holds the
answer and is the instructor's. A work is what a trainee did, sealed to its exercise. Wherever an exercise's or a key's file is
wanted, one of the library may be named instead (airpath list drills). airpath drill new --help, and so on, tells more of each.
`,
	parts: []command{drillNewCommand, drillCheckCommand, drillWorkCommand, drillScoreCommand},
	declare: func(*flag.FlagSet) func(*program, []string) error {
		words := []string{"new", "check", "work", "score"}
		return func(_ *program, args []string) error {
			if len(args) == 0 {
				return badCall("drill: say what to do, one of %s", strings.Join(words, ", "))
			}
			return badCall("drill: there is no %q; %s", args[0], circuit.Suggest(args[0], words))
		}
	},
}

// loadExercise reads an exercise and the vehicle that it is about.
func (p *program) loadExercise(path string) (*drill.Exercise, *airflow.Network, error) {
	name, text, err := p.readDrill(path, circuits.Drill)
	if err != nil {
		return nil, nil, err
	}
	e, err := drill.ReadExercise(name, text)
	if err != nil {
		return nil, nil, err
	}
	c, err := circuits.Load(beside(path, e.Circuit))
	if err != nil {
		return nil, nil, err
	}
	n, err := airflow.Compile(c)
	return e, n, err
}

// readDrill reads a file, or what the library has under that name.
func (p *program) readDrill(path string, library func(name string) []byte) (name string, text []byte, err error) {
	if text := library(path); text != nil {
		return path, text, nil
	}
	name, text, err = p.readInput(path)
	if err != nil && !strings.ContainsAny(path, `/\.`) {
		return "", nil, fmt.Errorf("no exercise %q in the library, and no such file; %s", path, circuit.Suggest(path, circuits.Drills()))
	}
	return name, text, err
}

// tracerOf a vehicle, speaking in a unit.
func tracerOf(n *airflow.Network, unit pressureUnit) (*trace.Tracer, error) {
	return trace.New(n, trace.Options{Unit: string(unit), Cache: trace.CacheDir()})
}
