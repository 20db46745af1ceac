package trace

import (
	"math"
	"slices"

	"airpath/circuit"
	"airpath/trace/reason"
)

// lookAt the points that have not been looked at.
func (k *gaze) lookAt(p *points, faces []*face) {
	first := len(p.found)
	draws := k.even.all(p.draws[first:])
	ways := make([]along, len(faces))
	for f := range faces {
		ways[f] = faces[f].alongAll(p.shares[f][first:])
	}
	var moves shifts
	var own likelihood
	product := newProduct(len(draws))
	row, one := make([]float64, len(draws)), make([]float64, 1)
	for i := range k.seen {
		s := k.seen[i].moving(&own, &moves)
		if i == 0 || !s.bend.as(&k.seen[i-1].bend) {
			s.shiftsInto(&moves, draws)
		}
		moves.rough = s.rough
		into := row
		switch of := owners(faces, i); {
		case len(of) > 1:
			s.together(row, of[0].over[i], of[1].over[i], ways)
		default:
			if s.everywhere(of[0], i) { // one draw will do
				into = one
			}
			s.alone(into, of[0], i, &ways[slices.Index(faces, of[0])])
		}
		for d, x := range into {
			into[d] = math.Max((1-s.outliers)*x+s.outliers*s.flat, 1e-300)
		}
		product.times(into, s.count)
	}
	p.found = append(p.found, product.logs()...)
}

// moving is an observation with a likelihood of its own, in some memory, that moves in some way: others may look at it at the same time.
func (s *lookedAt) moving(own *likelihood, moves *shifts) lookedAt {
	*own = *s.likelihood
	own.moves = moves
	return lookedAt{own, s.bend, s.count}
}

// along tells where the points lie along a face: in which of its steps, and how far in it.
type along struct {
	step []int
	part []float64
}

func (f *face) alongAll(shares []float64) along {
	w := along{make([]int, len(shares)), make([]float64, len(shares))}
	for d, share := range shares {
		w.step[d] = f.at(share)
		w.part[d] = f.steps.along(share, w.step[d])
	}
	return w
}

// everywhere tells whether an observation is as likely with a fault at every point.
func (s *lookedAt) everywhere(f *face, i int) bool {
	if s.o.e.Kind == circuit.Number || len(f.beside[i]) > 0 {
		return false
	}
	x, ok := f.steady(i)
	return ok && (s.moves.level && (x == 0 || !s.moves.scaled) || s.o.e.Kind == circuit.Never)
}

// steady is the value that a fault gives a reading at every severity; ok is false where it has none such.
func (f *face) steady(i int) (x float64, ok bool) {
	first := &f.over[i][0]
	for j := range f.over[i] {
		if s := &f.over[i][j]; !s.sure() || s.low != s.high || s.low != first.low || s.vague != first.vague || s.rough != first.rough {
			return 0, false
		}
	}
	return first.low, true
}

// alone fills in the densities of an observation that one fault disturbs at most, by draw.
func (s *lookedAt) alone(row []float64, f *face, i int, w *along) {
	if x, ok := f.steady(i); ok {
		s.densities(row, x, f.over[i][0].vague, f.over[i][0].rough)
	} else {
		s.alongSteps(row, f.over[i], w)
	}
	var blurred []float64
	for _, beside := range f.beside[i] {
		blurred = append(blurred[:0], row...)
		s.fill(blurred, beside)
		for d := range row {
			row[d] += inOther / (1 - inOther) * (blurred[d] - row[d])
		}
	}
}

// alongSteps fills in the densities of an observation whose reading hangs on the severity.
func (s *lookedAt) alongSteps(row []float64, over []step, w *along) {
	var blurred []float64
	for j := range over {
		step := &over[j]
		if !slices.Contains(w.step, j) {
			continue
		}
		if !step.sure() {
			blurred = append(blurred[:0], row...)
			s.fill(blurred, step.stretch)
		}
		for d, at := range w.step {
			switch {
			case at != j:
			case step.sure():
				row[d] = s.density(d, step.along(w.part[d]), step.vague, step.rough)
			default:
				row[d] = blurred[d]
			}
		}
	}
}

