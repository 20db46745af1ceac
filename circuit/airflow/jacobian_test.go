package airflow

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"airpath/circuit"
)

// The exact derivatives against differences, on a truck in the middle of things: every entry, those by openings, heat and
// pumps included, and the derivative with respect to time while pedal and engine move.
func TestJacobian(t *testing.T) { jacobianHolds(t, truckNetwork(t)) }

func jacobianHolds(t *testing.T, n *Network) {
	t.Helper()
	r, err := n.Start([]Fault{{"tank", "wall between supply and primary leaking", 2e-3}, {"rear_relay", "inlet seat leaking", 1e-3}}, Scatter{})
	require.NoError(t, err)
	setControl(t, r, Engine, 2000.0/60, 1)
	compare := func(when string) {
		r.ready()
		s := r.s
		size := s.n
		elapsed := r.t - r.segment
		// Rooms at rest with one another sit right where the air turns round, and with it whose temperature counts: a kink,
		// at which no difference tells a derivative. So all pressures are moved a little apart.
		kept := append([]float64(nil), s.p...)
		for i := range size {
			s.p[i] *= 1 + 1e-3*math.Sin(7.3*float64(i))
		}
		defer func() { copy(s.p, kept) }()
		s.begin(elapsed)
		jac := append([]float64(nil), s.jac...)
		moving, moves := append([]float64(nil), s.moving...), s.moves
		up, down := make([]float64, size+1), make([]float64, size+1)
		p := append([]float64(nil), s.p...)
		scale := 0.0
		for _, v := range jac[:s.pattern.slots] {
			scale = max(scale, math.Abs(v))
		}
		for j := range size {
			h := 1e-6 * p[j]
			at := p[j]
			p[j] = at + h
			s.rates(p, up, elapsed, false)
			p[j] = at - h
			s.rates(p, down, elapsed, false)
			p[j] = at
			for i := range size {
				exact := 0.0
				if slot := s.pattern.find(int32(i), int32(j)); int(slot) < s.pattern.slots {
					exact = -jac[slot]
				}
				numeric := (up[i] - down[i]) / (2 * h)
				// Where an opening's end or a check's turning point lies within the difference, the two may part a little.
				assert.InDelta(t, exact, numeric, 1e-5*scale+2e-3*math.Abs(exact), "%s: rate %s by %s", when, r.roomOf(i), r.roomOf(j))
			}
		}
		const dt = 1e-5
		s.rates(p, up, elapsed+dt, false)
		s.rates(p, down, elapsed-dt, false)
		for i := range size {
			exact := 0.0
			if moves {
				exact = moving[i]
			}
			assert.InDelta(t, (up[i]-down[i])/(2*dt), exact, 1e-3*math.Abs(exact)+1e-2, "%s: rate %s by time", when, r.roomOf(i))
		}
		s.begun = false
	}
	require.NoError(t, r.Advance(0.4))
	compare("engine speeding up")
	require.NoError(t, r.Advance(40))
	compare("building up")
	chargeUp(t, r)
	setControl(t, r, "knob", 1, 0.3)
	require.NoError(t, r.Advance(0.15))
	compare("park being released")
	require.NoError(t, r.Advance(3))
	for _, later := range []float64{0.03, 0.08, 0.05, 0.1, 0.3} {
		setControl(t, r, "pedal", 0.9, 0.5)
		require.NoError(t, r.Advance(later))
		compare("applying")
	}
	setControl(t, r, "pedal", 0, 0.4)
	require.NoError(t, r.Advance(0.2))
	compare("releasing")
}

