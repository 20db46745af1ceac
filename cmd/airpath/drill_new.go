package main

import (
	"flag"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/trace"
	"airpath/trace/drill"
)

// endings of the files that belong to a drill.
const (
	exerciseEnding = ".exercise.json"
	keyEnding      = ".key.json"
)

var drillNewCommand = command{
	name:     "new",
	synopsis: "--circuit C (--fault COMPONENT/MODE[=SEVERITY]... --complaint TEXT | --level L [--parts N]) -o NAME [--title T] [--allow P[=MINUTES]]... [--hints] [--seed N] [--notes T] [--jurisdiction J]",
	about:    "hide faults in a vehicle and write NAME.exercise.json for the trainee and NAME.key.json for the instructor",
	details: `
The vehicle with its faults, scattered a little around its file, is simulated through every procedure that is allowed, and
what a technician would note is written down. Without --allow every procedure is allowed, at its usual minutes. --hints lets
the trainee see the tracer's suspects. The same --seed makes the same files.

  airpath drill new --circuit gritter --fault "governor/cut-out low" --complaint "never gets up to 120 psi" -o monday

With --level, faults are drawn at random, as often as they are met, until one is as hard as wanted: "first day", apprentice,
technician or master. The complaint is then what most drivers would say of what the vehicle shows.

  airpath drill new --circuit gritter --level apprentice --seed 7 -o tuesday

It prints how hard the exercise is, and the way that the tracer itself would take.
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		var faults, allow []string
		var wish drill.Wish
		s := drill.Setting{Minutes: map[string]float64{}}
		flags.StringVar(&s.Circuit, "circuit", "", "a `circuit` of the library or a path, as the exercise is to name it")
		several(flags, "fault", "a `fault` to hide: component/mode or component/mode=severity; may be given several times", &faults)
		several(flags, "allow", "a `procedure` that is allowed, or procedure=minutes to set what it costs; may be given several times", &allow)
		flags.StringVar(&s.Title, "title", "", "the exercise's `title`")
		flags.StringVar(&s.Complaint, "complaint", "", "what the driver says, as `text`")
		flags.StringVar(&s.Jurisdiction, "jurisdiction", "", "whose limits apply: `one` of "+circuit.Listed(circuit.Jurisdictions)+"; US if not given")
		flags.StringVar(&s.Notes, "notes", "", "the instructor's notes, for the key, as `text`")
		flags.BoolVar(&s.Hints, "hints", false, "the trainee may see the tracer's suspects")
		flags.Uint64Var(&s.Seed, "seed", 1, "the `number` that the vehicle's scatter follows from")
		flags.StringVar(&wish.Level, "level", "", "draw an exercise of this `level` at random: one of "+circuit.Listed(drill.Levels))
		flags.IntVar(&wish.Parts, "parts", 1, "how many parts are at fault in one that is drawn: `1 or 2`")
		out := flags.String("o", "", "the `name` of both files, without their endings")
		return func(p *program, args []string) error {
			switch {
			case len(args) > 0:
				return badCall("drill new: no further word is wanted, got %q", args[0])
			case s.Circuit == "" || s.Circuit == "-":
				return badCall("drill new: say in which vehicle, as in --circuit gritter")
			case wish.Level != "" && (len(faults) > 0 || s.Complaint != ""):
				return badCall("drill new: with --level, faults and complaint are drawn; leave --fault and --complaint out")
			case wish.Level != "" && !slices.Contains(drill.Levels, wish.Level):
				return badCall("drill new: no level %q; %s", wish.Level, circuit.Suggest(wish.Level, drill.Levels))
			case wish.Level != "" && wish.Parts != 1 && wish.Parts != 2:
				return badCall("drill new: --parts is 1 or 2, got %d", wish.Parts)
			case wish.Level != "":
			case len(faults) == 0:
				return badCall("drill new: say which fault to hide, as in --fault \"governor/cut-out low\"; airpath list faults --circuit %s names them", s.Circuit)
			case strings.TrimSpace(s.Complaint) == "":
				return badCall("drill new: say what the driver complains of, as in --complaint \"builds air slowly\"")
			}
			if *out == "" || *out == "-" {
				return badCall("drill new: say what the files are to be called, as in -o monday")
			}
			wish.Setting = s
			return p.drillNew(wish, faults, allow, *out)
		}
	},
}

// several collects a flag that may be given several times.
func several(flags *flag.FlagSet, name, usage string, into *[]string) {
	flags.Func(name, usage, func(s string) error {
		*into = append(*into, s)
		return nil
	})
}

func (p *program) drillNew(w drill.Wish, faults, allow []string, out string) error {
	n, err := p.loadNetwork(w.Circuit)
	if err != nil {
		return err
	}
	for _, text := range faults {
		f, err := airflow.ParseFault(n.Circuit(), text)
		if err != nil {
			return badCall("drill new: %v", err)
		}
		w.Faults = append(w.Faults, f)
	}
	for _, text := range allow {
		id, minutes, given := strings.Cut(text, "=")
		w.Allowed = append(w.Allowed, id)
		if given {
			m, err := strconv.ParseFloat(minutes, 64)
			if err != nil || !(m > 0 && m < 1e4) {
				return badCall("drill new: --allow %s: %q is no number of minutes", text, minutes)
			}
			w.Minutes[id] = m
		}
	}
	t, err := tracerOf(n, "psi")
	if err != nil {
		return err
	}
	e, k, err := p.makeExercise(n, t, w)
	if err != nil {
		return err
	}
	if err := circuit.Save(out+exerciseEnding, e.Write()); err != nil {
		return err
	}
	if err := circuit.Save(out+keyEnding, k.Write()); err != nil {
		return err
	}
	p.printMade(e, k, out)
	return nil
}

// makeExercise that is told, or draws one.
func (p *program) makeExercise(n *airflow.Network, t *trace.Tracer, w drill.Wish) (*drill.Exercise, *drill.Key, error) {
	if w.Level == "" {
		if w.Title == "" {
			w.Title = w.Complaint
		}
		bar := p.newProgress("simulating the hidden vehicle")
		defer bar.clear()
		return drill.New(p.ctx, n, t, w.Setting, bar.show)
	}
	bar := p.newProgress("drawing hidden vehicles")
	defer bar.clear()
	return drill.Draw(p.ctx, n, t, w, func(_, done, total int) { bar.show(done, total) })
}

// printMade tells the instructor what the exercise is like.
func (p *program) printMade(e *drill.Exercise, k *drill.Key, out string) {
	d := k.Difficulty
	fmt.Fprintf(p.out, "%s: level %s\n", e.Title, d.Level)
	if e.Complaint != e.Title {
		fmt.Fprintf(p.out, "  complaint                             %s\n", e.Complaint)
	}
	fmt.Fprintf(p.out, "  parts at fault                        %d\n", d.Parts)
	fmt.Fprintf(p.out, "  procedures on the tracer's own way    %d, %.0f minutes with good parts fitted\n", d.Procedures, k.Cost)
	fmt.Fprintf(p.out, "  faults that no procedure tells apart  %d\n", d.Group)
	fmt.Fprintf(p.out, "  most that a good part is suspected    %.0f %%\n", 100*d.Misleading)
	for i, s := range k.Best {
		at := ""
		if len(s.Places) > 0 {
			at = " at " + strings.Join(s.Places, ", ")
		}
		fmt.Fprintf(p.out, "  %d. %s%s  (%.0f min)\n", i+1, s.Procedure, at, s.Minutes)
	}
	fmt.Fprintf(p.out, "written: %s for the trainee, %s for the instructor\n", out+exerciseEnding, out+keyEnding)
}
