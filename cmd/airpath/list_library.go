package main

import (
	"fmt"
	"strings"

	"airpath/circuit"
	"airpath/circuits"
)

type listedCircuit struct {
	Circuit    string `json:"circuit"`
	Title      string `json:"title"`
	Components int    `json:"components"`
	Lines      int    `json:"lines"`
	Notes      string `json:"notes"`
}

// listCircuits lists the library, or tells of some vehicles what their files say about them.
func (p *program) listCircuits(names []string, asJSON bool) error {
	told := len(names) > 0
	if !told {
		names = circuits.Names()
	}
	var list []listedCircuit
	for _, name := range names {
		c, err := p.loadCircuit(name)
		if err != nil {
			return err
		}
		list = append(list, listedCircuit{name, c.Title, len(c.Components), len(c.Lines), c.Notes})
	}
	if asJSON {
		return p.printJSON(struct {
			Circuits []listedCircuit `json:"circuits"`
		}{list})
	}
	if told {
		for i, l := range list {
			if i > 0 {
				fmt.Fprintln(p.out)
			}
			fmt.Fprintf(p.out, "%s\n\n%s\n\n%d components, %d lines\n", l.Title, strings.TrimSpace(l.Notes), l.Components, l.Lines)
		}
		return nil
	}
	var t table
	t.row("CIRCUIT", "COMPONENTS", "LINES", "VEHICLE")
	for _, l := range list {
		t.row(l.Circuit, fmt.Sprint(l.Components), fmt.Sprint(l.Lines), l.Title)
	}
	t.print(p.out)
	return nil
}

type listedKind struct {
	Kind       string            `json:"kind"`
	Title      string            `json:"title"`
	About      string            `json:"about"`
	Ports      []listedPort      `json:"ports"`
	Parameters []listedParameter `json:"parameters"`
}

type listedParameter struct {
	Parameter string            `json:"parameter"`
	Dimension circuit.Dimension `json:"dimension"`
	Default   string            `json:"default"` // "" where a circuit file must give it
	Min       string            `json:"min"`
	Max       string            `json:"max"`
	About     string            `json:"about"`
	Source    string            `json:"source"` // of the default
}

type listedPort struct {
	Port   string         `json:"port"`
	Medium circuit.Medium `json:"medium"`
	Vent   bool           `json:"vent"`
	About  string         `json:"about"`
}

func (p *program) listKinds(asJSON bool) error {
	var list []listedKind
	for _, k := range circuit.Kinds() {
		l := listedKind{Kind: k.Name, Title: k.Title, About: k.About, Ports: []listedPort{}, Parameters: []listedParameter{}}
		for _, port := range k.Ports {
			l.Ports = append(l.Ports, listedPort{port.Name, port.Medium, port.Vent, port.About})
		}
		for _, q := range k.Params {
			l.Parameters = append(l.Parameters, listedParameter{q.Name, q.Dimension, q.Default, q.Min, q.Max, q.About, q.Source})
		}
		list = append(list, l)
	}
	if asJSON {
		return p.printJSON(struct {
			Kinds []listedKind `json:"kinds"`
		}{list})
	}
	var t table
	t.row("KIND", "PORTS", "WHAT IT DOES")
	for _, l := range list {
		ports := make([]string, len(l.Ports))
		for i, port := range l.Ports {
			ports[i] = port.Port
		}
		t.row(l.Kind, strings.Join(ports, " "), l.About)
	}
	t.print(p.out)
	fmt.Fprintf(p.out, "\n%d kinds\n", len(list))
	return nil
}
