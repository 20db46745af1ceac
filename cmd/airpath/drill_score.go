package main

import (
	"bytes"
	"flag"
	"fmt"

	"airpath/circuit"
	"airpath/circuits"
	"airpath/trace/drill"
)

var drillScoreCommand = command{
	name:     "score",
	synopsis: "--exercise E --key K WORK... [--csv F] [--json]",
	about:    "mark trainees' works, step by step, against the tracer's own way",
	details: `
The score is 100 × the minutes of the tracer's own way / the minutes of the trainee's, good parts that were fitted and what
was left to find counted in, times the share of the parts at fault that were named. The key to an exercise of the library need
not be given. --csv writes a row for each work, for the class. An unsafe order is flagged beside the score.

JSON: works[] {title, trainee, score, right, right_modes, parts, best, minutes, making_sure, fitted, good_parts, to_finish, lost, bits,
best_bits, wrong_clears, clears, backed_clears, could_clear, unsafe[], review[] {step, did, minutes, bits, better, says,
after, unsafe}}
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		exercise := flags.String("exercise", "", "the exercise's `file`")
		key := flags.String("key", "", "the key's `file`")
		csv := flags.String("csv", "", "write the class's results to this `file`")
		asJSON := flags.Bool("json", false, "report as JSON")
		return func(p *program, args []string) error {
			if *key == "" && circuits.DrillKey(*exercise) != nil {
				*key = *exercise
			}
			switch {
			case *exercise == "" || *key == "":
				return badCall("drill score: say which exercise and which key, as in --exercise monday.exercise.json --key monday.key.json")
			case len(args) == 0:
				return badCall("drill score: say which work to mark")
			}
			return p.drillScore(*exercise, *key, args, *csv, *asJSON)
		}
	},
}

func (p *program) drillScore(exercise, key string, works []string, csv string, asJSON bool) error {
	e, n, err := p.loadExercise(exercise)
	if err != nil {
		return err
	}
	name, text, err := p.readDrill(key, circuits.DrillKey)
	if err != nil {
		return err
	}
	k, err := drill.ReadKey(name, text)
	if err != nil {
		return err
	}
	t, err := tracerOf(n, "psi")
	if err != nil {
		return err
	}
	if err := e.Fits(n.Circuit(), t.Procedures()); err != nil {
		return fmt.Errorf("%s: %w", exercise, err)
	}
	if err := k.Fits(e, n.Circuit()); err != nil {
		return fmt.Errorf("%s: %w", key, err)
	}
	var class []*drill.Marks
	for _, path := range works {
		name, text, err := p.readInput(path)
		if err != nil {
			return err
		}
		w, err := drill.ReadWork(name, text)
		if err != nil {
			return err
		}
		bar := p.newProgress("marking " + w.Trainee)
		m, err := drill.Mark(p.ctx, t, t.Procedures(), e, k, w, bar.show)
		bar.clear()
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		class = append(class, m)
	}
	if csv != "" {
		var b bytes.Buffer
		if err := drill.WriteClass(&b, class); err != nil {
			return err
		}
		if csv == "-" {
			return p.writeOutput(csv, b.Bytes())
		}
		if err := circuit.Save(csv, b.Bytes()); err != nil {
			return err
		}
	}
	if asJSON {
		return p.printJSON(struct {
			Works []*drill.Marks `json:"works"`
		}{class})
	}
	for i, m := range class {
		if i > 0 {
			fmt.Fprintln(p.out)
		}
		p.printMarks(m)
	}
	return nil
}

func (p *program) printMarks(m *drill.Marks) {
	fmt.Fprintf(p.out, "%s, %s: %.0f of 100\n", m.Trainee, m.Title, m.Score)
	fmt.Fprintf(p.out, "  named rightly          %d of %s, %d with the right fault\n", m.Right, counted(m.Parts, "part"), m.RightModes)
	fmt.Fprintf(p.out, "  minutes                %.0f of procedures, %.0f for %s fitted or named, %.0f still to go; the tracer's own way takes %.0f\n",
		m.Minutes, m.Fitted, counted(m.GoodParts, "good part"), m.ToFinish, m.Best)
	if m.Sure > 0 {
		fmt.Fprintf(p.out, "  making sure            %.0f of these minutes, not counted\n", m.Sure)
	}
	fmt.Fprintf(p.out, "  procedures told        %.1f bits, where %.1f were to be had\n", m.Bits, m.BestBits)
	fmt.Fprintf(p.out, "  held to be good        %s, %d borne out by the findings, %d wrongly; the findings cleared %d\n",
		counted(m.Clears, "part"), m.BackedClears, m.WrongClears, m.CouldClear)
	if len(m.Unsafe) > 0 {
		fmt.Fprintf(p.out, "  UNSAFE ORDER           in %s\n", counted(len(m.Unsafe), "step"))
	}
	fmt.Fprintln(p.out, "\nStep by step:")
	for _, r := range m.Review {
		fmt.Fprintf(p.out, "  %2d. %s\n      %s\n", r.Step, r.Did, wrap(r.Says, "      ", 110))
		if r.After != "" {
			fmt.Fprintf(p.out, "      %s\n", wrap(r.After, "      ", 110))
		}
		if r.Unsafe != "" {
			fmt.Fprintf(p.out, "      UNSAFE: %s\n", wrap(r.Unsafe, "              ", 110))
		}
	}
}
