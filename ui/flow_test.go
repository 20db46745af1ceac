package ui

import (
	"errors"
	"image"
	"io"
	"strings"
	"testing"
	"time"

	"gioui.org/f32"
	"gioui.org/io/key"
	"gioui.org/io/pointer"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/explain"
	"airpath/ui/engine"
	"airpath/ui/flow"
	"airpath/ui/theme"
)

// flowHarness is a window on Flow with a vehicle that moves only when it is told to.
type flowHarness struct {
	*harness
	still *engine.Still
}

func newFlow(t testing.TB, opts Options) *flowHarness {
	t.Helper()
	f := &flowHarness{}
	opts.Area = "Flow"
	if opts.Path == "" {
		opts.Path = "gritter"
	}
	opts.Vehicle = func(c *circuit.Circuit, _ func()) flow.Vehicle {
		n, err := airflow.Compile(c)
		require.NoError(t, err)
		f.still, err = engine.NewStill(n)
		require.NoError(t, err)
		return f.still
	}
	f.harness = newHarness(t, opts)
	f.frame()
	return f
}

// run lets time go by, as many seconds of the clock.
func (f *flowHarness) run(seconds float64) {
	for range int(seconds * 10) {
		f.still.Tick(100 * time.Millisecond)
		f.now = f.now.Add(80 * time.Millisecond)
		f.frame()
	}
}

func (f *flowHarness) shows() *flow.Description {
	f.frame()
	return f.shell.describe().Flow
}

func TestFlowIsWorkedByMouse(t *testing.T) {
	f := newFlow(t, Options{})
	assert.Equal(t, "Flow", f.shell.describe().Area)
	d := f.shows()
	assert.False(t, d.Playing)
	assert.Equal(t, 0.0, d.Time)
	f.press("park control knob")
	assert.Equal(t, 1.0, f.shows().Controls["park_control.knob"], "seen at once, though time stands")
	f.press("Let time run")
	f.run(5)
	d = f.shows()
	assert.True(t, d.Playing)
	assert.InDelta(t, 5, d.Time, 0.2)
	assert.Equal(t, 1.0, d.Controls["park_control.knob"])

	pedal, ok := f.control("foot valve pedal")
	require.True(t, ok)
	at := f32.Pt(float32(pedal.Place.Min.X+pedal.Place.Dx()*3/4), float32(middle(pedal.Place).Y))
	f.send(pointer.Event{Kind: pointer.Press, Source: pointer.Mouse, Buttons: pointer.ButtonPrimary, Position: at},
		pointer.Event{Kind: pointer.Release, Source: pointer.Mouse, Position: at})
	f.run(2)
	assert.InDelta(t, 0.78, f.shows().Controls["foot_valve.pedal"], 0.05)
	f.send(pointer.Event{Kind: pointer.Scroll, Source: pointer.Mouse, Scroll: f32.Pt(0, 30), Position: at})
	f.run(1)
	assert.Less(t, f.shows().Controls["foot_valve.pedal"], 0.78, "the wheel moves it too")
	f.press("Let go of the foot valve")
	f.run(1)
	assert.Equal(t, 0.0, f.shows().Controls["foot_valve.pedal"])
	f.press("Let time stand")
	assert.False(t, f.shows().Playing)
}

func TestFlowIsWorkedByKeysAlone(t *testing.T) {
	f := newFlow(t, Options{})
	f.key("P", 0)
	assert.True(t, f.shows().Playing)
	f.key("2", 0) // the second control on the dash: the park control
	f.run(3)
	assert.Equal(t, 1.0, f.shows().Controls["park_control.knob"])
	f.key("B", 0)
	f.run(1)
	assert.InDelta(t, 0.5, f.shows().Controls["foot_valve.pedal"], 0.01)
	f.key("B", 0)
	f.run(1)
	assert.Equal(t, 0.0, f.shows().Controls["foot_valve.pedal"])
	f.key("]", 0)
	f.key("]", 0)
	assert.Equal(t, 5.0, f.shows().Pace)
	f.key("[", 0)
	assert.Equal(t, 2.0, f.shows().Pace)
	f.key("E", 0) // from idle to rated speed
	f.run(1)
	assert.Greater(t, f.shows().Controls["engine"], 30.0)
	f.key("P", 0)
	before := f.shows().Time
	f.key(".", 0)
	assert.InDelta(t, before+1, f.shows().Time, 1e-6)
	f.key(",", 0)
	assert.InDelta(t, before, f.shows().Time, 1e-6)

	for range 4 {
		f.key("Z", key.ModShortcut)
	}
	d := f.shows()
	assert.Equal(t, 0.0, d.Controls["park_control.knob"], "undo goes back through all deeds")
	f.key("Z", key.ModShortcut|key.ModShift)
	assert.Equal(t, 1.0, f.shows().Controls["park_control.knob"])
}

