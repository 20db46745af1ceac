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
	k, err := keyTo(ctx, g, e, s)
	return e, k, err
}

// keyTo an exercise: the answer, the tracer's own way to it, and how hard that is.
func keyTo(ctx context.Context, g Guide, e *Exercise, s Setting) (*Key, error) {
	k := &Key{Airpath: version, Title: s.Title, Exercise: e.Seal(), Seed: s.Seed, Notes: s.Notes}
	for _, f := range s.Faults {
		k.Faults = append(k.Faults, Hidden{f.Target, f.Mode, f.Severity})
	}
	w, err := onward(ctx, g, e, k, nil)
	if err != nil {
		return nil, err
	}
	k.Best, k.Cost, k.Difficulty = w.taken, w.minutes, difficultyOf(k, w)
	return k, nil
}

// observe writes down what each allowed procedure shows on the hidden vehicle.
func observe(ctx context.Context, n *airflow.Network, s Setting, progress func(done, total int)) (*Exercise, error) {
	if err := s.check(n.Circuit()); err != nil {
		return nil, err
	}
	h, err := s.hide(n)
	if err != nil {
		return nil, err
	}
	if err := h.simulate(ctx, progress); err != nil {
		return nil, err
	}
	return h.exercise(s), nil
}

// hidden is the vehicle that an exercise is about, with what each allowed procedure comes to on it.
type hidden struct {
	network  *airflow.Network
	allowed  []*procedure.Procedure
	faults   []airflow.Fault
	scatter  airflow.Scatter
	tools    *instruments
	outcomes []procedure.Outcome
}

// hide the faults in a vehicle that differs a little from its file.
func (s *Setting) hide(n *airflow.Network) (*hidden, error) {
	allowed, err := s.allowed(procedure.For(n))
	if err != nil {
		return nil, err
	}
	rng := rand.New(rand.NewPCG(s.Seed, 0x61697270617468)) // the second number is the program's own name
	around := func() float64 { return math.Exp(scatter * max(-2, min(2, rng.NormFloat64()))) }
	h := &hidden{network: n, allowed: allowed, faults: s.Faults, tools: &instruments{rng: rng, own: map[string]float64{}}}
	h.scatter = airflow.Scatter{Pump: around(), Volume: around(), Wall: around(), Valve: around(), Bore: around()}
	for _, g := range n.Gauges() {
		h.tools.own[g] = ownError * fullScale * max(-2, min(2, rng.NormFloat64()))
	}
	return h, nil
}

// simulate every allowed procedure.
func (h *hidden) simulate(ctx context.Context, progress func(done, total int)) error {
	bench, err := procedure.NewBench(h.network, h.faults, h.scatter)
	if err != nil {
		return err
	}
	for done, p := range h.allowed {
		if progress != nil {
			progress(done, len(h.allowed))
		}
		out, err := bench.Do(ctx, p)
		if err != nil {
			return err
		}
		out.Values = slices.Clone(out.Values)
		h.outcomes = append(h.outcomes, out)
	}
	return nil
}

// exercise that says what a technician would note.
func (h *hidden) exercise(s Setting) *Exercise {
	c := h.network.Circuit()
	e := &Exercise{
		Airpath: version, Title: s.Title, Circuit: s.Circuit, Digest: DigestOf(c), Complaint: s.Complaint,
		Jurisdiction: s.Jurisdiction, Hints: s.Hints, Parts: len(s.Faults),
	}
	for k, p := range h.allowed {
		out := h.outcomes[k]
		a := Allowed{Procedure: p.ID, SetUp: p.SetUp, Minutes: p.Minutes, Round: p.Round(), Undone: out.Undone}
		if m, ok := s.Minutes[p.ID]; ok {
			a.SetUp, a.Minutes = 0, m
		}
		if out.Undone == "" {
			for r := range p.Readings {
				a.Results = append(a.Results, h.tools.note(p, &p.Readings[r], out.Values[r]))
			}
		}
		e.Allowed = append(e.Allowed, a)
	}
	return e
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
func (i *instruments) note(p *procedure.Procedure, r *procedure.Reading, value float64) Observed {
	o := Observed{Reading: r.ID, Place: r.Place}
	if p.Round() {
		o.Minutes = math.Round(100*(r.Access+p.EachPlace()-eachOnRound)) / 100
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
		read := value + r.Sigma*max(-2, min(2, i.rng.NormFloat64()))
		nothing := 0.0
		if r.Level {
			read += i.own[r.Gauge]
			nothing = circuit.AtmospherePressure
		}
		if value >= nothing {
			read = max(read, nothing) // no error shows less than nothing where there is something
		}
		o.Result = noted(read, r)
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
