package engine

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuits"
)

func network(t testing.TB, name string) *airflow.Network {
	t.Helper()
	c, err := circuits.Load(name)
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	return n
}

func worked(t testing.TB, name string) *Worked {
	t.Helper()
	w, err := NewWorked(network(t, name))
	require.NoError(t, err)
	return w
}

var noon = time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC)

func psi(pa float64) float64 { return (pa - circuit.AtmospherePressure) / circuit.PSI }

// Every vehicle of the library begins charged where it can make air, stands still until it is told otherwise, and can be
// begun empty.
func TestEveryVehicleBegins(t *testing.T) {
	for _, name := range circuits.Names() {
		t.Run(name, func(t *testing.T) {
			w := worked(t, name)
			f := w.Frame()
			assert.False(t, f.Playing)
			assert.Equal(t, f.Begin, f.Now.Time)
			for i, p := range f.Now.Needle {
				assert.Greater(t, psi(p), 85.0, "gauge %d", i)
			}
			require.NoError(t, w.Begin(false))
			f = w.Frame()
			for _, p := range f.Now.Pressure {
				assert.InDelta(t, 0, psi(p), 1e-6)
			}
			assert.Equal(t, 0.0, f.Now.Time)
		})
	}
}

func TestTimeRunsStandsAndGoesBack(t *testing.T) {
	w := worked(t, "gritter")
	begin := w.Frame().Begin
	w.Advance(10, time.Time{})
	w.Set("foot_valve.pedal", 0.5, 0.1, noon, "pedal to half")
	w.Advance(3, time.Time{})
	down := w.Frame()
	w.Set("foot_valve.pedal", 0, 0.1, noon.Add(time.Minute), "pedal up")
	w.Advance(20, time.Time{})
	up := w.Frame()
	assert.InDelta(t, begin+33, up.Now.Time, 1e-6)
	assert.Len(t, up.Deeds, 2)
	assert.Equal(t, "pedal up", up.CanUndo)

	w.Seek(begin + 13)
	back := w.Frame()
	assert.InDelta(t, down.Now.Time, back.Now.Time, 1e-6)
	for i, p := range down.Now.Pressure {
		assert.InDelta(t, psi(p), psi(back.Now.Pressure[i]), 0.1, "room %d", i)
	}
	assert.InDelta(t, begin+33, back.End, 1e-6, "what comes later is still there")

	w.Seek(begin + 40)
	again := w.Frame()
	for i, p := range up.Now.Pressure {
		assert.InDelta(t, psi(p), psi(again.Now.Pressure[i]), 0.1, "room %d", i)
	}

	w.Seek(begin + 5)
	w.Advance(1, time.Time{})
	f := w.Frame()
	assert.InDelta(t, begin+6, f.End, 1e-6, "going on from before forgets what came later")
	assert.Empty(t, f.Deeds)
	for _, c := range f.Curves {
		require.Len(t, c.Now, len(c.Time))
		assert.LessOrEqual(t, c.Time[len(c.Time)-1], begin+6+1e-9)
	}
	assert.Len(t, down.Curves[0].Now, len(down.Curves[0].Time), "what was handed out stays as it was")
}

func TestUndoAndRedoGoFromDeedToDeed(t *testing.T) {
	w := worked(t, "gritter")
	pedal := func() float64 { return w.now.Get("foot_valve.pedal") }
	for i := range 30 { // one movement, in many small parts
		w.Set("foot_valve.pedal", float64(i+1)/60, 0, noon.Add(time.Duration(i)*30*time.Millisecond), "pedal")
		w.Advance(0.03, time.Time{})
	}
	w.Set("park_control.knob", 1, 0, noon.Add(time.Minute), "park released")
	w.Advance(5, time.Time{})
	fault := []airflow.Fault{{Target: "rear_relay", Mode: "exhaust seat leaking", Severity: 1e-3}}
	w.SetFaults(fault, "fault in")
	require.Empty(t, w.trouble)
	w.Advance(2, time.Time{})
	require.NotNil(t, w.Frame().Healthy)
	assert.Len(t, w.Frame().Deeds, 3)

	w.Undo()
	assert.Empty(t, w.faults)
	assert.Nil(t, w.Frame().Healthy)
	assert.Equal(t, 1.0, w.now.Get("park_control.knob"))
	w.Undo()
	assert.Equal(t, 0.0, w.now.Get("park_control.knob"))
	assert.InDelta(t, 0.5, pedal(), 1e-9)
	w.Undo()
	assert.Equal(t, 0.0, pedal())
	w.Undo()
	assert.Empty(t, w.Frame().CanUndo)
	assert.Equal(t, "pedal", w.Frame().CanRedo)
	w.Redo()
	w.Redo()
	w.Redo()
	assert.Equal(t, fault, w.faults)
	assert.Empty(t, w.Frame().CanRedo)
	assert.InDelta(t, 0.5, pedal(), 1e-9)
}

