package main

import (
	"errors"
	"flag"
	"fmt"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/circuit/limit"
	"airpath/circuits"
)

var checkCommand = command{
	name:     "check",
	synopsis: "FILE... [--static | --isolability] [--unit U] [--json]",
	about:    "hold circuit files against the format, and the vehicles they describe against the published standards",
	details: `
FILE is a circuit file, a case file, a name of the library, or - for a circuit on standard input. A circuit is read
strictly; its parts and wiring are looked over; then the vehicle in good order has to meet the limits that apply to its
class: those of its settings at once, those of its procedures by carrying them out, and those of its brakes: strokes, brake
force, parking. --static leaves out all but the first.
A case is read, and each of its findings is bound to the procedure it names.

--isolability asks another question of circuits: which of their faults do the procedures show, which can they tell apart, and
which added test port or observation would split those that they can't? It simulates every fault through every procedure,
which takes some ten seconds for a truck. With it, status 3 says that some fault is shown by nothing, or that some group
has more than three members. JSON: files[] {file, circuit, faults, detectable, sizes[] {size, faults}, groups[] {faults[],
tap {at, room, minutes, reads, parts[][]}, by_hand {part, how}}, undetectable[] {component, mode, without_air, tap, by_hand},
structure {faults, detectable, groups, largest}}.

Exit status 1: a file can't be read or has errors. 3: all can be read, but one has warnings or falls short of a limit.
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		static := flags.Bool("static", false, "do not carry out procedures")
		isolability := flags.Bool("isolability", false, "say which faults can be shown, and which can be told apart")
		unit := pressureFlag(flags)
		asJSON := flags.Bool("json", false, "report as JSON")
		return func(p *program, args []string) error {
			if len(args) == 0 {
				return badCall("check: say which file, or which circuit of the library")
			}
			if *isolability && *static {
				return badCall("check: --static carries out no procedure, and --isolability rests on nothing else; say one of them")
			}
			if *isolability {
				return p.checkIsolability(args, *asJSON)
			}
			return p.check(args, *static, *unit, *asJSON)
		}
	},
}

// A checked file and what was found about it.
type checked struct {
	File     string         `json:"file"`
	Pass     bool           `json:"pass"`
	Problems []foundProblem `json:"problems"` // of the format and the wiring
	Limits   []heldLimit    `json:"limits"`   // that the vehicle was held against
	broken   bool           // it cannot be read or used
}

type foundProblem struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Where   string `json:"where"`
	What    string `json:"what"`
	Right   string `json:"right"`
	Warning bool   `json:"warning"`
	text    string
}

type heldLimit struct {
	Component string `json:"component,omitempty"`
	What      string `json:"what"`
	Wanted    string `json:"wanted"`
	Source    string `json:"source"`
	Pass      bool   `json:"pass"`
}

func (p *program) check(files []string, static bool, unit pressureUnit, asJSON bool) error {
	var all []checked
	broken, short := false, false
	for _, file := range files {
		c, err := p.checkFile(file, static, unit)
		if err != nil {
			return err
		}
		broken = broken || c.broken
		short = short || !c.Pass
		all = append(all, c)
	}
	if asJSON {
		if err := p.printJSON(struct {
			Files []checked `json:"files"`
		}{all}); err != nil {
			return err
		}
	} else {
		for i, c := range all {
			if i > 0 {
				fmt.Fprintln(p.out)
			}
			p.printChecked(c)
		}
	}
	switch {
	case broken:
		return &failure{status: statusInput}
	case short:
		return fallsShort()
	}
	return nil
}

func (p *program) checkFile(path string, static bool, unit pressureUnit) (checked, error) {
	report := checked{File: path, Problems: []foundProblem{}, Limits: []heldLimit{}}
	if isLibrary(path) {
		c, err := circuits.Load(path)
		return report.circuit(p, c, err, static, unit)
	}
	name, text, err := p.readInput(path)
	if err != nil {
		return report.unreadable(err), nil
	}
	if circuit.IsCase(text) {
		return report.findings(p, name, text, path), nil
	}
	c, err := circuits.Read(name, text)
	return report.circuit(p, c, err, static, unit)
}

func (r checked) unreadable(err error) checked {
	var problems circuit.Problems
	if errors.As(err, &problems) {
		r.note(problems)
	} else {
		r.Problems = append(r.Problems, foundProblem{File: r.File, What: err.Error(), text: err.Error()})
	}
	r.Pass, r.broken = false, true
	return r
}

func (r *checked) note(problems circuit.Problems) {
	for _, q := range problems {
		r.Problems = append(r.Problems, foundProblem{q.File, q.Line, q.Column, q.Where, q.What, q.Right, q.Warning, q.Error()})
		r.Pass = false
		r.broken = r.broken || !q.Warning
	}
}

// circuit holds a vehicle that was read, or the error of reading it, against everything.
func (r checked) circuit(p *program, c *circuit.Circuit, err error, static bool, unit pressureUnit) (checked, error) {
	if err != nil {
		return r.unreadable(err), nil
	}
	r.Pass = true
	r.note(circuit.Check(c))
	if r.broken {
		return r, nil
	}
	for _, l := range limit.CheckVehicle(c) {
		r.hold(heldLimit{l.Component, l.What, l.Wanted, l.Source, l.Pass})
	}
	if static {
		return r, nil
	}
	n, err := airflow.Compile(c)
	if err != nil {
		return r.unreadable(err), nil
	}
	held, err := p.healthyVehicle(n, unit)
	if err != nil {
		return r, err
	}
	brakes, err := p.healthyBrakes(n)
	for _, h := range append(held, brakes...) {
		r.hold(h)
	}
	return r, err
}

func (r *checked) hold(h heldLimit) {
	r.Limits = append(r.Limits, h)
	r.Pass = r.Pass && h.Pass
}

// findings holds a case against its vehicle and that vehicle's procedures.
func (r checked) findings(p *program, name string, text []byte, path string) checked {
	k, err := circuit.ReadCase(name, text)
	if err != nil {
		return r.unreadable(err)
	}
	c, err := p.vehicleOf(k, path, "")
	if err != nil {
		return r.unreadable(err)
	}
	r.Pass = true
	r.note(circuit.CheckCase(k, c))
	if r.broken {
		return r
	}
	n, err := airflow.Compile(c)
	if err != nil {
		return r.unreadable(err)
	}
	procedures := procedure.For(n)
	r.note(append(bindFindings(k, procedures), bindRepairs(k, c, procedures)...))
	return r
}

func isLibrary(name string) bool { return slices.Contains(circuits.Names(), name) }

func (p *program) printChecked(c checked) {
	fmt.Fprintln(p.out, c.File)
	for _, q := range c.Problems {
		fmt.Fprintf(p.out, "  %s\n", strings.ReplaceAll(q.text, "\n", "\n  "))
	}
	var t table
	short := 0
	for _, l := range c.Limits {
		outcome := "meets"
		if !l.Pass {
			outcome = "FALLS SHORT"
			short++
		}
		t.row("  "+outcome, l.What, l.Wanted, l.Source)
	}
	t.print(p.out)
	switch {
	case c.broken:
		fmt.Fprintln(p.out, "  cannot be used as it stands")
	case c.Pass:
		fmt.Fprintf(p.out, "  in order; %d limits met\n", len(c.Limits))
	default:
		fmt.Fprintf(p.out, "  %d problems; %d of %d limits missed\n", len(c.Problems), short, len(c.Limits))
	}
}
