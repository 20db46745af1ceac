package main

import (
	"fmt"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

type listedProcedure struct {
	Procedure string          `json:"procedure"`
	Title     string          `json:"title"`
	About     string          `json:"about"`
	Minutes   float64         `json:"minutes"`
	Tools     []string        `json:"tools"`
	Cautions  []string        `json:"cautions"`
	Start     string          `json:"start"`  // the state that it begins in
	SetUp     []string        `json:"set_up"` // steps to that state, from a vehicle without air
	Steps     []string        `json:"steps"`
	Readings  []listedReading `json:"readings"`
}

type listedReading struct {
	Reading    string            `json:"reading"`
	Place      string            `json:"place,omitempty"`
	Title      string            `json:"title"`
	Form       procedure.Form    `json:"form"`
	Dimension  circuit.Dimension `json:"dimension,omitempty"`
	Instrument string            `json:"instrument"`
	Limits     []listedLimit     `json:"limits,omitempty"`
}

type listedLimit struct {
	Wanted       string `json:"wanted"`
	Jurisdiction string `json:"jurisdiction"`
	Source       string `json:"source"`
}

// listProcedures lists all procedures in short, or the named ones in full.
func (p *program) listProcedures(name string, only []string, unit pressureUnit, asJSON bool) error {
	n, err := p.loadNetwork(name)
	if err != nil {
		return err
	}
	all := procedure.For(n)
	chosen := all
	if len(only) > 0 {
		chosen = nil
		for _, id := range only {
			proc, err := procedureNamed(all, id)
			if err != nil {
				return err
			}
			chosen = append(chosen, proc)
		}
	}
	list := make([]listedProcedure, 0, len(chosen))
	for _, proc := range chosen {
		list = append(list, describe(proc))
	}
	if asJSON {
		return p.printJSON(struct {
			Procedures []listedProcedure `json:"procedures"`
		}{list})
	}
	if len(only) > 0 {
		for i, proc := range chosen {
			if i > 0 {
				fmt.Fprintln(p.out)
			}
			p.printProcedure(proc, unit)
		}
		return nil
	}
	var t table
	t.row("PROCEDURE", "MINUTES", "READINGS", "TITLE")
	for _, l := range list {
		t.row(l.Procedure, fmt.Sprintf("%.0f", l.Minutes), readingNames(l.Readings), l.Title)
	}
	t.print(p.out)
	fmt.Fprintf(p.out, "\n%d procedures; add the name of one to see its steps, readings and limits\n", len(list))
	return nil
}

// procedureNamed finds a procedure of a vehicle, or says which there are.
func procedureNamed(all []*procedure.Procedure, id string) (*procedure.Procedure, error) {
	i := slices.IndexFunc(all, func(p *procedure.Procedure) bool { return p.ID == id })
	if i >= 0 {
		return all[i], nil
	}
	names := make([]string, len(all))
	for i, p := range all {
		names[i] = p.ID
	}
	return nil, badCall("no procedure %q on this vehicle; there are %s", id, strings.Join(names, ", "))
}

func describe(proc *procedure.Procedure) listedProcedure {
	l := listedProcedure{
		Procedure: proc.ID, Title: proc.Title, About: proc.About, Minutes: proc.SetUp + proc.Minutes,
		Tools: proc.Tools, Cautions: proc.Cautions, SetUp: []string{}, Steps: []string{}, Readings: []listedReading{},
	}
	if proc.Start != nil {
		l.Start = proc.Start.Title
		for _, s := range proc.Start.All() {
			l.SetUp = append(l.SetUp, s.Words("psi"))
		}
	}
	for _, s := range proc.Steps {
		l.Steps = append(l.Steps, s.Words("psi"))
	}
	for _, r := range proc.Readings {
		reading := listedReading{Reading: r.ID, Place: r.Place, Title: r.Title, Form: r.Form, Dimension: r.Dimension, Instrument: r.Instrument}
		for _, limit := range r.Limits {
			reading.Limits = append(reading.Limits, listedLimit{limit.Wanted(), limit.Jurisdiction, limit.Source})
		}
		l.Readings = append(l.Readings, reading)
	}
	return l
}

func (p *program) printProcedure(proc *procedure.Procedure, unit pressureUnit) {
	fmt.Fprintf(p.out, "%s (%s), %.0f min\n  %s\n", proc.Title, proc.ID, proc.SetUp+proc.Minutes, wrap(proc.About, "  ", textWidth-2))
	p.printHowTo(proc, unit)
	fmt.Fprintln(p.out, "  Readings, as a case file names them")
	var t table
	for _, r := range proc.Readings {
		t.row("    "+r.ID, r.Place, r.Title, string(r.Form), r.Instrument)
		for _, l := range r.Limits {
			t.row("", "", "  limit: "+l.Wanted(), l.Jurisdiction, l.Source)
		}
	}
	t.print(p.out)
}

// readingNames lists readings once each, those taken at several places with how many.
func readingNames(readings []listedReading) string {
	var names []string
	count := map[string]int{}
	for _, r := range readings {
		if count[r.Reading] == 0 {
			names = append(names, r.Reading)
		}
		count[r.Reading]++
	}
	for i, name := range names {
		if count[name] > 1 {
			names[i] = fmt.Sprintf("%s (%d places)", name, count[name])
		}
	}
	return strings.Join(names, ", ")
}
