package main

import (
	"flag"
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace"
)

var traceCommand = command{
	name:     "trace",
	synopsis: "--case FILE [--circuit C] [--all] [--split] [--plot F.svg] [--unit U] [--json]",
	about:    "say which parts a case's findings leave suspect, by which path, what they clear, and which test comes next",
	details: `
FILE is a case: what was found on one vehicle (circuits/README.md tells how to write one), or - for standard input. The
vehicle is the one that the case names, unless --circuit says where it is.

The report: suspects with probability, likely severity, path and reason; suspects that can't be told apart yet; what is
cleared and by which finding; the next procedures by information per minute; readings held against the limits.
Suspects under half a percent are counted but printed only with --all. --split also looks for the cheapest added test port
or observation that would split what no procedure tells apart.

JSON, all values in SI (pressures absolute, in Pa), lists in the order of the report:
  complaint[] {words, saying, means} what the driver's words were taken to mean, or {words, suggestion}
  suspects[]  {component, mode, title, probability, severity {low, mid, high, dimension, means}, path[], because, confirm, repair}
  cleared[]   {component, mode, because, by[]}
  alike[][], inseparable[][]  component/mode: with these findings so far, and with any procedure listed here
  fits[]      {log, component, mode, severity, misfit} of the suspects to the case's recorded logs
  splits[]    {add, minutes, reads, part, by_hand} of each inseparable group, with --split
  next[]      {procedure, title, minutes, bits, because, readings[] {reading, place}}
  limits[]    {finding, reading, value, text, limit, source, jurisdiction, pass}
  unexplained[], ignored[]  {finding, because}
  disagree[]  where paths and numbers disagree, in words
  takes_more  which parts explain all that is abnormal together, by paths alone, where no one part does; or ""
  no_fault, something_else  probabilities;  stop  why no further test is worth it, or ""
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		vehicle := flags.String("circuit", "", "a `circuit` of the library, a path, or -")
		caseFile := flags.String("case", "", "a case `file`, or -")
		all := flags.Bool("all", false, "print every suspect and why each part is cleared")
		split := flags.Bool("split", false, "say what would tell apart what no procedure does")
		plot := flags.String("plot", "", "draw the case's recorded log and the best fit into this SVG `file`")
		unit := pressureFlag(flags)
		asJSON := flags.Bool("json", false, "report as JSON")
		return func(p *program, args []string) error {
			if len(args) > 0 {
				return badCall("trace: no further word is wanted, got %q; the case is given as --case FILE", args[0])
			}
			if *caseFile == "" {
				return badCall("trace: say which case, as in --case FILE")
			}
			t, err := p.traceCase(*caseFile, *vehicle, *unit)
			if err != nil {
				return err
			}
			if *plot != "" {
				picture, err := plotFits(t.verdict, *unit)
				if err != nil {
					return err
				}
				if err := p.writeOutput(*plot, picture); err != nil {
					return err
				}
			}
			if *split {
				if err := p.findSplits(t); err != nil {
					return err
				}
			}
			if *asJSON {
				return p.printJSON(verdictJSON(t))
			}
			p.printVerdict(t, *all, *unit)
			return nil
		}
	},
}

// A traced case: what was found, on what, and what it comes to.
type traced struct {
	found      *circuit.Case
	circuit    *circuit.Circuit
	procedures []*procedure.Procedure
	verdict    *trace.Verdict
	tracer     *trace.Tracer
	splits     []trace.Split // of the verdict's inseparable groups, where they were asked for
}

func (p *program) traceCase(caseFile, vehicle string, unit pressureUnit) (*traced, error) {
	k, c, err := p.loadCase(caseFile, vehicle)
	if err != nil {
		return nil, err
	}
	n, err := airflow.Compile(c)
	if err != nil {
		return nil, err
	}
	procedures := procedure.For(n)
	if err := append(bindFindings(k, procedures), bindRepairs(k, c, procedures)...).Err(); err != nil {
		return nil, err
	}
	tracer, err := trace.New(n, trace.Options{Unit: string(unit), Cache: trace.CacheDir()})
	if err != nil {
		return nil, err
	}
	bar := p.newProgress("weighing the findings")
	verdict, err := tracer.Trace(p.ctx, k, bar.show)
	bar.clear()
	if err != nil {
		return nil, err
	}
	return &traced{found: k, circuit: c, procedures: procedures, verdict: verdict, tracer: tracer}, nil
}

// progress is one line on a terminal that says how far long work is; elsewhere it is silent.
type progress struct {
	p    *program
	what string
	on   bool
}

func (p *program) newProgress(what string) *progress {
	return &progress{p, what, p.terminal()}
}

func (b *progress) show(done, total int) {
	if b.on && total > 0 {
		fmt.Fprintf(b.p.err, "\r%s: %d %%  (Ctrl-C stops)", b.what, 100*done/total)
	}
}

func (b *progress) clear() {
	if b.on {
		fmt.Fprint(b.p.err, "\r\033[K")
	}
}