// Beginning again is a deed like any other: the time line that it ended is there again when it is undone, as it was left.
func TestBeginningAgainCanBeUndone(t *testing.T) {
	w := worked(t, "gritter")
	w.Set("foot_valve.pedal", 0.5, 0.1, noon, "pedal")
	w.Advance(5, time.Time{})
	w.SetFaults([]airflow.Fault{{Target: "rear_relay", Mode: "exhaust seat leaking", Severity: 1e-3}}, "fault in")
	w.Advance(2.5, time.Time{})
	was := w.Frame()
	require.NoError(t, w.Begin(false))
	assert.Equal(t, "begun again without air", w.Frame().CanUndo)
	w.Set("foot_valve.pedal", 1, 0.1, noon.Add(time.Minute), "pedal down")
	w.Advance(1, time.Time{})
	require.NoError(t, w.Begin(true))
	assert.Equal(t, "begun again, charged", w.Frame().CanUndo)

	w.Undo()
	assert.Equal(t, "pedal down", w.Frame().CanUndo)
	assert.Equal(t, "begun again, charged", w.Frame().CanRedo)
	w.Undo()
	w.Undo()
	f := w.Frame()
	assert.InDelta(t, was.Now.Time, f.Now.Time, 1e-9)
	assert.InDeltaSlice(t, was.Now.Pressure, f.Now.Pressure, 1)
	assert.Equal(t, was.Deeds, f.Deeds)
	assert.Equal(t, was.Faults, f.Faults)
	assert.Equal(t, was.Curves, f.Curves)
	assert.Equal(t, "fault in", f.CanUndo)
	assert.Equal(t, "begun again without air", f.CanRedo)

	w.Redo()
	assert.Less(t, psi(w.Frame().Now.Needle[0]), 1.0, "there is no air")
	w.Redo()
	w.Redo()
	assert.Greater(t, psi(w.Frame().Now.Needle[0]), 85.0)
	assert.Empty(t, w.Frame().CanRedo)
	w.Undo()
	w.Advance(1, time.Time{})
	assert.Empty(t, w.Frame().CanRedo, "from here on it goes otherwise")
}

// Lives that are over are kept within bounds, the last of them always.
func TestTheOldestLivesAreForgotten(t *testing.T) {
	w := worked(t, "bench_board")
	for range 6 {
		for i := range 1000 {
			w.line.append(moment{t: w.now.Time(), now: w.line.moments[0].now, water: w.water.tally.clone(), deed: "deed", input: i > 0})
		}
		require.NoError(t, w.Begin(false))
	}
	assert.Len(t, w.over, 3)
	w.Undo()
	assert.Len(t, w.over, 2)
	assert.Equal(t, "deed", w.Frame().CanUndo)
}

// A healthy vehicle beside the faulty one differs by the fault alone: the same deeds at the same times.
func TestTheHealthyVehicleIsCarriedAlong(t *testing.T) {
	alone, both := worked(t, "gritter"), worked(t, "gritter")
	both.SetFaults([]airflow.Fault{{Target: "drain_primary", Mode: "leaking", Severity: math.NaN()}}, "a leak")
	require.Empty(t, both.trouble)
	for _, w := range []*Worked{alone, both} {
		w.Advance(5, time.Time{})
		w.Set("foot_valve.pedal", 0.6, 0.1, noon, "pedal")
		w.Advance(10, time.Time{})
	}
	f := both.Frame()
	for i, p := range alone.Frame().Now.Pressure {
		assert.InDelta(t, psi(p), psi(f.Healthy.Pressure[i]), 0.05)
	}
	faulty, healthy := f.Curves[0].Now, f.Curves[0].Healthy
	assert.Less(t, faulty[len(faulty)-1], healthy[len(healthy)-1], "the needle falls faster with the leak")
}