// together fills in the densities of an observation that two faults disturb. What they make of it together is not simulated.
func (s *lookedAt) together(row []float64, overA, overB []step, ways []along) {
	blurred := map[[2]int][]float64{}
	for d := range row {
		at := [2]int{ways[0].step[d], ways[1].step[d]}
		x, y := &overA[at[0]], &overB[at[1]]
		if x.sure() && y.sure() && !math.IsNaN(s.healthy) {
			both := joined(exactly(x.along(ways[0].part[d])), exactly(y.along(ways[1].part[d])), s.healthy, s.o.r)
			if both.sure() {
				row[d] = s.density(d, both.middle(), max(both.vague, x.vague, y.vague), math.Hypot(x.rough, y.rough))
				continue
			}
		}
		if blurred[at] == nil {
			blurred[at] = make([]float64, len(row))
			s.fill(blurred[at], joined(x.stretch, y.stretch, s.healthy, s.o.r))
		}
		row[d] = blurred[at][d]
	}
}

// density of an observation under a draw, where its exact value would be x on a vehicle as its file has it.
func (s *lookedAt) density(d int, x, vague, rough float64) float64 {
	moved := x*s.moves.times[d] + s.moves.plus[d]
	switch s.o.e.Kind {
	case circuit.Yes:
		return (1-vague)*s.o.e.Judge.Says(moved) + vague*oddYes
	case circuit.No:
		return 1 - (1-vague)*s.o.e.Judge.Says(moved) - vague*oddYes
	case circuit.Never:
		return neverWhen
	case circuit.Number:
		return (1-vague)*reason.DensityOver(s.o.e.Low, moved, moved, math.Hypot(s.sigmaOf(x), rough)) + vague*s.flat
	}
	return (1-vague)*between(s.o.e.Low, s.o.e.High, moved, moved, math.Hypot(s.sigmaOf(x), rough)) + vague*s.flat
}

// densities of an observation under all draws, where its exact value is the same on each as its file has it.
func (s *lookedAt) densities(row []float64, x, vague, rough float64) {
	if s.o.e.Kind != circuit.Number {
		for d := range row {
			row[d] = s.density(d, x, vague, rough)
		}
		return
	}
	spread := math.Hypot(s.sigmaOf(x), rough)
	for d := range row {
		moved := x*s.moves.times[d] + s.moves.plus[d]
		row[d] = (1-vague)*reason.DensityOver(s.o.e.Low, moved, moved, spread) + vague*s.flat
	}
}

// A product of densities by draw, as logarithms: of some of them together, which is quicker.
type product struct {
	log, part []float64
	all       float64 // of what is the same under all draws
}

func newProduct(draws int) *product {
	p := &product{log: make([]float64, draws), part: make([]float64, draws)}
	for d := range p.part {
		p.part[d] = 1
	}
	return p
}

// Between these a part is kept, so that it does not vanish; least is also that of a density that is multiplied with others.
const (
	leastPart = 1e-150
	mostPart  = 1e150
	leastOne  = 1e-100
)

// times the root of some densities: one for each draw, or a single one for all.
func (p *product) times(row []float64, root float64) {
	switch {
	case len(row) != len(p.part):
		p.all += math.Log(row[0]) / root
	case root != 1:
		for d, x := range row {
			p.log[d] += math.Log(x) / root
		}
	default:
		for d, x := range row {
			if x < leastOne {
				p.log[d] += math.Log(x)
				continue
			}
			if p.part[d] *= x; p.part[d] < leastPart || p.part[d] > mostPart {
				p.log[d] += math.Log(p.part[d])
				p.part[d] = 1
			}
		}
	}
}

func (p *product) logs() []float64 {
	for d, x := range p.part {
		p.log[d] += math.Log(x) + p.all
	}
	return p.log
}
