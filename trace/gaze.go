package trace

import (
	"math"
	"slices"

	"airpath/circuit"
	"airpath/trace/reason"

	"gonum.org/v1/gonum/floats"
)

// A gaze is what is looked at closely, one fault or two, over all observations.
type gaze struct {
	t      *Tracer
	dims   int
	even   evenly
	normal [][]float64
	seen   []lookedAt
	keys   map[string]int   // how often each key was observed
	shared map[sharedBy]int // nuisances: by how much all readings of a sort are off in one procedure
}

// lookedAt is one observation, and how its reading moves on a vehicle with the fault.
type lookedAt struct {
	*likelihood
	bend
	count float64 // repeats of one measurement count as one together
}

// gazeAt what reads as on a healthy vehicle but for its faults, and moves as on a healthy one.
func (t *Tracer) gazeAt(observations []observation, draws int) *gaze {
	k := &gaze{t: t, dims: t.nuisances.dims(), even: t.nuisances.even(), keys: map[string]int{}}
	for i := range observations {
		k.keys[observations[i].key]++
	}
	k.shared = sharedOff(observations, k.dims)
	k.dims += len(k.shared)
	for i := range observations {
		o := &observations[i]
		l := &likelihood{o: o, sigma: o.e.Sigma, healthy: t.healthy(o.procedure, o.reading)}
		l.outliers, l.flat = l.background()
		b := t.nuisances.around(t.table, 0, o.procedure, o.reading, o.r, o.e.Gauge)
		k.seen = append(k.seen, lookedAt{likelihood: l, bend: k.withShared(b, l), count: float64(k.keys[o.key])})
	}
	k.normal = reason.Draws(draws, k.dims+mostFaces)
	return k
}

// movingAs is the same where readings move as around some simulated vehicles: each as around the first of them that changes its procedure.
func (k *gaze) movingAs(bases ...int) *gaze {
	out := *k
	out.seen = slices.Clone(k.seen)
	for i := range out.seen {
		o := out.seen[i].o
		for _, base := range bases {
			if k.t.table.changed(base, o.procedure) {
				out.seen[i].bend = k.withShared(k.t.nuisances.aside(k.t.table, base, o.procedure, o.reading, o.r, o.e.Gauge), out.seen[i].likelihood)
				break
			}
		}
	}
	return &out
}

// beyond is the same where what some faults take the place of is none: see [nuisances.faulty].
func (k *gaze) beyond(faces []*face) *gaze {
	out := k
	for _, f := range faces {
		if k.t == nil {
			continue
		}
		n := k.t.nuisances.faulty(k.t.list[k.t.cells[f.cell].hypothesis].fault)
		if n < 0 {
			continue
		}
		if out == k {
			copied := *k
			out, copied.seen = &copied, slices.Clone(k.seen)
		}
		for i := range out.seen {
			out.seen[i].bend = out.seen[i].bend.without(n)
		}
	}
	return out
}

// disturbed is the same where something that the catalogue does not know disturbs now this reading and now that.
func (k *gaze) disturbed() *gaze {
	out := *k
	out.seen = slices.Clone(k.seen)
	for i := range out.seen {
		l := *out.seen[i].likelihood
		l.outliers, l.flat = 1-(1-l.outliers)*(1-unlikeHealthy), l.strange()
		out.seen[i].likelihood = &l
	}
	return &out
}

// A face is one fault of what is looked at: a cell of it, taken in steps.
type face struct {
	*steps
	over   [][]step    // by observation
	beside [][]stretch // by observation: what the milder and the worse cell make of it, where that may be another outcome; nil elsewhere
	own    []bool      // by observation: it disturbs the reading
}

// face of a cell whose steps have been simulated.
func (k *gaze) face(c *steps) *face {
	f := &face{steps: c}
	for i := range k.seen {
		o := k.seen[i].o
		var over []step
		for j := range len(c.vehicles) - 1 {
			whole := &cell{from: c.vehicles[j], to: c.vehicles[j+1], b: 1}
			over = append(over, k.stepOver(o, whole))
		}
		f.add(over, k.beside(c.cell, &k.seen[i]), k.seen[i].healthy)
	}
	return f
}

