package main

import (
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

type listedFault struct {
	Fault     string            `json:"fault"` // as --fault of airpath run takes it
	Component string            `json:"component"`
	Mode      string            `json:"mode"`
	Means     string            `json:"severity_means"`
	Dimension circuit.Dimension `json:"severity_dimension"`
	Mild      float64           `json:"mild_si"`
	Typical   float64           `json:"typical_si"`
	Severe    float64           `json:"severe_si"`
}

func (p *program) listFaults(name string, unit pressureUnit, asJSON bool) error {
	c, err := p.loadCircuit(name)
	if err != nil {
		return err
	}
	list := []listedFault{}
	for _, f := range airflow.Catalogue(c) {
		m, err := airflow.ModeOf(c, f)
		if err != nil {
			return err
		}
		s := m.Severity
		list = append(list, listedFault{f.Target + "/" + f.Mode, f.Target, f.Mode, s.Means, s.Dimension, s.Mild, s.Typical, s.Severe})
	}
	if asJSON {
		return p.printJSON(struct {
			Faults []listedFault `json:"faults"`
		}{list})
	}
	var t table
	t.row("FAULT", "MILD", "TYPICAL", "SEVERE", "SEVERITY MEANS")
	for _, l := range list {
		show := func(si float64) string { return unit.format(si, l.Dimension) }
		t.row(l.Fault, show(l.Mild), show(l.Typical), show(l.Severe), l.Means)
	}
	t.print(p.out)
	fmt.Fprintf(p.out, "\n%d faults\n", len(list))
	return nil
}
