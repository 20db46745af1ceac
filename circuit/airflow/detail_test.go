package airflow

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuits"
)

func finer(t *testing.T, d Detail) *Network {
	t.Helper()
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	n, err := CompileIn(c, d)
	require.NoError(t, err)
	return n
}

// A chamber without heat exchange, filled from a large room of 293.15 K: the first law says that what has come in by its enthalpy,
// γ/(γ−1)·R·T0·m, is in the air's energy p·V/(γ−1), and in the work at the wall ∫p dV (Bejan, Advanced Engineering
// Thermodynamics, ch. 1, from memory; worked out here for a wall that moves in proportion to the pressure).
func TestChamberFirstLaw(t *testing.T) {
	const fixed, swept, from, to = 0.3e-3, 1.2e-3, 5 * circuit.PSI, 40 * circuit.PSI
	d := newBoard()
	source, chamber := d.source("source"), d.room("chamber", fixed)
	d.p.rooms[chamber].piston = Piston{Gauge: []float64{from, to}, Volume: []float64{0, swept}}
	d.thermal(chamber, 0)
	d.pass("line", source, chamber, 3, 0.4, open)
	r := d.start(t, Options{Relative: 1e-6, Absolute: 0.1, MaxStep: 0.05, Smoothing: defaultSmoothing}, map[string]float64{"source": 100})
	before := r.Mass() // the source's temperature does not change, and nothing is lost
	for _, level := range []float64{3, 20, 60} {
		until(t, r, 10, Event{Room: "chamber", Level: atPSI(level), Rising: true})
		p, start := r.Pressure("chamber"), circuit.AtmospherePressure
		high := min(max(p, start+from), start+to)
		work := swept / (to - from) * (high*high - (start+from)*(start+from)) / 2
		v := fixed + swept*(high-start-from)/(to-from)
		in := ((p*v-start*fixed)/(HeatRatio-1) + work) / (HeatRatio / (HeatRatio - 1) * GasConstant * ReferenceK)
		want := p * v / ((in + start*fixed/(GasConstant*ReferenceK)) * GasConstant)
		assert.InDelta(t, want, r.Temperature("chamber"), 0.02, "%g psi", level)
		assert.InEpsilon(t, v, r.Volume("chamber"), 1e-9)
	}
	assert.InEpsilon(t, before, r.Mass(), 1e-12)
}

// However well a chamber's wall takes up heat, in the end it is isothermal.
func TestChamberWallOfGreatConductanceIsIsothermal(t *testing.T) {
	usual, kept := truckNetwork(t), finer(t, Detail{ChamberWall: 1e7})
	var strokes [2]float64
	for i, n := range []*Network{usual, kept} {
		r, err := n.Start(nil, Scatter{})
		require.NoError(t, err)
		require.NoError(t, r.Fill("tank.primary", atPSI(100)))
		require.NoError(t, r.Fill("tank.secondary", atPSI(100)))
		setControl(t, r, "pedal", 0.5, 0.2)
		require.NoError(t, r.Advance(0.35))
		strokes[i] = r.Stroke("rear_left_chamber")
	}
	assert.Greater(t, strokes[0], 0.01)
	assert.InDelta(t, strokes[0], strokes[1], 5e-5)
}

// The derivatives stay exact with warm chambers and lines in pieces.
func TestJacobianOfFinerNetwork(t *testing.T) {
	jacobianHolds(t, finer(t, Detail{LinePieces: 3, ChamberWall: 2}))
}