// beside a cell: what its neighbours make of an observation that is an outcome rather than a figure, or whose figure gets lost. At which severity
// an outcome turns hangs on how a vehicle differs from its file: see inOther.
func (k *gaze) beside(c int, s *lookedAt) []stretch {
	if k.t == nil {
		return nil
	}
	list := &k.t.list[k.t.cells[c].hypothesis]
	var out []stretch
	turns := s.o.e.Kind != circuit.Number
	for _, i := range []int{max(c-1, list.cell), c, min(c+1, list.cell+list.cells-1)} {
		over := k.t.stretch(s.o.procedure, s.o.reading, &k.t.cells[i])
		turns = turns || !over.sure()
		if i != c || list.cells == 1 {
			out = append(out, over)
		}
	}
	if !turns {
		return nil
	}
	return out
}

// glance is the face of a cell by what has been simulated anyway, in one step.
func (k *gaze) glance(c int) *face {
	f := &face{steps: &steps{cell: c, shares: []float64{0, 1}}}
	own := &k.t.cells[c]
	for i := range k.seen {
		s := k.stepOver(k.seen[i].o, own)
		if s.sure() { // as far from the straight way between two severities as a way that goes by ratios lies
			s.rough = betweenFar * (s.high - s.low) / (max(own.b-own.a, 0.5))
		}
		f.add([]step{s}, k.beside(c, &k.seen[i]), k.seen[i].healthy)
	}
	return f
}

// betweenFar is how far from the straight way between two simulated severities a reading may lie at one between them, as a share of how far
// apart they are, 1 σ.
const betweenFar = 0.12

func (k *gaze) stepOver(o *observation, c *cell) step {
	from, to := k.t.table.values(o.procedure, c.from), k.t.table.values(o.procedure, c.to)
	if from == nil || to == nil {
		return step{stretch: stretch{unknown: true}}
	}
	a, b := from[o.reading], to[o.reading]
	return step{stretch: k.t.stretchOver(o.procedure, o.reading, a, b, c), falls: a > b}
}

func (f *face) add(over []step, beside []stretch, healthy float64) {
	own, same := false, true
	for i := range over {
		own = own || !over[i].is(healthy)
		same = same && over[i].stretch == over[0].stretch
	}
	for _, s := range beside {
		own = own || !s.is(healthy)
		same = same && s == over[0].stretch
	}
	if same {
		beside = nil
	}
	f.over, f.beside, f.own = append(f.over, over), append(f.beside, beside), append(f.own, own)
}

// A step lies between two simulated vehicles.
type step struct {
	stretch
	falls bool    // a reading falls as the severity grows
	rough float64 // SI; what may lie between two severities that are far apart, 1 σ
}

// is tells whether a reading is the healthy vehicle's throughout.
func (s stretch) is(healthy float64) bool {
	if math.IsNaN(healthy) {
		return !s.unknown && s.lost >= 1
	}
	return s.sure() && s.low == healthy && s.high == healthy
}

// sure tells whether a stretch has a figure at each severity.
func (s stretch) sure() bool { return !s.unknown && s.lost == 0 }

// along a step: the value at a share of the way from the milder to the worse end.
func (s *step) along(share float64) float64 {
	if s.falls {
		share = 1 - share
	}
	if s.slow {
		return 1 / (1/s.low + (1/s.high-1/s.low)*share)
	}
	return s.low + (s.high-s.low)*share
}

// owners are the faces that disturb a reading; where none does, any has what the healthy vehicle has.
func owners(faces []*face, i int) []*face {
	var out []*face
	for _, f := range faces {
		if f.own[i] {
			out = append(out, f)
		}
	}
	if len(out) == 0 {
		return faces[:1]
	}
	return out
}

// evidence of faces together: the logarithm of the density of all observations, with everything else summed out.
func (k *gaze) evidence(faces ...*face) float64 {
	p := k.lookAround(faces)
	return floats.LogSumExp(p.weights()) - math.Log(float64(len(p.draws)))
}

// lookAround for where the density is, until enough points count.
func (k *gaze) lookAround(faces []*face) *points {
	k = k.beyond(faces)
	m := k.crest(faces)
	p := m.points(k.normal)
	k.lookAt(p, faces)
	for range mostGoes {
		if counting(p.weights(), 1) >= enough {
			break
		}
		p.again(m, k.normal)
		k.lookAt(p, faces)
	}
	return p
}

// at a share of the cell: in which step it lies.
func (s *steps) at(share float64) int {
	i := 0
	for i < len(s.shares)-2 && share >= s.shares[i+1] {
		i++
	}
	return i
}

// along is where in a step a share of the cell lies, from 0 to 1.
func (s *steps) along(share float64, i int) float64 {
	return (share - s.shares[i]) / (s.shares[i+1] - s.shares[i])
}
