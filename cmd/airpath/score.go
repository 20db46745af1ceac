package main

import (
	"flag"
	"os"

	"airpath/trace/score"
)

var scoreCommand = command{
	name:     "score",
	synopsis: "--circuit C [--cases N] [--seed S] [--faults 0|1|2 | --mixed] [--baselines K] [--only I] [--detail FILE] [--json]",
	about:    "measure how well the tracer does on simulated vehicles whose faults are hidden from it",
	details: `
Each vehicle has a fault drawn as often as the catalogue says it is met, at a severity that a driver or an inspector would notice.
It lies within 10 % of its file, has finer lines, chambers with a temperature and other walls than the tracer reckons with, and
needles that stay behind; it is read with instruments that err (1 psi, 1 s, one error for each gauge of up to 7 % of cut-out)
and listened to by somebody with an ear of his own who misses one hiss in twenty. The tracer is told what the driver noticed,
chooses procedures until it says that one part is as good as certain or that no test pays, and that part is changed. A
part that was good counts against it, and the work goes on.

With --baselines K the first K vehicles are played by three other ways of choosing as well, with the same reasoning and the same
rules: the order of published inspections, a random order, and the procedure that splits the standing faults in half. What the tracer's way of
choosing costs beside the best possible is worked out then too, on searches small enough to solve.

A fault is cleared in two ways: of having given what was found, which the odds tell, and altogether, where somebody has looked so well that it
is not there besides either. Innocents are counted for both, and so is a true fault that either is said of; of two faults one that has changed nothing of
what was found yet is rightly said not to have given it, and does not count.

With --mixed vehicles come in as the tracer expects them to: most with one fault, some with two, with nothing the matter, or with something that no
catalogue has; and what is noticed is now and then a mistake, as any reading is. What it says how often is true is measured by those; vehicles that all have just one fault are others than it reckons with.

Vehicle I of a seed is always the same. --detail writes what came of each; --only I plays one again and prints every step.
Ctrl-C ends the score with a report of what has been played.

JSON: circuit, vehicles, seed, cut_short, seconds, quiet, broken_off, optimum, strategies[] {strategy, cleared[], wronged[], first, first_low, first_high, part, mode, second, found,
group_median, group_1, group_2, group_3, innocents_cleared, innocents_looked_for, minutes, tracer_minutes_ratio, minutes_median, minutes_total, tests, good_parts,
log_score, brier, calibration_error, calibration_error_at_naming, shuffled, disturbed, bins[] {from, to, count, said, true}}
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		vehicle := flags.String("circuit", "", "a `circuit` of the library, a path, or -")
		call := score.Declare(flags)
		return func(p *program, args []string) error {
			if len(args) > 0 {
				return badCall("score: no further word is wanted, got %q", args[0])
			}
			if *vehicle == "" {
				return badCall("score: say of which circuit, as in --circuit gritter")
			}
			if err := call.Check(); err != nil {
				return badCall("%v", err)
			}
			n, err := p.loadNetwork(*vehicle)
			if err != nil {
				return err
			}
			return call.Do(p.ctx, n, p.out, p.err, p.terminal())
		}
	},
}

// terminal tells whether messages go to a person's screen.
func (p *program) terminal() bool {
	f, ok := p.err.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
