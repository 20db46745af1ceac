package main

import (
	"flag"
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
)

// What air does on the road: brakes, descent and moisture are asked alike.

// A roadCall is what all three are asked.
type roadCall struct {
	vehicle string
	faults  []string
	json    bool
}

func (r *roadCall) declare(flags *flag.FlagSet) {
	flags.StringVar(&r.vehicle, "circuit", "", "a `circuit` of the library, a path, or -")
	flags.Func("fault", "a `fault` of the vehicle: component/mode or component/mode=severity; may be given several times", func(s string) error {
		r.faults = append(r.faults, s)
		return nil
	})
	flags.BoolVar(&r.json, "json", false, "report as JSON")
}

// quantityFlag declares a flag that takes a quantity with its unit.
func quantityFlag(flags *flag.FlagSet, into *float64, name string, d circuit.Dimension, usual, usage string) {
	*into = circuit.MustQuantity(usual, d).SI
	flags.Func(name, fmt.Sprintf("%s; %s if not given", usage, usual), func(s string) error {
		q, err := circuit.ParseQuantity(s, d)
		if err != nil {
			return err
		}
		*into = q.SI
		return nil
	})
}

// load makes the vehicle that a call is about.
func (p *program) loadVehicle(command string, call roadCall, args []string) (*effort.Vehicle, error) {
	switch {
	case len(args) > 0:
		return nil, badCall("%s: no further word is wanted, got %q", command, args[0])
	case call.vehicle == "":
		return nil, badCall("%s: say on which vehicle, as in --circuit gritter", command)
	}
	n, err := p.loadNetwork(call.vehicle)
	if err != nil {
		return nil, err
	}
	var faults []airflow.Fault
	for _, text := range call.faults {
		f, err := airflow.ParseFault(n.Circuit(), text)
		if err != nil {
			return nil, badCall("%s: %v", command, err)
		}
		faults = append(faults, f)
	}
	return effort.New(n, faults)
}

// printHead says what vehicle and what faults a report is about.
func (p *program) printHead(what string, v *effort.Vehicle, unit pressureUnit) {
	fmt.Fprintf(p.out, "%s, %s\n", what, v.Circuit.Title)
	for _, f := range v.Faults {
		fmt.Fprintf(p.out, "with %s\n", faultInWords(v.Circuit, f, unit))
	}
	fmt.Fprintln(p.out)
}

func faultTexts(v *effort.Vehicle) []string {
	texts := []string{}
	for _, f := range v.Faults {
		texts = append(texts, f.String())
	}
	return texts
}

func kilonewtons(force float64) string {
	return circuit.Format(force, circuit.Force, "kN", 1)
}

func millimetres(length float64) string {
	return circuit.Format(length, circuit.Length, "mm", 1)
}

func degrees(kelvin float64) string {
	return circuit.Format(kelvin, circuit.Temperature, "C", 0)
}

// wheelName is the brake's own name, or the chamber's where there is no brake.
func wheelName(w *effort.Wheel) string {
	if w.Brake != nil {
		return w.Brake.Name
	}
	return w.Chamber.Name
}

func meets(ok bool) string {
	if ok {
		return "meets"
	}
	return "MISSES"
}
