package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/circuits"
)

const standardInput = "standard input"

// readInput reads a file; "-" is standard input. The name is what messages call it.
func (p *program) readInput(path string) (name string, text []byte, err error) {
	if path == "-" {
		text, err = io.ReadAll(p.in)
		return standardInput, text, err
	}
	text, err = os.ReadFile(path)
	return path, text, err
}

// loadCircuit reads a vehicle: a name of the library, a path, or "-".
func (p *program) loadCircuit(name string) (*circuit.Circuit, error) {
	if name == "-" {
		name, text, err := p.readInput(name)
		if err != nil {
			return nil, err
		}
		return circuits.Read(name, text)
	}
	c, err := circuits.Load(name)
	if err != nil && !isPath(name) && !slices.Contains(circuits.Names(), name) {
		return nil, badCall("%v", err)
	}
	return c, err
}

// isPath tells whether a circuit is meant by the path of its file and not by its name in the library.
func isPath(name string) bool {
	return strings.ContainsAny(name, `/\`) || strings.HasSuffix(name, ".toml")
}

// loadNetwork reads a vehicle and makes it ready to run.
func (p *program) loadNetwork(name string) (*airflow.Network, error) {
	c, err := p.loadCircuit(name)
	if err != nil {
		return nil, err
	}
	return airflow.Compile(c)
}

// loadCase reads a case and the vehicle that it is about: the one that the person named, or else the one that the case
// names, in the library or beside the case's file.
func (p *program) loadCase(path, vehicle string) (*circuit.Case, *circuit.Circuit, error) {
	if path == "-" && vehicle == "-" {
		return nil, nil, badCall("only one of --circuit and --case can come from standard input")
	}
	name, text, err := p.readInput(path)
	if err != nil {
		return nil, nil, err
	}
	k, err := circuit.ReadCase(name, text)
	if err != nil {
		return nil, nil, err
	}
	if err := loadLogs(k, path); err != nil {
		return nil, nil, err
	}
	c, err := p.vehicleOf(k, path, vehicle)
	if err != nil {
		return nil, nil, err
	}
	problems := circuit.CheckCase(k, c)
	if err := problems.Err(); err != nil {
		return nil, nil, err
	}
	for _, w := range problems {
		fmt.Fprintln(p.err, w.Error())
	}
	return k, c, nil
}

func (p *program) vehicleOf(k *circuit.Case, path, vehicle string) (*circuit.Circuit, error) {
	if vehicle != "" {
		return p.loadCircuit(vehicle)
	}
	vehicle = k.Circuit
	c, err := circuits.Load(beside(path, vehicle))
	if err != nil {
		return nil, fmt.Errorf("the vehicle of this case: %w", err)
	}
	return c, nil
}

// beside is a circuit as the file that names it means it: of the library, or by its path from the file's own folder.
func beside(file, vehicle string) string {
	if isPath(vehicle) && !filepath.IsAbs(vehicle) && file != "-" {
		return filepath.Join(filepath.Dir(file), vehicle)
	}
	return vehicle
}

// bindFindings holds each finding of a case against the vehicle's procedures: is there such a reading, and is this a
// result that it can have?
func bindFindings(k *circuit.Case, procedures []*procedure.Procedure) circuit.Problems {
	var problems circuit.Problems
	for _, f := range k.Findings {
		if _, _, _, err := procedure.BindUnder(k.Jurisdiction, procedures, f); err != nil {
			problems = append(problems, circuit.Problem{Position: f.Source, Where: fmt.Sprintf("finding %q", f.ID), What: err.Error()})
		}
	}
	return problems
}

// bindRepairs holds each repair of a case against what is known: can the part fail so, and is there such a procedure to
// do again?
func bindRepairs(k *circuit.Case, c *circuit.Circuit, procedures []*procedure.Procedure) circuit.Problems {
	var problems circuit.Problems
	known := make([]string, len(procedures))
	for i, p := range procedures {
		known[i] = p.ID
	}
	for _, r := range k.Repairs {
		problem := circuit.Problem{Position: r.Source, Where: fmt.Sprintf("repair %q", r.ID)}
		if modes := modesOf(c, r.Part); r.Mode != "" && !slices.Contains(modes, r.Mode) {
			problem.What, problem.Right = fmt.Sprintf("%q is no known fault of %q", r.Mode, r.Part), circuit.Suggest(r.Mode, modes)
			problems = append(problems, problem)
		}
		for _, id := range r.Recheck {
			if !slices.Contains(known, id) {
				problem.What, problem.Right = fmt.Sprintf("%s has no procedure %q", c.Name, id), circuit.Suggest(id, known)
				problems = append(problems, problem)
			}
		}
	}
	return problems
}

// modesOf are the known ways in which a part can fail.
func modesOf(c *circuit.Circuit, part string) []string {
	var modes []string
	for _, f := range airflow.Catalogue(c) {
		if f.Target == part {
			modes = append(modes, f.Mode)
		}
	}
	return modes
}
