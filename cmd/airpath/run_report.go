package main

import (
	"fmt"
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

func (p *program) printRun(r ranProcedure, unit pressureUnit) {
	fmt.Fprintf(p.out, "%s, on %s\n", r.procedure.Title, r.circuit.Title)
	for _, f := range r.faults {
		fmt.Fprintf(p.out, "with %s\n", faultInWords(r.circuit, f, unit))
	}
	fmt.Fprintln(p.out)
	if r.resumed {
		fmt.Fprintf(p.out, "resumed as a run had left it, and not brought to its starting state: %s\n\n", r.procedure.Start.Title)
	}
	for _, o := range []procedure.Outcome{r.healthy, r.faulty} {
		if o.Undone != "" {
			fmt.Fprintf(p.out, "could not be done: %s\n", o.Undone)
		}
		if o.Short != "" {
			fmt.Fprintf(p.out, "done although %s\n", o.Short)
		}
	}
	var t table
	head := []string{"READING", "PLACE", "IN GOOD ORDER"}
	switch {
	case r.resumed:
		head[2] = "AS RESUMED"
	case len(r.faults) > 0:
		head = append(head, "WITH FAULT")
	}
	t.row(append(head, "LIMIT")...)
	quiet := 0
	for i, reading := range r.procedure.Readings {
		row := []string{reading.ID, reading.Place, shown(reading, r.healthy.Values[i], unit)}
		if reading.Form == procedure.YesNo && row[2] == "no" && shown(reading, r.faulty.Values[i], unit) == "no" {
			quiet++
			continue
		}
		if len(r.faults) > 0 && !r.resumed {
			row = append(row, shown(reading, r.faulty.Values[i], unit))
		}
		first := true
		for _, l := range reading.Limits {
			if l.Usual {
				continue
			}
			outcome := "meets "
			if !l.Meets(r.faulty.Values[i]) {
				outcome = "MISSES "
			}
			text := fmt.Sprintf("%s%s (%s)", outcome, l.Wanted(), l.Source)
			if first {
				t.row(append(row, text)...)
				first = false
				continue
			}
			blank := make([]string, len(row))
			t.row(append(blank, text)...)
		}
		if first {
			t.row(row...)
		}
	}
	t.print(p.out)
	if quiet > 0 {
		fmt.Fprintf(p.out, "and no at %d other places\n", quiet)
	}
}

// faultInWords names a fault with its severity: "compressor/worn; share of output lost 40 %".
func faultInWords(c *circuit.Circuit, f airflow.Fault, unit pressureUnit) string {
	m, err := airflow.ModeOf(c, f)
	if err != nil || m.Severity.Means == "" {
		return faultName(f)
	}
	return fmt.Sprintf("%s; %s %s", faultName(f), m.Severity.Means, unit.format(f.Severity, m.Severity.Dimension))
}

type jsonRun struct {
	Circuit   string        `json:"circuit"`
	Procedure string        `json:"procedure"`
	Faults    []string      `json:"faults"`
	Resumed   bool          `json:"resumed"`
	Undone    string        `json:"undone"`
	Short     string        `json:"short"`
	Readings  []jsonReading `json:"readings"`
}

type jsonReading struct {
	Reading   string            `json:"reading"`
	Place     string            `json:"place"`
	Title     string            `json:"title"`
	Form      procedure.Form    `json:"form"`
	Dimension circuit.Dimension `json:"dimension"`
	Healthy   *float64          `json:"healthy"`
	Value     *float64          `json:"value"`
	Limits    []jsonRunLimit    `json:"limits"`
}

type jsonRunLimit struct {
	Limit  string `json:"limit"`
	Source string `json:"source"`
	Pass   bool   `json:"pass"`
}

func (r ranProcedure) json() jsonRun {
	out := jsonRun{
		Circuit: r.circuit.Name, Procedure: r.procedure.ID, Faults: []string{}, Readings: []jsonReading{}, Resumed: r.resumed,
		Undone: r.faulty.Undone, Short: r.faulty.Short,
	}
	for _, f := range r.faults {
		out.Faults = append(out.Faults, f.String())
	}
	for i, reading := range r.procedure.Readings {
		j := jsonReading{Reading: reading.ID, Place: reading.Place, Title: reading.Title, Form: reading.Form, Dimension: reading.Dimension, Limits: []jsonRunLimit{}}
		j.Healthy, j.Value = number(r.healthy.Values[i]), number(r.faulty.Values[i])
		if reading.Form == procedure.YesNo {
			j.Healthy, j.Value = number(reading.Judge.Says(r.healthy.Values[i])), number(reading.Judge.Says(r.faulty.Values[i]))
		}
		if r.resumed && len(r.faults) > 0 {
			j.Healthy = nil
		}
		for _, l := range reading.Limits {
			if !l.Usual {
				j.Limits = append(j.Limits, jsonRunLimit{l.Wanted(), l.Source, l.Meets(r.faulty.Values[i]) && !math.IsNaN(r.faulty.Values[i])})
			}
		}
		out.Readings = append(out.Readings, j)
	}
	return out
}
