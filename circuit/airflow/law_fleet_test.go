package airflow

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

// inTheFleet tells whether some vehicle of the fleet has a part of a kind, and which part comes first.
func inTheFleet(t testing.TB, kind string) (vehicle string, part *circuit.Component) {
	for _, name := range fleet {
		for _, c := range networkOf(t, name).Circuit().Components {
			if c.Kind.Name == kind {
				return name, c
			}
		}
	}
	return "", nil
}

// A round is a short day's work with any vehicle of the fleet: everything that it has to be worked is worked.
func (s *session) round(g *rig) {
	r := g.Run
	note := func(at string) { s.noteAll(g, at) }
	work := func(control string, v, over float64) bool {
		if !g.has(control) {
			return false
		}
		g.set(control, v, over)
		return true
	}
	cutout := cutOutOf(g.n)
	full := Event{Latch: cutout, Value: true}
	rated := g.n.Circuit().Engine.Rated.SI
	work("shut", 1, 0)
	g.engine(rated)
	g.wait(40)
	note("building")
	g.until(200, full)
	g.wait(0.1)
	note("cut-out")
	if work("knob", 1, 0.05) {
		g.wait(2)
		note("knobs going in")
		g.wait(40)
		g.until(200, full)
	}
	g.engine(0)
	g.wait(60)
	note("charged")
	g.wait(300)
	note("charged for a while")
	for _, pedal := range []float64{1, 0.3} {
		work("pedal", pedal, 0.1)
		g.wait(0.25)
		note("applying")
		g.wait(20)
		note("applied")
		work("pedal", 0, 0.1)
		g.wait(0.4)
		note("releasing")
		g.wait(10)
		note("released")
	}
	for _, lever := range []float64{1, 0.4} {
		if work("lever", lever, 0.1) {
			g.wait(0.3)
			note("lever going")
			g.wait(10)
			note("lever set")
			work("lever", 0, 0.1)
			g.wait(0.3)
			note("lever coming back")
			g.wait(10)
			note("lever back")
		}
	}
	if work("hold", 1, 0) {
		work("pedal", 0.6, 0.1)
		g.wait(3)
		note("held")
		work("hold", 0, 0)
		g.wait(3)
		work("hold", 1, 0)
		work("dump", 1, 0)
		g.wait(0.2)
		note("dumping")
		work("dump", 0, 0)
		work("hold", 0, 0)
		work("pedal", 0, 0.1)
		g.wait(5)
	}
	if work("work", 1, 0) {
		g.wait(3)
		note("auxiliaries working")
		work("work", 0, 0)
		g.wait(30)
		note("auxiliaries at rest")
	}
	// Every gladhand opened, or the trailer taken off and put on again.
	if work("shut", 0, 0) || work("coupled", 0, 0) {
		g.wait(0.5)
		note("coming apart")
		g.wait(30)
		note("apart")
		work("pedal", 0.5, 0.1)
		g.wait(5)
		note("apart and applied")
		work("pedal", 0, 0.1)
		work("shut", 1, 0)
		work("coupled", 1, 0)
		g.engine(rated)
		g.wait(60)
		work("knob", 1, 0.05)
		g.wait(60)
		g.until(200, full)
		g.engine(0)
		g.wait(30)
		note("together again")
		// The supply line let down slowly, a light pedal held.
		work("pedal", 0.2, 0.1)
		for _, psig := range []float64{80, 65, 52, 42, 25} {
			g.fillTractor(psig)
			g.wait(20)
			note("supply let down")
		}
		work("pedal", 0, 0.1)
		g.fillTractor(115)
		work("knob", 1, 0.05)
		g.wait(60)
		if g.has("trailer_drain.cock") {
			g.set("trailer_drain.cock", 1, 0)
			for range 30 {
				g.wait(2)
			}
			note("trailer reservoir lost")
			g.set("trailer_drain.cock", 0, 0)
		}
	}
	if work("knob", 0, 0.05) {
		g.wait(1)
		note("parking")
		g.wait(15)
		note("parked")
		work("pedal", 0.6, 0.1)
		g.wait(5)
		note("parked and applied")
		work("pedal", 0, 0.1)
		g.wait(3)
		work("knob", 1, 0.05)
		g.wait(15)
	}
	for _, c := range r.Network().Controls() {
		if strings.HasSuffix(c, "drain_primary.cock") {
			g.set(c, 1, 0)
			g.wait(60)
			work("pedal", 0.5, 0.1)
			g.wait(0.4)
			note("primary lost, applying")
			g.wait(10)
			note("primary lost, applied")
			work("pedal", 0, 0.1)
			g.wait(10)
		}
	}
	g.set("cock", 1, 0)
	g.wait(60)
	note("empty again")
}

// fillTractor brings the reservoirs that are not a trailer's to a pressure.
func (g *rig) fillTractor(psig float64) {
	for _, r := range g.n.Circuit().Reservoirs() {
		if !strings.HasPrefix(r.Room, "trailer_") {
			require.NoError(g.t, g.Fill(r.Room, absolute(psig)))
		}
	}
}

// noteAll is note for any vehicle.
func (s *session) noteAll(g *rig, at string) {
	add := func(what string, v float64) {
		s.seen = append(s.seen, v)
		if s.keep {
			s.what = append(s.what, at+": "+what)
		}
	}
	for _, room := range g.n.Rooms() {
		add("pressure of "+room+", psi", g.Pressure(room)/psi)
	}
	for _, place := range g.n.Vents() {
		add("air at "+place+", L/min", 0.1*FreeAir(g.VentFlow(place))*60e3)
	}
}

// Each mode of each kind that the gritter lacks goes through the round at its three severities without failing, and shows at its
// typical severity, or at its severe one.
func TestEveryModeOfTheFleetRunsAndShows(t *testing.T) {
	healthy := map[string]*session{}
	gritter, err := gritterNetwork()
	require.NoError(t, err)
	inGritter := map[string]bool{}
	for _, c := range gritter.Circuit().Components {
		inGritter[c.Kind.Name] = true
	}
	for _, k := range circuit.Kinds() {
		if inGritter[k.Name] {
			continue
		}
		name, part := inTheFleet(t, k.Name)
		require.NotNil(t, part, "kind %s is in no vehicle", k.Name)
		run := func(keep bool, faults ...Fault) *session {
			g := vehicle(t, name)
			require.NoError(t, g.Restart(faults, Scatter{}))
			g.set(Key, 1, 0)
			g.Tune(Coarse)
			s := &session{run: g.Run, keep: keep}
			s.round(g)
			return s
		}
		if healthy[name] == nil {
			healthy[name] = run(true)
		}
		for _, m := range laws[k.Name].Modes {
			try := func(severity float64) (float64, string) {
				s := run(false, Fault{part.ID, m.Name, severity})
				for i, v := range s.seen {
					require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%s/%s: %s", part.ID, m.Name, healthy[name].what[i])
				}
				return differs(healthy[name], s)
			}
			if m.Severity.Mild < m.Severity.Typical && !testing.Short() {
				try(m.Severity.Mild)
			}
			by, what := try(m.Severity.Typical)
			if by < shows && m.Severity.Severe > m.Severity.Typical {
				by, what = try(m.Severity.Severe)
			}
			assert.Greater(t, by, shows, "%s, %s/%s shows nowhere (most: %s)", name, part.ID, m.Name, what)
		}
	}
}
