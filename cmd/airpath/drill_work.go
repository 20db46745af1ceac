package main

import (
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/drill"
)

var drillWorkCommand = command{
	name:     "work",
	synopsis: "--exercise E --work W [--trainee NAME] show | prepare ID | do PROCEDURE [PLACE...] | clear PART | doubt PART | fit PART/MODE | name PART/MODE...",
	about:    "take one step of the work on an exercise, and write it into the work's file",
	details: `
The first step makes the file W and needs --trainee. Each call takes one step:

  show                      the complaint, what is allowed at which minutes, and the work so far
  prepare ID                see to something before a procedure; airpath drill work ... prepare lists what there is
  do PROCEDURE [PLACE...]   carry it out; on a round by ear, at the places given
  clear PART, doubt PART    hold a part to be good, and take that back
  fit PART/MODE             change or mend a part on trial
  name PART/MODE...         the answer, in place of any before
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		exercise := flags.String("exercise", "", "the exercise's `file`")
		work := flags.String("work", "", "the work's `file`, made if there is none")
		trainee := flags.String("trainee", "", "whose work it is, as a `name`")
		return func(p *program, args []string) error {
			switch {
			case *exercise == "":
				return badCall("drill work: say on which exercise, as in --exercise monday.exercise.json")
			case *work == "":
				return badCall("drill work: say in which file the work is kept, as in --work mine.work.json")
			case len(args) == 0:
				return badCall("drill work: say what to do, one of show, prepare, do, clear, doubt, fit, name")
			}
			return p.drillWork(*exercise, *work, *trainee, args)
		}
	},
}

func (p *program) drillWork(exercise, work, trainee string, args []string) error {
	e, n, err := p.loadExercise(exercise)
	if err != nil {
		return err
	}
	a, err := p.attempt(e, work, trainee)
	if err != nil {
		return err
	}
	if args[0] == "show" {
		p.showAttempt(a)
		return nil
	}
	if err := p.takeStep(a, n, args[0], args[1:]); err != nil {
		return err
	}
	return circuit.Save(work, a.HandIn().Write())
}

// attempt that is kept in a file, or a new one.
func (p *program) attempt(e *drill.Exercise, work, trainee string) (*drill.Attempt, error) {
	text, err := os.ReadFile(work)
	if errors.Is(err, fs.ErrNotExist) {
		if strings.TrimSpace(trainee) == "" {
			return nil, badCall("drill work: there is no file %s yet; say whose work it is to be, as in --trainee \"A. Prentice\"", work)
		}
		return drill.Begin(e, trainee), nil
	}
	if err != nil {
		return nil, err
	}
	w, err := drill.ReadWork(work, text)
	if err != nil {
		return nil, err
	}
	return drill.Resume(e, w)
}

func (p *program) takeStep(a *drill.Attempt, n *airflow.Network, word string, args []string) error {
	words := []string{"show", "prepare", "do", "clear", "doubt", "fit", "name"}
	switch {
	case !slices.Contains(words, word):
		return badCall("drill work: there is no step %q; %s", word, circuit.Suggest(word, words))
	case word == "prepare" && len(args) == 0:
		for _, q := range procedure.Preparations() {
			fmt.Fprintf(p.out, "  %-14s %s\n", q.ID, q.Words)
		}
		return badCall("drill work: say what to prepare")
	case len(args) == 0:
		return badCall("drill work: %s what?", word)
	case len(args) > 1 && word != "do" && word != "name":
		return badCall("drill work: %s takes one word, got %q too", word, args[1])
	}
	switch word {
	case "prepare":
		return a.Prepare(args[0])
	case "do":
		seen, err := a.Do(args[0], args[1:]...)
		if err != nil {
			return badCall("drill work: %v", err)
		}
		p.printSeen(a, args[0], seen)
		return nil
	case "clear", "doubt":
		if _, err := partNamed(n.Circuit(), args[0]); err != nil {
			return badCall("drill work: %v", err)
		}
		if word == "clear" {
			a.Clear(args[0])
		} else {
			a.Doubt(args[0])
		}
		return nil
	}
	var named []drill.Named
	for _, text := range args {
		f, err := airflow.ParseFault(n.Circuit(), text)
		if err != nil {
			return badCall("drill work: %v", err)
		}
		named = append(named, drill.Named{Part: f.Target, Mode: f.Mode})
	}
	if word == "fit" {
		a.Fit(named[0])
	} else {
		a.Name(named...)
	}
	return nil
}

// partNamed finds a component or line of a circuit and what a person calls it.
func partNamed(c *circuit.Circuit, id string) (string, error) {
	if part := c.Component(id); part != nil {
		return part.Name, nil
	}
	if l := c.Line(id); l != nil {
		return l.Name, nil
	}
	var ids []string
	for _, part := range c.Components {
		ids = append(ids, part.ID)
	}
	for _, l := range c.Lines {
		ids = append(ids, l.ID)
	}
	return "", fmt.Errorf("no part %q on this vehicle; %s", id, circuit.Suggest(id, ids))
}

func (p *program) printSeen(a *drill.Attempt, id string, seen []drill.Observed) {
	if undone := a.Exercise.Allows(id).Undone; undone != "" {
		fmt.Fprintf(p.out, "could not be done: %s\n", undone)
	}
	var t table
	for _, o := range seen {
		t.row("  "+o.Reading, o.Place, o.Result)
	}
	t.print(p.out)
	fmt.Fprintf(p.out, "%.0f minutes so far\n", a.Minutes())
}

func (p *program) showAttempt(a *drill.Attempt) {
	e := a.Exercise
	fmt.Fprintf(p.out, "%s\n%s: %q\n%s to name\n\nAllowed:\n", e.Title, e.Circuit, e.Complaint, counted(e.Parts, "part"))
	var t table
	for _, x := range e.Allowed {
		minutes := fmt.Sprintf("%.0f min", x.SetUp+x.Minutes)
		if x.Round {
			minutes = "up to " + minutes
		}
		t.row("  "+x.Procedure, minutes)
	}
	t.print(p.out)
	fmt.Fprintf(p.out, "\nDone, %.0f minutes:\n", a.Minutes())
	for _, s := range a.Steps() {
		fmt.Fprintf(p.out, "  %s\n", sayStep(s))
	}
}

func sayStep(s drill.Step) string {
	named := func(ns []drill.Named) string {
		var out []string
		for _, n := range ns {
			out = append(out, n.Part+"/"+n.Mode)
		}
		return strings.Join(out, ", ")
	}
	switch {
	case s.Prepare != "":
		return "prepare " + s.Prepare
	case s.Do != nil:
		return strings.TrimSpace("do " + s.Do.Procedure + " " + strings.Join(s.Do.Places, " "))
	case s.Clear != "":
		return "clear " + s.Clear
	case s.Doubt != "":
		return "doubt " + s.Doubt
	case s.Fit != nil:
		return "fit " + named([]drill.Named{*s.Fit})
	}
	return "name " + named(s.Name)
}
