package airflow

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

// The contract that every law keeps. A kind that is added is held to it without a change here.

func TestEveryKindHasALaw(t *testing.T) {
	n, err := gritterNetwork()
	require.NoError(t, err)
	for _, k := range circuit.Kinds() {
		_, ok := laws[k.Name]
		assert.True(t, ok, "kind %s has no law", k.Name)
		if !slices.ContainsFunc(n.Circuit().Components, func(c *circuit.Component) bool { return c.Kind == k }) {
			_, part := inTheFleet(t, k.Name)
			assert.NotNil(t, part, "kind %s is in no vehicle, so its law goes untried", k.Name)
		}
	}
	assert.Len(t, laws, len(circuit.Kinds()), "laws for kinds that there are not")
	for _, l := range []circuit.LineType{circuit.Tube, circuit.Hose, circuit.Rod, circuit.Wire} {
		_, ok := lineLaws[l]
		assert.True(t, ok, "line type %s has no law", l)
	}
}

// lawOwners lists kinds and line types with their modes, sorted.
func lawOwners() map[string][]Mode {
	all := map[string][]Mode{}
	for kind, law := range laws {
		all[kind] = law.Modes
	}
	for l, law := range lineLaws {
		all[string(l)] = law.Modes
	}
	return all
}

func TestModesAreWellFormed(t *testing.T) {
	for owner, modes := range lawOwners() {
		names := map[string]bool{}
		for _, m := range modes {
			at := owner + "/" + m.Name
			assert.False(t, names[m.Name], "%s is there twice", at)
			names[m.Name] = true
			assert.NotContains(t, m.Name, "=", at)
			assert.NotContains(t, m.Name, "/", at)
			assert.Equal(t, strings.TrimSpace(m.Name), m.Name, at)
			s := m.Severity
			assert.NotEmpty(t, s.Means, at)
			assert.NotEmpty(t, circuit.UnitsOf(s.Dimension), "%s: dimension %q has no unit", at, s.Dimension)
			assert.Greater(t, s.Mild, 0.0, at)
			assert.LessOrEqual(t, s.Mild, s.Typical, at)
			assert.LessOrEqual(t, s.Typical, s.Severe, at)
			require.NotNil(t, m.Apply, at)
		}
	}
}

// silent are the modes that change no pressure, no flow and nothing that is seen; they are found by other evidence.
var silent = []string{"compressor/passing oil", "air-dryer/cartridge saturated", "air-dryer/heater dead",
	"drum-brake/lining glazed", "drum-brake/lining oiled", "drum-brake/lining thin", "drum-brake/drum oversize"}

// shows is the least difference from the healthy session that counts, in psi, mm or tenths of a litre a minute: several times
// what the coarse solver is off by.
const shows = 0.3

// A session is a short day's work with the gritter; what could be seen, heard and measured on the way is taken down.
type session struct {
	run  *Run
	seen []float64
	what []string // names of seen, filled in for the first session only
	keep bool
}

func (s *session) note(at string) {
	r := s.run
	add := func(what string, v float64) {
		s.seen = append(s.seen, v)
		if s.keep {
			s.what = append(s.what, at+": "+what)
		}
	}
	truth := func(b bool) float64 {
		if b {
			return 1
		}
		return 0
	}
	for _, room := range r.Network().Rooms() {
		add("pressure of "+room+", psi", r.Pressure(room)/psi)
	}
	for _, place := range r.Network().Vents() {
		add("air at "+place+", L/min", 0.1*FreeAir(r.VentFlow(place))*60e3)
	}
	for _, g := range r.Network().Gauges() {
		add("needle of "+g+", psi", r.Gauge(g)/psi)
	}
	for _, k := range r.Network().Sinks() {
		add(k+" lit", truth(r.Lit(k)))
	}
	for _, c := range r.Network().Circuit().Components {
		if strings.HasSuffix(c.Kind.Name, "chamber") {
			add("stroke of "+c.ID+", mm", 1e3*r.Stroke(c.ID))
		}
	}
	add("knob", r.Get("park_control.knob"))
}

