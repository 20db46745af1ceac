package drill

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// A Setting is what an instructor decides.
type Setting struct {
	Title        string
	Circuit      string // library name or path, as the exercise is to name it
	Complaint    string // as the driver puts it
	Jurisdiction string
	Faults       []airflow.Fault
	Allowed      []string           // procedure ids; none means all that the vehicle has
	Minutes      map[string]float64 // what a procedure costs, where it is not what the vehicle's description says
	Hints        bool
	Seed         uint64 // of the hidden vehicle's scatter and the instruments' errors
	Notes        string // for the key
}

// The hidden vehicle scatters around the file as simulated vehicles do (DESIGN section 11), and its instruments err.
const (
	scatter   = 0.05 // 1 σ, of compressor, volumes, walls, valves and bores each
	ownError  = 0.02 // 1 σ of a gauge's own error, as a share of 120 psi; the bound is 7 % of cut-out (49 CFR 571.121 S5.1.4)
	fullScale = 120 * 6894.757293168
)

// New makes an exercise and its key: the hidden vehicle is simulated through every procedure that is allowed. progress, where
// given, hears how far that is.
func New(ctx context.Context, n *airflow.Network, g Guide, s Setting, progress func(done, total int)) (*Exercise, *Key, error) {
	e, err := observe(ctx, n, s, progress)
	if err != nil {
		return nil, nil, err
	}
	k := &Key{Airpath: version, Title: s.Title, Exercise: e.Seal(), Seed: s.Seed, Notes: s.Notes}
	for _, f := range s.Faults {
		k.Faults = append(k.Faults, Hidden{f.Target, f.Mode, f.Severity})
	}
	w, err := onward(ctx, g, e, k, nil)
	if err != nil {
		return nil, nil, err
	}
	k.Best, k.Cost, k.Difficulty = w.taken, w.minutes, difficultyOf(k, w)
	return e, k, nil
}

// observe writes down what each allowed procedure shows on the hidden vehicle.
func observe(ctx context.Context, n *airflow.Network, s Setting, progress func(done, total int)) (*Exercise, error) {
	if err := s.check(n.Circuit()); err != nil {
		return nil, err
	}
	all := procedure.For(n)
	allowed, err := s.allowed(all)
	if err != nil {
		return nil, err
	}
	rng := rand.New(rand.NewPCG(s.Seed, 0x61697270617468)) // the second number is the program's own name
	around := func() float64 { return math.Exp(scatter * max(-2, min(2, rng.NormFloat64()))) }
	bench, err := procedure.NewBench(n, s.Faults, airflow.Scatter{Pump: around(), Volume: around(), Wall: around(), Valve: around(), Bore: around()})
	if err != nil {
		return nil, err
	}
	i := &instruments{rng: rng, own: map[string]float64{}}
	for _, g := range n.Gauges() {
		i.own[g] = ownError * fullScale * max(-2, min(2, rng.NormFloat64()))
	}
	e := &Exercise{
		Airpath: version, Title: s.Title, Circuit: s.Circuit, Digest: DigestOf(n.Circuit()), Complaint: s.Complaint,
		Jurisdiction: s.Jurisdiction, Hints: s.Hints, Parts: len(s.Faults),
	}
	for done, p := range allowed {
		if progress != nil {
			progress(done, len(allowed))
		}
		out, err := bench.Do(ctx, p)
		if err != nil {
			return nil, err
		}
		a := Allowed{Procedure: p.ID, SetUp: p.SetUp, Minutes: p.Minutes, Round: p.Round(), Undone: out.Undone}
		if m, ok := s.Minutes[p.ID]; ok {
			a.SetUp, a.Minutes = 0, m
		}
		if out.Undone == "" {
			for r := range p.Readings {
				a.Results = append(a.Results, i.note(&p.Readings[r], out.Values[r], a.Round))
			}
		}
		e.Allowed = append(e.Allowed, a)
	}
	return e, nil
}

func (s *Setting) check(c *circuit.Circuit) error {
	switch {
	case s.Circuit == "":
		return fmt.Errorf("an exercise names its circuit")
	case len(s.Faults) == 0:
		return fmt.Errorf("an exercise hides at least one fault")
	case strings.TrimSpace(s.Complaint) == "":
		return fmt.Errorf(`an exercise begins with a complaint, such as "builds air slowly"`)
	}
	for i, f := range s.Faults {
		if _, err := airflow.ModeOf(c, f); err != nil {
			return err
		}
		if slices.ContainsFunc(s.Faults[:i], func(g airflow.Fault) bool { return g.Target == f.Target }) {
			return fmt.Errorf("two faults on %q; an exercise hides one fault a part", f.Target)
		}
	}
	return nil
}

func (s *Setting) allowed(all []*procedure.Procedure) ([]*procedure.Procedure, error) {
	var ids []string
	for _, p := range all {
		ids = append(ids, p.ID)
	}
	for _, id := range s.Allowed {
		if !slices.Contains(ids, id) {
			return nil, fmt.Errorf("no procedure %q on this vehicle; %s", id, circuit.Suggest(id, ids))
		}
	}
	if len(s.Allowed) == 0 {
		return all, nil
	}
	return slices.DeleteFunc(slices.Clone(all), func(p *procedure.Procedure) bool { return !slices.Contains(s.Allowed, p.ID) }), nil
}

// instruments of the hidden vehicle and its technician.
type instruments struct {
	rng *rand.Rand
	own map[string]float64 // error of each dash gauge, Pa
}

// note a reading as a technician writes it down. What is heard, seen or felt is what most people would say: an exercise is
// about choosing and concluding, and a hiss that one in twenty misses would be luck.
func (i *instruments) note(r *procedure.Reading, value float64, round bool) Observed {
	o := Observed{Reading: r.ID, Place: r.Place}
	if round {
		o.Minutes = math.Round(100*r.Access) / 100
	}
	switch {
	case r.Form == procedure.YesNo:
		o.Result = string(circuit.No)
		if r.Judge.Says(value) > 0.5 {
			o.Result = string(circuit.Yes)
		}
	case math.IsNaN(value):
		o.Result = string(circuit.Never)
	default:
		value += r.Sigma * max(-2, min(2, i.rng.NormFloat64()))
		if r.Level {
			value += i.own[r.Gauge]
		}
		o.Result = noted(value, r)
	}
	return o
}

// noted is the value with as many digits as its error leaves a meaning.
func noted(si float64, r *procedure.Reading) string {
	unit := circuit.UnitFor(r.Dimension, "psi")
	step, ok := circuit.In(r.Sigma, r.Dimension, unit)
	if zero, _ := circuit.In(0, r.Dimension, unit); ok {
		step -= zero
	}
	decimals := 0
	if step > 0 && step < 1 {
		decimals = min(4, int(math.Ceil(-math.Log10(step))))
	}
	return circuit.Format(si, r.Dimension, unit, decimals)
}