// Whatever is done, undoing all of it leads back to the beginning, and no time is lost on the way.
func TestRandomDeedsCanAllBeUndone(t *testing.T) {
	n := network(t, "tractor_trailer")
	start, err := NewWorked(n)
	require.NoError(t, err)
	begin := start.Frame().Now
	faults := airflow.Catalogue(n.Circuit())
	rapid.Check(t, func(t *rapid.T) {
		w := start
		require.NoError(t, w.put(nil, w.line.moments[0].now, nil))
		first := w.line.moments[0]
		w.line.clear()
		w.curves = w.curves.fresh()
		w.over, w.undone, w.begun = nil, nil, ""
		w.line.append(first)
		clock := noon
		deeds := 0
		for range rapid.IntRange(1, 12).Draw(t, "deeds") {
			clock = clock.Add(2 * time.Second)
			switch rapid.IntRange(0, 7).Draw(t, "what") {
			case 0:
				w.SetFaults([]airflow.Fault{rapid.SampledFrom(faults).Draw(t, "fault")}, "fault")
			case 1:
				w.Seek(begin.Time + rapid.Float64Range(0, 100).Draw(t, "to"))
			case 2:
				w.Undo()
			case 3:
				w.Redo()
			case 4:
				if err := w.Begin(false); err != nil {
					t.Fatal(err)
				}
			default:
				w.Set(rapid.SampledFrom(n.Controls()[2:]).Draw(t, "control"), rapid.SampledFrom([]float64{0, 1}).Draw(t, "value"), 0.1, clock, "moved")
			}
			w.Advance(rapid.Float64Range(0, 20).Draw(t, "s"), time.Time{})
			if w.trouble != "" {
				t.Fatalf("trouble: %s", w.trouble)
			}
			deeds++
		}
		for i := 0; w.Frame().CanUndo != ""; i++ {
			w.Undo()
			if i > deeds {
				t.Fatal("undo has no end")
			}
		}
		f := w.Frame().Now
		for i, c := range begin.Control {
			if f.Control[i] != c {
				t.Fatalf("%s is at %g and began at %g", n.Controls()[i], f.Control[i], c)
			}
		}
		if len(w.faults) > 0 {
			t.Fatalf("faults are left: %v", w.faults)
		}
		if w.line.begin() != begin.Time {
			t.Fatalf("it began at %g and is back at a life that began at %g", begin.Time, w.line.begin())
		}
	})
}

func TestWaterGathersAndIsDrained(t *testing.T) {
	w := worked(t, "bench_board") // it has no dryer
	w.SetWeather(303.15, 0.9, "a hot, damp day")
	require.NoError(t, w.now.Set(airflow.Engine, w.Circuit().Engine.Rated.SI, 0))
	for range 60 {
		w.Set("foot_valve.pedal", 1, 0.1, noon, "on")
		w.Advance(4, time.Time{})
		w.Set("foot_valve.pedal", 0, 0.1, noon, "off")
		w.Advance(6, time.Time{})
	}
	f := w.Frame()
	total := 0.0
	for _, tank := range f.Water.Tanks {
		total += tank.Kg
	}
	assert.Greater(t, total, 0.5e-3, "grams in ten minutes of hard work on a damp day")
	assert.Less(t, total, f.Water.DrawnIn)
	for i, drains := range w.water.drains {
		require.NotEmpty(t, drains, "%s has a drain", w.water.tanks[i].Room)
		for _, k := range drains {
			w.Set(w.network.Controls()[k], 1, 0.1, noon, "drain")
		}
	}
	w.Advance(5, time.Time{})
	for _, tank := range w.Frame().Water.Tanks {
		assert.InDelta(t, 0, tank.Kg, total/100, tank.Room)
	}
}

func TestLiveWorksBesideAndEnds(t *testing.T) {
	woken := make(chan struct{}, 1000)
	l := NewLive(network(t, "gritter").Circuit(), func() {
		select {
		case woken <- struct{}{}:
		default:
		}
	})
	defer l.Close()
	await := func(what string, ok func(*Frame) bool) *Frame {
		t.Helper()
		for end := time.After(20 * time.Second); ; {
			if f := l.Frame(); f != nil && ok(f) {
				return f
			}
			select {
			case <-woken:
			case <-end:
				t.Fatal("never came: " + what)
			}
		}
	}
	first := await("a first frame", func(f *Frame) bool { return true })
	l.Do(func(w *Worked) { w.Pace(60); w.Play(true) })
	await("time", func(f *Frame) bool { return f.Now.Time > first.Now.Time+20 })
	l.Do(func(w *Worked) { w.Play(false); w.Set("foot_valve.pedal", 1, 0, time.Now(), "pedal down") })
	f := await("the pedal", func(f *Frame) bool { return f.CanUndo == "pedal down" })
	assert.False(t, f.Playing)
	l.Do(func(w *Worked) { w.Seek(first.Begin) })
	await("the beginning", func(f *Frame) bool { return f.Now.Time == first.Begin })
}

// BenchmarkMinuteAtSixty is what a second of the clock costs at the highest pace: a minute of the vehicle, worked hard, with
// a healthy one beside it.
func BenchmarkMinuteAtSixty(b *testing.B) {
	w, err := NewWorked(network(b, "tractor_trailer"))
	require.NoError(b, err)
	w.SetFaults([]airflow.Fault{{Target: "tractor_rear_relay", Mode: "exhaust seat leaking", Severity: math.NaN()}}, "")
	require.Empty(b, w.trouble)
	for b.Loop() {
		for i := range 6 {
			w.Set("pedal", float64(1-i%2), 0.1, noon, "")
			w.Advance(10, time.Time{})
		}
	}
}

func BenchmarkFrameOfLargest(b *testing.B) {
	w, err := NewWorked(network(b, "tractor_trailer"))
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		w.Frame()
	}
}