// In a line of pieces steady flow under a small difference is that of the whole, and the passage says so.
func TestPiecesConductAsTheWhole(t *testing.T) {
	for _, pieces := range []int{1, 2, 3, 8} {
		n := finer(t, Detail{LinePieces: pieces})
		r, err := n.Start(nil, Scatter{})
		require.NoError(t, err)
		const smoothing = 1e-7 // small differences are what this is about
		r.Tune(Options{Relative: 1e-3, Absolute: 30, MaxStep: 5, Smoothing: smoothing})
		const line = "front_release_line"
		l := n.plan.lineIndex[line]
		require.NotNil(t, l)
		from, to := n.plan.rooms[n.plan.portRoom(l.From)].name, n.plan.rooms[n.plan.portRoom(l.To)].name
		c, b := lineFlow(l.Bore.SI, l.Length.SI)
		e := r.plan.passages[n.plan.passageIndex[line+"/"+Bore]].elements
		assert.Len(t, e, pieces)
		// Series rules of ISO 6358-3, as SIMULATION section 1.1 gives them: Σ1/C³ and Σ(1−b)/C² over the pieces.
		cubes, squares := 0.0, 0.0
		for _, k := range e {
			el := n.plan.elements[k]
			cubes += math.Pow(el.c, -3)
			squares += (1 - el.crit) / (el.c * el.c)
		}
		assert.InEpsilon(t, math.Pow(c, -3), cubes, 1e-9)
		assert.InEpsilon(t, (1-b)/(c*c), squares, 1e-9)
		assert.InDelta(t, 0, r.PassageFlow(line+"/"+Bore), 1e-12)
		require.NoError(t, r.Fill(from, atPSI(101)))
		for i := 1; i < pieces; i++ {
			require.NoError(t, r.Fill(lineRoom(line, i), atPSI(101-float64(i)/float64(pieces))))
		}
		require.NoError(t, r.Fill(to, atPSI(100)))
		flow := r.PassageFlow(line + "/" + Bore)
		x := (1 / atPSI(101)) * circuit.PSI / (1 - b)
		want := c * ReferenceDensity * atPSI(101) * math.Sqrt(x*(2-x))
		assert.InEpsilon(t, want, flow, 0.01, "%d pieces", pieces)
	}
}

// A finer vehicle has the same parts, faults, vents and controls, and does nearly the same; a lining that closes one way
// closes that way only, in all pieces.
func TestFinerNetworkIsTheSameVehicle(t *testing.T) {
	usual, fine := truckNetwork(t), finer(t, Detail{LinePieces: 3, ChamberWall: 2})
	assert.Equal(t, usual.Vents(), fine.Vents())
	assert.Equal(t, usual.Controls(), fine.Controls())
	assert.Equal(t, usual.Latches(), fine.Latches())
	assert.Subset(t, fine.Rooms(), usual.Rooms())
	for _, f := range Catalogue(fine.Circuit()) {
		_, err := fine.Start([]Fault{f}, Scatter{})
		require.NoError(t, err, f.String())
		a, err := usual.Changes(f)
		require.NoError(t, err)
		b, err := fine.Changes(f)
		require.NoError(t, err)
		assert.ElementsMatch(t, a, b, f.String())
	}
	var times [2]float64
	for i, n := range []*Network{usual, fine} {
		r, err := n.Start(nil, Scatter{})
		require.NoError(t, err)
		mass := r.Mass()
		setControl(t, r, Engine, n.Circuit().Engine.Rated.SI, 1)
		times[i] = until(t, r, 600, Event{Latch: "governor.cutout", Value: true})
		assert.InDelta(t, mass, r.Mass()+r.Vented(), 1e-9*r.Mass())
	}
	assert.InEpsilon(t, times[0], times[1], 0.03)
}

func TestDetailIsRefused(t *testing.T) {
	c, err := circuits.Load("bench_board")
	require.NoError(t, err)
	for _, d := range []Detail{{LinePieces: -1}, {LinePieces: 17}, {ChamberWall: -1}, {ChamberWall: math.NaN()}, {ChamberWall: math.Inf(1)}} {
		_, err := CompileIn(c, d)
		assert.Error(t, err, "%+v", d)
	}
	r, err := finer(t, Detail{ChamberWall: 1}).Start(nil, Scatter{})
	require.NoError(t, err)
	assert.ErrorContains(t, r.Export().Write(&bytes.Buffer{}), "moving wall")
}