// Every control that has the keyboard can be worked by it: arrows move the pedal, Home lets it go.
func TestSlidersFollowTheArrows(t *testing.T) {
	f := newFlow(t, Options{})
	found := false
	for range 80 {
		f.tab()
		f.key(key.NameRightArrow, 0)
		f.still.Do(func(w *engine.Worked) { w.Step(0.5) })
		if f.shows().Controls["foot_valve.pedal"] > 0 {
			found = true
			break
		}
	}
	require.True(t, found, "Tab comes to the pedal")
	f.key(key.NameEnd, 0)
	f.still.Do(func(w *engine.Worked) { w.Step(0.5) })
	assert.Equal(t, 1.0, f.shows().Controls["foot_valve.pedal"])
	f.key(key.NameHome, 0)
	f.still.Do(func(w *engine.Worked) { w.Step(0.5) })
	assert.Equal(t, 0.0, f.shows().Controls["foot_valve.pedal"])
}

func TestWhatIsThis(t *testing.T) {
	f := newFlow(t, Options{})
	f.clickPart("rear_relay")
	assert.Equal(t, "rear_relay", f.shows().Part)
	text := strings.Join(f.labels(), "\n")
	assert.Contains(t, text, "It rests: no control air")
	assert.Contains(t, text, "Port 4, control")
	f.press("Port 1, from the reservoir")
	d := f.shows()
	assert.NotEqual(t, "rear_relay", d.Part, "the line on the port is looked at")
	assert.Contains(t, d.Lit, "tank", "and the air's way into it is lit")
	assert.Contains(t, strings.Join(f.labels(), "\n"), "Why is this line live?")
	f.key(key.NameEscape, 0)
	assert.Empty(t, f.shows().Part)

	f.clickPart("drain_primary")
	f.press("primary drain cock here") // its own slider is in its card
	f.still.Do(func(w *engine.Worked) { w.Step(0.5) })
	assert.Greater(t, f.shows().Controls["drain_primary.cock"], 0.3)
}

// Every part and line of every vehicle that is looked at says something.
func TestEveryPartIsExplainedInTheWindow(t *testing.T) {
	f := newFlow(t, Options{Path: "tractor_trailer"})
	for _, c := range f.shell.session.Circuit.Components {
		f.shell.flow.Look(c.ID)
		f.frame()
		f.frame()
		assert.Contains(t, strings.ToLower(strings.Join(f.labels(), "\n")), strings.ToLower(c.Name))
	}
	for _, l := range f.shell.session.Circuit.Lines {
		f.shell.flow.Look(l.ID)
		f.frame()
		f.frame()
		assert.Equal(t, l.ID, f.shows().Part)
	}
}

func TestAWalkInTheWindow(t *testing.T) {
	f := newFlow(t, Options{Size: image.Pt(1280, 900)})
	f.press("show: Walks")
	f.press("Walk: Application and release")
	assert.NotEmpty(t, f.shows().Lit)
	for step := 1; step <= 3; step++ {
		f.press("Do what the step says")
		seen := false
		for range 400 {
			f.run(0.5)
			if strings.Contains(strings.Join(f.labels(), "\n"), "Seen: it is as the step says.") {
				seen = true
				break
			}
		}
		require.True(t, seen, "step %d", step)
		f.press("Next step")
	}
	assert.Empty(t, f.shows().Lit, "the walk is over")
}

func TestAFaultIsPutInAndComparedWithTheHealthyVehicle(t *testing.T) {
	f := newFlow(t, Options{Size: image.Pt(1280, 1000)})
	f.press("show: Faults")
	f.clickPart("drain_primary")
	f.press("Fault: ")
	d := f.shows()
	require.Len(t, d.Faults, 1)
	assert.True(t, strings.HasPrefix(d.Faults[0], "drain_primary/"))
	f.still.Do(func(w *engine.Worked) { w.Pace(60); w.Play(true) })
	f.run(3)
	_, ok := f.control("severity of ")
	assert.True(t, ok)
	found := false
	for _, l := range f.labels() {
		found = found || strings.HasPrefix(l, "primary gauge: ") && strings.Contains(l, "healthy")
	}
	assert.True(t, found, "the dial shows both needles")
	f.press("Take all faults out")
	assert.Empty(t, f.shows().Faults)
}

func TestEveryControlOfFlowHasALabelAndIsLargeEnoughToHit(t *testing.T) {
	f := newFlow(t, Options{Size: image.Pt(1280, 1400)})
	for _, page := range []string{"Part", "Walks", "Faults", "Water"} {
		f.shell.flow.Show(page)
		f.frame()
		f.frame()
		for _, n := range f.router.AppendSemantics(nil) {
			role := roles[n.Desc.Class]
			if role == "region" || n.Desc.Bounds.Empty() {
				continue
			}
			assert.NotEmpty(t, n.Desc.Label, "a %s at %v", role, n.Desc.Bounds)
			if n.Desc.Bounds.Max.Y < 1400 {
				assert.GreaterOrEqual(t, n.Desc.Bounds.Dx(), int(theme.Touch), n.Desc.Label)
				assert.GreaterOrEqual(t, n.Desc.Bounds.Dy(), int(theme.Touch), n.Desc.Label)
			}
		}
	}
}

