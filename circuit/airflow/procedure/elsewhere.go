package procedure

import (
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// A fitter is an action that takes lines off, or plugs or undoes them: lines by their ids, or the ports that they are on.
type fitter interface{ fits() []string }

func (a lineOff) fits() []string { return []string{a.line} }
func (a plugOff) fits() []string { return a.ports }
func (a undo) fits() []string    { return []string{a.port} }
func (a couple) fits() []string  { return []string{a.coupling.ID + ".11", a.coupling.ID + ".12"} }

// Elsewhere makes what a procedure yields on a vehicle with a hole of what it yields on one that has the same hole somewhere else on the
// same room: it is heard there instead. It is nil where that can't be told: the procedure takes one of the two parts off, and its hole with
// it, or listens at one of them only.
func (p *Procedure) Elsewhere(values, healthy []float64, was, is airflow.Hole) []float64 {
	if len(values) != len(p.Readings) || len(healthy) != len(p.Readings) || was.Room != is.Room || was.Size != is.Size || p.fitsAt(was.Place) || p.fitsAt(is.Place) {
		return nil
	}
	out := slices.Clone(values)
	for i := range p.Readings {
		r := &p.Readings[i]
		other := was.Place
		switch {
		case r.Dimension != circuit.Flow || r.Place != was.Place && r.Place != is.Place:
			continue
		case r.Place == was.Place:
			other = is.Place
		}
		at, ok := p.Reading(r.ID, other)
		if !ok || healthy[at] != 0 || healthy[i] != 0 {
			return nil
		}
		out[i] = values[at]
	}
	return out
}

// fitsAt tells whether a procedure, or the way to its starting state, works at a line.
func (p *Procedure) fitsAt(line string) bool {
	l := p.vehicle.circuit.Line(line)
	if l == nil {
		return false
	}
	return slices.ContainsFunc(append(p.Start.All(), p.Steps...), func(s Step) bool {
		f, ok := s.Do.(fitter)
		return ok && slices.ContainsFunc(f.fits(), func(at string) bool {
			return at == line || at == l.From.String() || at == l.To.String()
		})
	})
}
