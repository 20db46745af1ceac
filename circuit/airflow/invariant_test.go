package airflow

import (
	"errors"
	"fmt"
	"math"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/circuit"
)

// workHard drives a truck through half an hour of everything that a driver can do, and hands each moment to look.
func workHard(t testing.TB, r *Run, look func()) {
	t.Helper()
	step := func(seconds float64) {
		require.NoError(t, r.Advance(seconds))
		look()
	}
	setControl(t, r, Key, 1, 0)
	setControl(t, r, Engine, 2000.0/60, 1)
	step(150)
	setControl(t, r, "knob", 1, 0.1)
	step(10)
	for i := range 40 {
		setControl(t, r, "pedal", 0.2+0.02*float64(i), 0.15)
		step(1.3)
		setControl(t, r, "pedal", 0, 0.1)
		step(1.9)
	}
	setControl(t, r, Engine, 0, 0.5)
	step(300)
	setControl(t, r, "knob", 0, 0.1)
	step(60)
	setControl(t, r, "cock", 1, 0)
	step(200)
	setControl(t, r, "cock", 0, 0)
	setControl(t, r, Engine, 700.0/60, 1)
	step(700)
}

// Mass in the rooms and mass that has left or come in stay the same to rounding, whatever happens.
func TestMassIsConserved(t *testing.T) {
	n := truckNetwork(t)
	for _, faults := range [][]Fault{nil, {{"tank", "primary leaking", 0.8e-3}}} {
		r, err := n.Start(faults, Scatter{Pump: -0.05, Volume: 0.03, Wall: 0.2, Valve: 0.07, Bore: -0.04})
		require.NoError(t, err)
		start := r.Mass()
		most := start
		workHard(t, r, func() {
			most = max(most, r.Mass())
			require.InDelta(t, start, r.Mass()+r.Vented(), 1e-9*most, "after %g s", r.Time())
		})
		assert.Greater(t, most, 5*start, "air was in it")
		assert.Greater(t, r.Pumped(), most)
		// What the pump delivers came in at the intake.
		intake := -r.VentedAt("compressor.0")
		assert.InEpsilon(t, r.Pumped(), intake, 1e-3)
		sum := 0.0
		for _, place := range n.Vents() {
			sum += r.VentedAt(place)
		}
		assert.InDelta(t, r.Vented(), sum, 1e-12)
	}
}

// An hour of a vehicle's life: what is in it, what has left and what came in balance to 1e-9 of what passed through it.
func TestMassBalanceOverAnHour(t *testing.T) {
	r, err := truckNetwork(t).Start([]Fault{{"tank", "secondary leaking", 0.5e-3}}, Scatter{Pump: 0.03})
	require.NoError(t, err)
	start := r.Mass()
	for r.Time() < 3600 {
		workHard(t, r, func() { require.InDelta(t, start, r.Mass()+r.Vented(), 1e-9*r.Mass(), "after %g s", r.Time()) })
	}
}

// state is everything about a run, bit by bit.
func state(r *Run) []uint64 {
	var bits []uint64
	for _, x := range r.s.x {
		bits = append(bits, math.Float64bits(x))
	}
	return append(bits, math.Float64bits(r.t), math.Float64bits(r.h), math.Float64bits(r.Vented()), math.Float64bits(r.Pumped()))
}

// Two runs of one network, at the same time on two goroutines, and one of another compilation, agree in every bit.
func TestRunsAreDeterministic(t *testing.T) {
	n := truckNetwork(t)
	networks := []*Network{n, n, truckNetwork(t)}
	states := make([][]uint64, len(networks))
	var wait sync.WaitGroup
	for i, n := range networks {
		wait.Go(func() {
			r, err := n.Start([]Fault{{"compressor", "worn", math.NaN()}}, Scatter{Pump: 0.02})
			if !assert.NoError(t, err) {
				return
			}
			workHard(t, r, func() { states[i] = append(states[i], state(r)...) })
		})
	}
	wait.Wait()
	require.NotEmpty(t, states[0])
	for i := range states {
		assert.Equal(t, states[0], states[i], "run %d", i)
	}
	// A run that is started again does the same again.
	r, err := n.Start(nil, Scatter{Pump: -0.1})
	require.NoError(t, err)
	require.NoError(t, r.Advance(3))
	require.NoError(t, r.LineOff("discharge_line", true))
	require.NoError(t, r.Advance(1))
	require.NoError(t, r.Restart([]Fault{{"compressor", "worn", math.NaN()}}, Scatter{Pump: 0.02}))
	var again []uint64
	workHard(t, r, func() { again = append(again, state(r)...) })
	assert.Equal(t, states[0], again)
}