func TestFlowInAnySize(t *testing.T) {
	f := newFlow(t, Options{})
	for _, size := range []image.Point{{0, 0}, {1, 1}, {360, 280}, {200, 900}, {1000, 90}, {819, 400}, {1280, 800}, {3840, 2160}} {
		f.size = size
		for _, curves := range []bool{false, true} {
			f.shell.prefs.Curves = curves
			f.still.Do(func(w *engine.Worked) { w.Step(0.3) })
			f.frame()
			f.frame()
		}
	}
}

func TestAnIdleFlowAsksForNoFrames(t *testing.T) {
	f := newFlow(t, Options{})
	for range 30 {
		f.frame()
	}
	_, wakes := f.router.WakeupTime()
	assert.False(t, wakes)
}

func TestFlowAndTraceAreTabs(t *testing.T) {
	f := newFlow(t, Options{})
	f.still.Do(func(w *engine.Worked) { w.Play(true) })
	f.press("work area: Trace")
	assert.Equal(t, "Trace", f.shell.describe().Area)
	f.key("2", key.ModShortcut)
	d := f.shows()
	assert.Equal(t, "Flow", f.shell.describe().Area)
	assert.False(t, d.Playing, "time stands while it is not looked at")
	f.key("?", key.ModShift)
	text := strings.Join(f.labels(), "\n")
	assert.Contains(t, text, "Let time run, or stand")
	assert.NotContains(t, text, "Next suspect")
}

func TestAWalkIsBegunByKeysAlone(t *testing.T) {
	f := newFlow(t, Options{Path: "bench_board"})
	f.key("W", 0)
	f.frame()
	f.tab()
	f.key(key.NameReturn, 0)
	assert.Equal(t, "application", f.shows().Walk)
	f.key("G", 0)
	f.run(30)
	assert.True(t, f.shows().Seen)
	f.key("N", 0)
	assert.Equal(t, 2, f.shows().Step)
}

// What blows is heard only where sound is switched on, and only while time runs.
func TestWhatBlowsIsHeardIfSwitchedOn(t *testing.T) {
	for _, on := range []bool{false, true} {
		heard := make(chan struct{}, 1)
		f := newFlow(t, Options{Size: image.Pt(1280, 800), Loudspeaker: func() (io.WriteCloser, error) {
			heard <- struct{}{}
			return nil, errors.New("there is no loudspeaker in a test")
		}})
		if on {
			f.key("S", 0)
			f.key("S", 0)
			assert.False(t, f.shell.prefs.Sound)
			f.key(",", key.ModShortcut)
			f.press("sound of air: On")
			f.press("Close the settings")
			assert.True(t, f.shell.prefs.Sound)
		}
		f.still.Do(func(w *engine.Worked) { w.Set("drain_primary.cock", 1, 0, f.now, "drain open") })
		f.frame()
		assert.Empty(t, heard, "time stands")
		f.still.Do(func(w *engine.Worked) { w.Play(true) })
		f.run(0.5)
		if !on {
			assert.Empty(t, heard)
			assert.NoError(t, f.shell.flow.Speaker.Trouble())
			continue
		}
		<-heard
	}
}

// Turning the ignition is one deed, though key and engine are two controls: it is undone by one press.
func TestTheIgnitionIsOneDeed(t *testing.T) {
	f := newFlow(t, Options{Path: "bench_board"})
	before := f.shows()
	f.key("E", 0) // at rated speed
	f.still.Do(func(w *engine.Worked) { w.Step(2) })
	f.frame()
	f.key("E", 0)
	deeds := f.still.Frame().Deeds
	require.Len(t, deeds, 2)
	assert.Equal(t, "engine off", deeds[1].Words)
	f.key("Z", key.ModShortcut)
	f.key("Z", key.ModShortcut)
	assert.Equal(t, before.Controls, f.shows().Controls)
}

// While time runs words follow the vehicle a few times a second; but what was done is told of in the next frame.
func TestADeedIsToldOfAtOnce(t *testing.T) {
	f := newFlow(t, Options{})
	f.press("park control knob")
	f.press("Let time run")
	f.run(3)
	book := explain.New(f.still.Frame().Network)
	says := func() string { return book.At(f.still.Frame().Now, "psi").News() }
	said := map[string]bool{}
	for i := range 8 { // sooner one after the other than words follow
		f.still.Do(func(w *engine.Worked) {
			w.Set(airflow.Engine, float64(10*(i%2)), 0, f.now.Add(time.Duration(i)*time.Second), "engine")
		})
		f.frame()
		assert.Equal(t, says(), f.shell.describe().Flow.News)
		said[says()] = true
		f.still.Tick(20 * time.Millisecond)
		f.frame()
	}
	assert.Len(t, said, 2, "it is told that the engine turns, and that it does not")
	f.still.Do(func(w *engine.Worked) { w.Set("foot_valve.pedal", 1, 0, f.now.Add(time.Minute), "pedal down") })
	for range 10 { // the brakes come on within a fifth of a second
		f.still.Tick(20 * time.Millisecond)
		f.frame()
	}
	assert.Contains(t, f.shell.describe().Flow.News, "brakes have")
}
