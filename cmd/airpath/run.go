package main

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

var runCommand = command{
	name:     "run",
	synopsis: "--circuit C --procedure P [--fault COMPONENT/MODE[=SEVERITY]]... [--csv F] [--plot F.svg] [--export-network F.json] [--save F.json] [--resume F.json] [--unit U] [--json]",
	about:    "carry out a procedure on the simulated vehicle, in good order and with faults, and tell its readings",
	details: `
A fault is written as airpath list faults writes it, with a severity in the unit of its kind if the typical one is not
meant; several --fault make one vehicle with all of them.

  airpath run --circuit gritter --procedure build-up-85-100 --fault "compressor/worn=40 %"
  airpath run --circuit gritter --procedure leak-down-released --fault "tank/primary wall leaking" --plot leak.svg

--csv and --plot write what the gauges showed all through: of the faulty vehicle if there is a --fault, and in the plot
of the one in good order too. --export-network writes the numbers that were solved, for other solvers to try: volumes,
passages with their openings, pumps, latches, the state when the procedure began, and what was done from then on. The form
is told in circuit/airflow/reference/README.md. - is standard output.

--save writes the simulated vehicle down as the procedure leaves it, with its faults and what was taken off or plugged.
--resume goes on from there: the procedure's steps are carried out on the vehicle as it was left, and the way to the
procedure's own starting state is left out, which the report says. The faults are those of the saved vehicle; it must be
the same circuit, unchanged.

  airpath run --circuit gritter --procedure build-up-85-100 --fault "tank/primary leaking" --save hot.json
  airpath run --circuit gritter --procedure leak-down-released --resume hot.json

JSON: readings[] {reading, place, title, dimension, healthy, value, limits[] {limit, source, pass}}, values in SI
(pressures absolute, in Pa; null: never reached, or, of healthy, a vehicle that was resumed with faults); for a yes or no, the chance that a person says yes.
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		var r runCall
		flags.StringVar(&r.vehicle, "circuit", "", "a `circuit` of the library, a path, or -")
		flags.StringVar(&r.procedure, "procedure", "", "the `procedure`, as airpath list procedures names it")
		flags.Func("fault", "a `fault` of the vehicle: component/mode or component/mode=severity; may be given several times", func(s string) error {
			r.faults = append(r.faults, s)
			return nil
		})
		flags.StringVar(&r.csv, "csv", "", "write the gauges over time to this `file`")
		flags.StringVar(&r.plot, "plot", "", "draw the gauges over time into this `file`, a .svg")
		flags.StringVar(&r.export, "export-network", "", "write the network with its state and inputs to this `file`, as JSON")
		flags.StringVar(&r.save, "save", "", "write the vehicle as the procedure leaves it to this `file`, as JSON, for --resume")
		flags.StringVar(&r.resume, "resume", "", "begin with the vehicle as a run with --save left it in this `file`")
		unit := pressureFlag(flags)
		flags.BoolVar(&r.json, "json", false, "report as JSON")
		return func(p *program, args []string) error {
			switch {
			case len(args) > 0:
				return badCall("run: no further word is wanted, got %q", args[0])
			case r.vehicle == "":
				return badCall("run: say on which vehicle, as in --circuit gritter")
			case r.procedure == "":
				return badCall("run: say which procedure, as in --procedure build-up-85-100; airpath list procedures --circuit %s names them", r.vehicle)
			case r.resume != "" && len(r.faults) > 0:
				return badCall("run: a resumed vehicle has the faults that it was saved with; leave out --fault or --resume")
			case r.resume == "-" && r.vehicle == "-":
				return badCall("run: only one of --circuit and --resume can come from standard input")
			case r.plot != "" && r.plot != "-" && strings.ToLower(filepath.Ext(r.plot)) != ".svg":
				return badCall("run: plots are drawn as .svg, got %q", r.plot)
			}
			r.unit = *unit
			return p.run(r)
		}
	},
}

// A runCall is what a run was asked for.
type runCall struct {
	vehicle, procedure string
	faults             []string
	csv, plot, export  string
	save, resume       string
	unit               pressureUnit
	json               bool
}

// A ranProcedure is one procedure done on the vehicle in good order, and on the faulty one if there is one.
type ranProcedure struct {
	circuit   *circuit.Circuit
	procedure *procedure.Procedure
	faults    []airflow.Fault
	resumed   bool // there is nothing in good order beside it
	healthy   procedure.Outcome
	faulty    procedure.Outcome // the same as healthy without faults
}

func (p *program) run(call runCall) error {
	n, err := p.loadNetwork(call.vehicle)
	if err != nil {
		return err
	}
	proc, err := procedureNamed(procedure.For(n), call.procedure)
	if err != nil {
		return err
	}
	ran := ranProcedure{circuit: n.Circuit(), procedure: proc}
	for _, text := range call.faults {
		f, err := airflow.ParseFault(ran.circuit, text)
		if err != nil {
			return badCall("run: %v", err)
		}
		ran.faults = append(ran.faults, f)
	}
	var did done
	if call.resume != "" {
		run, err := p.resume(n, call.resume)
		if err != nil {
			return err
		}
		ran.resumed, ran.faults = true, run.Faults()
		if did, err = p.do(procedure.Resumed(run), proc); err != nil {
			return err
		}
		ran.healthy = did.outcome
	} else {
		if did, err = p.outcome(n, proc, nil); err != nil {
			return err
		}
		ran.healthy = did.outcome
		if len(ran.faults) > 0 {
			if did, err = p.outcome(n, proc, ran.faults); err != nil {
				return err
			}
		}
	}
	ran.faulty = did.outcome
	if call.save != "" {
		if err := p.writeSaved(call.save, did.run); err != nil {
			return err
		}
	}
	if call.export != "" {
		if err := p.writeExport(call.export, did.export); err != nil {
			return err
		}
	}
	if call.csv != "" {
		if err := p.writeOutput(call.csv, curvesCSV(ran.faulty.Curves, call.unit)); err != nil {
			return err
		}
	}
	if call.plot != "" {
		picture, err := plotSVG(ran.title(call.unit), ran.curves(), call.unit)
		if err != nil {
			return err
		}
		if err := p.writeOutput(call.plot, picture); err != nil {
			return err
		}
	}
	switch {
	case call.json:
		return p.printJSON(ran.json())
	case call.csv != "-" && call.plot != "-" && call.export != "-" && call.save != "-":
		p.printRun(ran, call.unit)
	}
	return nil
}

// title says what was done on what: "Build-up from 85 to 100 psi; compressor/worn; share of output lost 40 %".
func (r ranProcedure) title(unit pressureUnit) string {
	title := r.procedure.Title
	for _, f := range r.faults {
		title += "; " + faultInWords(r.circuit, f, unit)
	}
	return title
}

// curves for the plot: of the faulty vehicle, and of the one in good order beside it.
func (r ranProcedure) curves() []curve {
	var out []curve
	add := func(c procedure.Curves, healthy bool, suffix string) {
		for i, s := range c.Series {
			out = append(out, curve{title: s.Name + suffix, gauge: i, healthy: healthy, seconds: c.Seconds, pascals: s.Pressure})
		}
	}
	if len(r.faults) == 0 || r.resumed {
		add(r.healthy.Curves, false, "")
		return out
	}
	add(r.faulty.Curves, false, "")
	add(r.healthy.Curves, true, ", vehicle in good order")
	return out
}

// curvesCSV writes one row for each moment and one column for each gauge.
func curvesCSV(c procedure.Curves, unit pressureUnit) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	head := []string{"seconds"}
	for _, s := range c.Series {
		head = append(head, fmt.Sprintf("%s (%s)", s.Place, unit))
	}
	rows := [][]string{head}
	for i, t := range c.Seconds {
		row := []string{strconv.FormatFloat(t, 'f', 2, 64)}
		for _, s := range c.Series {
			v, _ := circuit.In(s.Pressure[i], circuit.Pressure, string(unit))
			row = append(row, strconv.FormatFloat(v, 'f', 3, 64))
		}
		rows = append(rows, row)
	}
	_ = w.WriteAll(rows) // into memory, which can't fail
	return b.Bytes()
}

// shown is a reading's value as a person would note it; for a yes or no, whether most people would say yes.
func shown(r procedure.Reading, value float64, unit pressureUnit) string {
	if r.Form == procedure.YesNo {
		switch says := r.Judge.Says(value); {
		case says > 0.8:
			return "yes"
		case says < 0.2:
			return "no"
		default:
			return fmt.Sprintf("yes, for %s", percent(says))
		}
	}
	if math.IsNaN(value) {
		return "never"
	}
	return unit.format(value, r.Dimension)
}