// A run that goes on from a snapshot does what the run that it was taken from does, in every bit; so does another run of the
// same vehicle.
func TestSnapshots(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	chargeUp(t, r)
	setControl(t, r, "pedal", 0.7, 0.4)
	require.NoError(t, r.Advance(0.2)) // in the middle of a movement
	require.NoError(t, r.LineOff("front_left_hose", true))
	require.NoError(t, r.Advance(0.1))
	saved := r.Snapshot()
	onward := func(r *Run) (all []uint64) {
		require.NoError(t, r.Advance(3))
		all = append(all, state(r)...)
		setControl(t, r, "pedal", 0, 0.1)
		require.NoError(t, r.LineOff("front_left_hose", false))
		require.NoError(t, r.Advance(3))
		return append(all, state(r)...)
	}
	want := onward(r)
	r.Restore(saved)
	assert.Equal(t, want, onward(r), "the same run")
	other, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	require.NoError(t, other.Advance(1))
	other.Restore(saved)
	assert.Equal(t, want, onward(other), "another run")
}

// Being recorded changes nothing about a run.
func TestRecordingIsPassive(t *testing.T) {
	n := truckNetwork(t)
	var states [2][]uint64
	for i := range states {
		r, err := n.Start(nil, Scatter{})
		require.NoError(t, err)
		count := 0
		if i == 1 {
			r.Record(0.25, func(r *Run) {
				assert.InDelta(t, float64(count)*0.25, r.Time(), 1e-9)
				count++
				for _, room := range n.Rooms() {
					if p := r.Pressure(room); !(p > 0 && p < 3e6) {
						t.Fatalf("%s at %g s: %g Pa", room, r.Time(), p)
					}
				}
				r.VentFlow("rear_relay.3")
				assert.Error(t, r.Advance(1), "not from a recording")
			})
		}
		chargeUp(t, r)
		states[i] = state(r)
		if i == 1 {
			assert.Equal(t, int(r.Time()/0.25)+1, count)
		}
	}
	assert.Equal(t, states[0], states[1])
}

// A step costs no memory.
func TestNoAllocations(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	chargeUp(t, r)
	saved := r.Snapshot()
	assert.Zero(t, testing.AllocsPerRun(10, func() {
		r.Restore(saved)
		_ = r.Set("foot_valve.pedal", 1, 0.1)
		_ = r.Advance(1)
		_ = r.Set("foot_valve.pedal", 0, 0.1)
		_ = r.Advance(60)
	}))
}