func (s *session) work() error {
	r := s.run
	set := func(control string, v, over float64) func() error {
		return func() error { return r.Set(control, v, over) }
	}
	wait := func(seconds float64) func() error { return func() error { return r.Advance(seconds) } }
	note := func(at string) func() error { return func() error { s.note(at); return nil } }
	until := func(limit float64, value bool) func() error {
		return func() error { _, err := r.Until(limit, Event{Latch: "governor.cutout", Value: value}); return err }
	}
	falls := func(room string, to float64) func() error {
		return func() error { _, err := r.Until(60, Event{Room: room, Level: absolute(to)}); return err }
	}
	for _, step := range []func() error{
		set(Key, 1, 0), note("empty"),
		set(Engine, rated, 1), wait(60), note("building"),
		until(120, true), wait(0.1), note("cut-out"), wait(40), note("unloaded"),
		set(Engine, 0, 1), set("knob", 1, 0.1), wait(20), note("park released"),
		set("pedal", 1, 0.1), wait(0.3), note("applying"), wait(20), note("applied"),
		set("pedal", 0, 0.1), wait(0.4), note("releasing"), wait(10), note("released"),
		set("pedal", 0.3, 0.1), wait(5), note("lightly applied"), set("pedal", 0, 0.1), wait(3),
		set("knob", 0, 0.1), wait(1), note("setting"), wait(15), note("parked"),
		set("pedal", 0.6, 0.1), wait(5), note("parked and applied"), set("pedal", 0, 0.1), wait(5), note("parked again"),
		set("knob", 1, 0.1), wait(10), set("pedal", 0.125, 0.5), wait(3), note("hardly applied"), set("pedal", 0, 0.1),
		set("drain_supply.cock", 0.5, 0), until(60, false), wait(0.5), note("cut-in"), wait(30), note("supply drained"),
		set("pedal", 0.6, 0.1), wait(2),
		set("drain_secondary.cock", 0.3, 0), falls("tank.secondary", 75), note("secondary going"), falls("tank.secondary", 57), note("secondary low"),
		wait(30), note("secondary lost"),
		set("drain_supply.cock", 0, 0), set("drain_secondary.cock", 0, 0), set("pedal", 0, 0.1), set(Engine, rated, 1), wait(60), note("building again"),
		set(Engine, 0, 1), set("knob", 1, 0.1), wait(10), set("drain_supply.cock", 1, 0),
		set("drain_primary.cock", 0.3, 0), falls("tank.primary", 75), note("primary going"), falls("tank.primary", 57), note("primary low"),
		wait(30), note("primary lost"),
		set("drain_secondary.cock", 0.3, 0), falls("tank.secondary", 38), wait(1), note("nearly empty"), wait(60), note("empty again"),
	} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// differs says where a session parts from the healthy one, by how much, and in what.
func differs(healthy, other *session) (by float64, what string) {
	for i, v := range other.seen {
		if d := math.Abs(v - healthy.seen[i]); d > by {
			by, what = d, fmt.Sprintf("%s: %.3f, healthy %.3f", healthy.what[i], v, healthy.seen[i])
		}
	}
	return by, what
}

// Each mode of each kind at its three severities goes through the session without failing and without losing or making air;
// and every fault of the gritter, except for the silent modes, shows somewhere, at its typical severity or, where that is harmless
// in this place (a half shut stub to a gauge), at its severe one.
func TestEveryModeRunsAndShows(t *testing.T) {
	n, err := gritterNetwork()
	require.NoError(t, err)
	run, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	run.Tune(Coarse)
	healthy := &session{run: run, keep: true}
	start := run.Mass()
	require.NoError(t, healthy.work())
	require.InDelta(t, start, run.Mass()+run.Vented(), 1e-9)

	try := func(f Fault) (by float64, what string) {
		require.NoError(t, run.Restart([]Fault{f}, Scatter{}), f.String())
		run.Tune(Coarse)
		start := run.Mass()
		s := &session{run: run}
		require.NoError(t, s.work(), f.String())
		assert.InDelta(t, start, run.Mass()+run.Vented(), 1e-9, "%s: air came from nowhere", f)
		for i, v := range s.seen {
			require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%s: %s is %g", f, healthy.what[i], v)
		}
		return differs(healthy, s)
	}
	tried := map[string]bool{}
	for _, f := range Catalogue(n.Circuit()) {
		mode, err := ModeOf(n.Circuit(), f)
		require.NoError(t, err)
		owner := ownerOf(n.Circuit(), f.Target) + "/" + mode.Name
		first := !tried[owner]
		tried[owner] = true
		if !first && testing.Short() {
			continue
		}
		if first && mode.Severity.Mild < mode.Severity.Typical {
			try(Fault{f.Target, f.Mode, mode.Severity.Mild})
		}
		by, what := try(f)
		if severe := mode.Severity.Severe; severe > mode.Severity.Typical && (first || by < shows) {
			if more, which := try(Fault{f.Target, f.Mode, severe}); more > by {
				by, what = more, which
			}
		}
		if slices.Contains(silent, owner) {
			assert.Zero(t, by, "%s is said to change nothing; %s", f, what)
		} else {
			assert.Greater(t, by, shows, "%s shows nowhere (most: %s)", f, what)
		}
	}
	for owner, modes := range lawOwners() {
		if _, err := circuit.KindNamed(owner); err == nil && !slices.ContainsFunc(n.Circuit().Components, func(c *circuit.Component) bool { return c.Kind.Name == owner }) {
			continue // another vehicle's: see TestEveryModeOfTheFleetRunsAndShows
		}
		for _, m := range modes {
			assert.True(t, tried[owner+"/"+m.Name], "%s/%s was not tried", owner, m.Name)
		}
	}
}

func ownerOf(c *circuit.Circuit, id string) string {
	for _, part := range c.Components {
		if part.ID == id {
			return part.Kind.Name
		}
	}
	for _, l := range c.Lines {
		if l.ID == id {
			return string(l.Type)
		}
	}
	return ""
}
