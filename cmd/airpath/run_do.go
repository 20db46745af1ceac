package main

import (
	"bytes"
	"fmt"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// done is a procedure carried out on one vehicle.
type done struct {
	outcome procedure.Outcome
	export  *airflow.Export // the network as it was when the procedure began, and what was done then; nil where it could not be begun
	run     *airflow.Run    // the vehicle as the procedure left it; nil likewise
}

// outcome of a procedure on a vehicle in its starting state.
func (p *program) outcome(n *airflow.Network, proc *procedure.Procedure, faults []airflow.Fault) (done, error) {
	bench, err := procedure.NewBench(n, faults, airflow.Scatter{})
	if err != nil {
		return done{}, err
	}
	return p.do(bench, proc)
}

func (p *program) do(bench *procedure.Bench, proc *procedure.Procedure) (did done, err error) {
	bench.Watch(func(step int, r *airflow.Run) {
		if step < 0 {
			did.run, did.export = r, r.Export()
		}
	})
	did.outcome, err = bench.Do(p.ctx, proc)
	return did, err
}

// resume reads a vehicle that a run has left.
func (p *program) resume(n *airflow.Network, path string) (*airflow.Run, error) {
	name, text, err := p.readInput(path)
	if err != nil {
		return nil, err
	}
	run, err := n.Resume(bytes.NewReader(text))
	if err != nil {
		return nil, fmt.Errorf("%s: %w; airpath run --save writes such files", name, err)
	}
	return run, nil
}

// writeSaved writes a vehicle as a procedure has left it.
func (p *program) writeSaved(path string, r *airflow.Run) error {
	if r == nil {
		return fmt.Errorf("run: the procedure could not be begun on this vehicle, so there is no run to save")
	}
	var text bytes.Buffer
	if err := r.Save(&text); err != nil {
		return err
	}
	return p.writeOutput(path, text.Bytes())
}

// writeExport writes a network.
func (p *program) writeExport(path string, e *airflow.Export) error {
	if e == nil {
		return fmt.Errorf("run: the procedure could not be begun on this vehicle, so there is no network to write")
	}
	var text bytes.Buffer
	if err := e.Write(&text); err != nil {
		return err
	}
	return p.writeOutput(path, text.Bytes())
}