// Random small networks: whatever is joined to whatever, and however controls are thrown about, pressures stay finite and
// above nothing, mass is kept, and the run goes on.
func TestAnyNetwork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := newBoard()
		count := rapid.IntRange(1, 7).Draw(t, "rooms")
		controls := []int32{d.control("a"), d.control("b")}
		rooms := make([]int32, count)
		filled := map[string]float64{}
		for i := range rooms {
			name := fmt.Sprintf("room %d", i)
			rooms[i] = d.room(name, math.Pow(10, rapid.Float64Range(-5, -1).Draw(t, "log volume")))
			filled[name] = rapid.Float64Range(-10, 150).Draw(t, "psi")
			switch rapid.IntRange(0, 3).Draw(t, "sort") {
			case 1:
				d.thermal(rooms[i], rapid.Float64Range(0, 50).Draw(t, "hA"))
			case 2:
				first := rapid.Float64Range(0, 20).Draw(t, "moves at")
				swept := rapid.Float64Range(0, 2e-3).Draw(t, "swept")
				d.p.rooms[rooms[i]].piston = Piston{
					Gauge:  []float64{first * circuit.PSI, (first + 5) * circuit.PSI, (first + 70) * circuit.PSI},
					Volume: []float64{0, swept, 1.3 * swept},
				}
			}
		}
		end := func(label string) int32 {
			if k := rapid.IntRange(-1, count-1).Draw(t, label); k >= 0 {
				return rooms[k]
			}
			return outside
		}
		latches := []int32{d.latch("latch", rooms[0], absolutePSI(t, "rise", 60, 100), absolutePSI(t, "fall", 5, 50))}
		for i := range rapid.IntRange(0, 10).Draw(t, "elements") {
			from, to := end("from"), end("to")
			if from == to {
				continue
			}
			o := opening{base: rapid.Float64Range(-2, 2).Draw(t, "base"), low: 0, high: 1}
			for range rapid.IntRange(0, 3).Draw(t, "terms") {
				switch rapid.IntRange(0, 2).Draw(t, "term") {
				case 0:
					o.terms = append(o.terms, term{controlTerm, rapid.SampledFrom(controls).Draw(t, "control"), rapid.Float64Range(-3, 3).Draw(t, "gain")})
				case 1:
					o.terms = append(o.terms, term{latchTerm, latches[0], rapid.Float64Range(-2, 2).Draw(t, "gain")})
				case 2:
					k := rapid.SampledFrom(rooms).Draw(t, "room")
					gain := rapid.Float64Range(-1, 1).Draw(t, "gain") / circuit.PSI
					o.terms = append(o.terms, term{roomTerm, k, gain})
					o.base -= gain * atm
				}
			}
			e := d.pass(fmt.Sprintf("element %d", i), from, to, math.Pow(10, rapid.Float64Range(-3, 1.5).Draw(t, "log C")), rapid.Float64Range(0.02, 0.6).Draw(t, "b"), o)
			e.forth = rapid.SampledFrom([]float64{1, 1, 0.1, 0}).Draw(t, "forth")
			e.back = rapid.SampledFrom([]float64{1, 1, 0.1, 0}).Draw(t, "back")
			if rapid.Bool().Draw(t, "leaking") {
				e.opening.low = 0.01
			}
		}
		if !d.p.rooms[rooms[count-1]].thermal && rapid.Bool().Draw(t, "pump") {
			d.compressorV6(rooms[count-1], opening{base: 1, low: 0, high: 1, terms: []term{{latchTerm, latches[0], -1}}})
		}
		r, err := newNetwork(d.p).Start(nil, Scatter{})
		require.NoError(t, err)
		r.Tune(rapid.SampledFrom([]Options{Fine, Coarse}).Draw(t, "options"))
		for _, name := range r.Network().Rooms() {
			require.NoError(t, r.Fill(name, atPSI(filled[name])))
		}
		start := r.Mass()
		most := start
		for range rapid.IntRange(1, 8).Draw(t, "moves") {
			switch rapid.IntRange(0, 2).Draw(t, "move") {
			case 0:
				require.NoError(t, r.Set("a", rapid.Float64Range(0, 1).Draw(t, "a"), rapid.Float64Range(0, 1).Draw(t, "over")))
			case 1:
				require.NoError(t, r.Set("b", rapid.Float64Range(0, 1).Draw(t, "b"), 0))
			case 2:
				require.NoError(t, r.Set(Engine, rapid.Float64Range(0, 40).Draw(t, "engine"), 1))
			}
			require.NoError(t, r.Advance(rapid.Float64Range(0, 30).Draw(t, "seconds")))
			for _, name := range r.Network().Rooms() {
				p, k := r.Pressure(name), r.Temperature(name)
				require.True(t, p > 0 && !math.IsInf(p, 0) && k > 0 && !math.IsInf(k, 0), "%s: %g Pa, %g K", name, p, k)
			}
			most = max(most, r.Mass())
			// The pump, if there is one, may pass the room's air many times over.
			require.InDelta(t, start, r.Mass()+r.Vented(), 1e-9*most+1e-11*r.Pumped())
		}
	})
}

func absolutePSI(t *rapid.T, label string, low, high float64) float64 {
	return atPSI(rapid.Float64Range(low, high).Draw(t, label))
}

// A run that can't go on says when, where and why, stays at its last good state, and says the same again.
func TestFailureIsSaid(t *testing.T) {
	d := newBoard()
	a := d.room("sick", 1e-3)
	d.pass("orifice", a, outside, 1, 0.3, open)
	r := d.start(t, Fine, map[string]float64{"sick": 50})
	require.NoError(t, r.Advance(1))
	// No network that can be built does this: numbers are spoilt under the solver's feet.
	r.s.fixed[0].slope = math.NaN()
	r.s.begun = false
	err := r.Advance(1)
	var failure *Failure
	require.True(t, errors.As(err, &failure), "%v", err)
	assert.Equal(t, "sick", failure.Where)
	assert.InDelta(t, 1, failure.At, 1e-9)
	assert.NotEmpty(t, failure.Why)
	assert.Contains(t, err.Error(), "sick")
	assert.False(t, math.IsNaN(r.Pressure("sick")))
	assert.Equal(t, err, r.Advance(1))
}
