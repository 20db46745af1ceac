package score

import (
	"context"
	"fmt"
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace"
)

// A world is what all vehicles of one score share, read-only once it is made.
type world struct {
	options    Options
	circuit    *circuit.Circuit
	known      *airflow.Network       // as the tracer knows it
	procedures []*procedure.Procedure // on that
	sources    []int                  // by procedure: the one whose values it has, mostly itself
	hidden     *airflow.Network       // as it really is
	real       []*procedure.Procedure // the same procedures on that
	catalogue  []candidate
	cutOut     float64 // Pa gauge
	notices    []int   // procedures by which drivers and inspectors notice faults,
	services   []int   // and all others, by which workshops do
	typical    *effects
}

// A candidate is a fault that a vehicle may have.
type candidate struct {
	fault  airflow.Fault
	mode   airflow.Mode
	words  trace.Words
	weight float64 // how often it is drawn; 0 where it moves neither air nor needle, so that no reading shows it
}

func newWorld(ctx context.Context, known *airflow.Network, procedures []*procedure.Procedure, o Options) (*world, error) {
	w := &world{options: o, sources: trace.Sources(procedures), circuit: known.Circuit(), known: known, procedures: procedures, cutOut: 120 * circuit.PSI}
	if len(procedures) == 0 {
		return nil, fmt.Errorf("score: no procedure can be carried out on %s by itself, so that nothing can be found on it", w.circuit.Name)
	}
	for _, part := range w.circuit.Components {
		if part.Kind.Name == "governor" {
			w.cutOut = part.Value("cut_out") - circuit.AtmospherePressure
			break
		}
	}
	var err error
	if w.hidden, err = w.hiddenNetwork(); err != nil {
		return nil, err
	}
	if w.real, err = sameProcedures(w.hidden, known, procedures); err != nil {
		return nil, err
	}
	for _, f := range airflow.Catalogue(w.circuit) {
		c := candidate{fault: f}
		if c.mode, err = airflow.ModeOf(w.circuit, f); err != nil {
			return nil, err
		}
		if c.words, err = trace.Describe(w.circuit, f); err != nil {
			return nil, err
		}
		changes, err := known.Changes(f)
		if err != nil {
			return nil, err
		}
		if len(changes) > 0 {
			c.weight = c.words.Prior
		}
		w.catalogue = append(w.catalogue, c)
	}
	if o.Mismatch { // each up to three times as common or as rare, evenly on the scale of ratios
		r := w.dice(0, forTruth)
		for i := range w.catalogue {
			w.catalogue[i].weight *= math.Pow(3, 2*r.Float64()-1)
		}
	}
	w.notices, w.services = w.noticing()
	return w, nil
}

// sameProcedures are the procedures of the hidden vehicle in the order of the known one's, with the same readings.
func sameProcedures(hidden, known *airflow.Network, procedures []*procedure.Procedure) ([]*procedure.Procedure, error) {
	if hidden == known {
		return procedures, nil
	}
	all := procedure.For(hidden)
	out := make([]*procedure.Procedure, len(procedures))
	for i, p := range procedures {
		k := slices.IndexFunc(all, func(q *procedure.Procedure) bool { return q.ID == p.ID })
		if k < 0 {
			return nil, fmt.Errorf("score: the hidden vehicle has no procedure %s", p.ID)
		}
		out[i] = all[k]
	}
	return out, nil
}

// index of a procedure; -1 where the vehicle has none of that id.
func (w *world) index(id string) int {
	return slices.IndexFunc(w.procedures, func(p *procedure.Procedure) bool { return p.ID == id })
}

// Structure of the hidden vehicle that the tracer does not have. Engineering judgement.
const (
	linePieces     = 3                 // rooms along each line, where the tracer has the air at its ends
	chamberWall    = 2                 // W/K at a litre: chambers have a temperature, where the tracer's are isothermal
	wallFactor     = 1.25              // cooling of reservoirs beside what the file's coefficient gives
	mostHysteresis = 1.0 * circuit.PSI // that a healthy needle stays behind
)

// detail that the hidden vehicle is compiled in.
func (w *world) detail() airflow.Detail {
	if w.options.Matched {
		return airflow.Detail{}
	}
	return airflow.Detail{LinePieces: linePieces, ChamberWall: chamberWall}
}

// hiddenNetwork is the vehicle as it really is, compiled from the same file.
func (w *world) hiddenNetwork() (*airflow.Network, error) {
	if w.options.Matched {
		return w.known, nil
	}
	return airflow.CompileIn(w.circuit, w.detail())
}