// The sparse factors against a dense solution, for random diagonally heavy matrices of random patterns.
func TestSparseSolve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 25).Draw(t, "n")
		given := newGrid(n)
		for range rapid.IntRange(0, 3*n).Draw(t, "entries") {
			given.add(int32(rapid.IntRange(0, n-1).Draw(t, "i")), int32(rapid.IntRange(0, n-1).Draw(t, "j")))
		}
		order := elimination(given)
		seen := make([]bool, n)
		for _, i := range order {
			seen[i] = true
		}
		assert.NotContains(t, seen, false, "the order names every unknown")
		given = given.ordered(order)
		f := newPattern(given)
		dense := mat.NewDense(n, n, nil)
		a := make([]float64, f.slots+1)
		for i := range n {
			for j := range n {
				if !slices.Contains(given[i], int32(j)) {
					continue
				}
				v := rapid.Float64Range(-1, 1).Draw(t, "value")
				if i == j {
					v = float64(n) + 1
				}
				dense.Set(i, j, v)
				slot := f.find(int32(i), int32(j))
				require.Less(t, int(slot), f.slots)
				a[slot] = v
			}
		}
		b := make([]float64, n)
		for i := range b {
			b[i] = rapid.Float64Range(-1, 1).Draw(t, "b")
		}
		var want mat.VecDense
		require.NoError(t, want.SolveVec(dense, mat.NewVecDense(n, append([]float64(nil), b...))))
		inverse := make([]float64, n)
		require.True(t, f.factor(a, inverse))
		f.solve(a, inverse, b)
		for i := range b {
			assert.InDelta(t, want.AtVec(i), b[i], 1e-10)
		}
	})
}

// A piston's pressure from its state is the inverse of p·V(p), and its capacity the derivative of that.
func TestPiston(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fixed := rapid.Float64Range(1e-5, 1e-3).Draw(t, "fixed")
		wall := Piston{Gauge: []float64{rapid.Float64Range(0, 50e3).Draw(t, "first")}, Volume: []float64{0}}
		for range rapid.IntRange(1, 4).Draw(t, "points") {
			k := len(wall.Gauge) - 1
			wall.Gauge = append(wall.Gauge, wall.Gauge[k]+rapid.Float64Range(1e3, 400e3).Draw(t, "further"))
			wall.Volume = append(wall.Volume, wall.Volume[k]+rapid.Float64Range(0, 1e-3).Draw(t, "more"))
		}
		require.NoError(t, wall.check())
		var m piston
		m.set(0, &room{volume: fixed, piston: wall})
		p := rapid.Float64Range(1e4, 2e6).Draw(t, "p")
		v := fixed + wall.volume(p-circuit.AtmospherePressure)
		got, capacity := m.at(p * v)
		assert.InEpsilon(t, p, got, 1e-9)
		const h = 1e-7
		above, _ := m.at(p * v * (1 + h))
		below, _ := m.at(p * v * (1 - h))
		if c1, c2 := capacityAt(&m, p*v*(1+h)), capacityAt(&m, p*v*(1-h)); math.Abs(c1-c2) < 1e-3*c1 { // not across a kink
			assert.InEpsilon(t, 2*h*p*v/(above-below), capacity, 1e-3)
		}
	})
}

func capacityAt(m *piston, x float64) float64 {
	_, c := m.at(x)
	return c
}

// Pivots below zero are in order in pairs. With rooms 1 and 2 of which each opens a way of its own further, an odd number says
// that one runs away.
func TestPivotsBelowZero(t *testing.T) {
	full := grid{{0, 1}, {0, 1}}
	f := newPattern(full)
	for _, one := range []struct {
		rows [2][2]float64
		good bool
	}{
		{[2][2]float64{{-1, 2}, {-2, 1}}, true},     // its determinant is 3
		{[2][2]float64{{-1, 2}, {2, 1}}, false},     // −5
		{[2][2]float64{{1, 2}, {2, 1}}, false},      // −3
		{[2][2]float64{{-1e-9, 2}, {-2, 1}}, false}, // 4, but rounding would decide
		{[2][2]float64{{0, 2}, {-2, 1}}, false},
		{[2][2]float64{{math.NaN(), 2}, {-2, 1}}, false},
	} {
		a, inverse, b := make([]float64, f.slots+1), make([]float64, 2), []float64{5, -7}
		for i := range 2 {
			for j := range 2 {
				a[f.find(int32(i), int32(j))] = one.rows[i][j]
			}
		}
		require.Equal(t, one.good, f.factor(a, inverse), "%v", one.rows)
		if one.good {
			f.solve(a, inverse, b)
			for i, want := range []float64{5, -7} {
				assert.InDelta(t, want, one.rows[i][0]*b[0]+one.rows[i][1]*b[1], 1e-12, "%v", one.rows)
			}
		}
	}
}
