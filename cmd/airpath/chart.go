package main

import (
	"flag"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/trace"
	"airpath/trace/chart"
)

var chartCommand = command{
	name:     "chart",
	synopsis: "--circuit C --complaint TEXT | --case FILE  -o F.pdf|F.svg|F.txt [--questions N] [--unit U]",
	about:    "write the whole troubleshooting tree for a vehicle and a complaint, or for a case, to print and pin up",
	details: `
The form follows from the ending of the output's name: .pdf (pages of A4, with links between the boxes), .svg (the same pages one under
the other) or .txt; "-" writes text to standard output. TEXT is what the driver says, in trade words; --complaint list prints
what is understood. FILE is a case, whose complaint and findings the chart goes on from.

Each box is what the tracer would ask with the answers so far; a branch ends where testing stops paying, and says what to
confirm and repair, in the order of probability for the work. Cautions, limits with their sources, repairs and the steps of
each test are on it. --questions says how many boxes may ask something (40); growing takes a minute or so for a truck.

  airpath chart --circuit gritter --complaint "builds air slowly" -o slow.pdf
  airpath chart --case found.toml -o next.txt
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		vehicle := flags.String("circuit", "", "a `circuit` of the library, a path, or -")
		complaint := flags.String("complaint", "", "what the driver says, as `text`, or list")
		caseFile := flags.String("case", "", "a case `file`, or -")
		output := flags.String("o", "", "the chart's `file`")
		questions := flags.Int("questions", 40, "`number` of boxes that ask something, at most")
		unit := pressureFlag(flags)
		return func(p *program, args []string) error {
			if len(args) > 0 {
				return badCall("chart: no further word is wanted, got %q; a complaint of several words is put in quotes", args[0])
			}
			if *complaint == "list" {
				for _, m := range trace.Meanings() {
					fmt.Fprintf(p.out, "%s\n    %s\n", m.Saying, wrap(m.Means, "    ", textWidth))
				}
				return nil
			}
			form, err := chartForm(*output)
			if err != nil {
				return err
			}
			if *questions < 1 || *questions > 500 {
				return badCall("chart: --questions must lie between 1 and 500, got %d", *questions)
			}
			k, c, err := p.chartCase(*vehicle, *complaint, *caseFile)
			if err != nil {
				return err
			}
			return p.chart(k, c, *output, form, *questions, *unit)
		}
	},
}

var chartForms = []string{".pdf", ".svg", ".txt"}

func chartForm(path string) (string, error) {
	if path == "" {
		return "", badCall("chart: say where the chart goes, as in -o chart.pdf")
	}
	if path == "-" {
		return ".txt", nil
	}
	form := strings.ToLower(filepath.Ext(path))
	if slices.Contains(chartForms, form) {
		return form, nil
	}
	return "", badCall("chart: no chart of the form %q can be written; the forms are %s", form, strings.Join(chartForms, ", "))
}

// chartCase is what the chart goes on from.
func (p *program) chartCase(vehicle, complaint, caseFile string) (*circuit.Case, *circuit.Circuit, error) {
	switch {
	case caseFile != "" && complaint != "":
		return nil, nil, badCall("chart: a case has its own complaint; say --case or --complaint")
	case caseFile != "":
		return p.loadCase(caseFile, vehicle)
	case vehicle == "" || complaint == "":
		return nil, nil, badCall("chart: say which vehicle and what is wrong, as in --circuit gritter --complaint \"builds air slowly\", or which case, as in --case FILE")
	}
	heard := trace.HearComplaint(complaint)
	if len(heard.Heard) == 0 {
		if len(heard.Unheard) == 0 {
			return nil, nil, badCall("chart: the complaint is empty; --complaint list prints what is understood")
		}
		return nil, nil, badCall("chart: %q is not understood; %s; --complaint list prints all", heard.Unheard[0].Words, heard.Unheard[0].Suggestion)
	}
	c, err := p.loadCircuit(vehicle)
	if err != nil {
		return nil, nil, err
	}
	return &circuit.Case{Circuit: c.Name, Title: complaint, Complaint: complaint}, c, nil
}

func (p *program) chart(k *circuit.Case, c *circuit.Circuit, output, form string, questions int, unit pressureUnit) error {
	n, err := airflow.Compile(c)
	if err != nil {
		return err
	}
	tracer, err := trace.New(n, trace.Options{Unit: string(unit), Cache: trace.CacheDir()})
	if err != nil {
		return err
	}
	if err := bindFindings(k, tracer.Procedures()).Err(); err != nil {
		return err
	}
	simulating := p.newProgress("simulating the faults of " + c.Name)
	err = tracer.Prepare(p.ctx, simulating.show)
	simulating.clear()
	if err != nil {
		return err
	}
	bar := p.newProgress("growing the chart")
	tree, err := chart.Grow(p.ctx, tracer, c, k, chart.Options{MostNodes: questions, Unit: string(unit)}, bar.show)
	bar.clear()
	if err != nil {
		return err
	}
	for _, u := range tree.Heard.Unheard {
		fmt.Fprintf(p.err, "not understood, and not used: %q; %s\n", u.Words, u.Suggestion)
	}
	data := []byte(nil)
	switch form {
	case ".txt":
		data = []byte(tree.Text())
	case ".svg":
		data = tree.Pages().SVG()
	default:
		if data, err = tree.Pages().PDF(); err != nil {
			return err
		}
	}
	return p.writeOutput(output, data)
}
