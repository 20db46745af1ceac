package explain

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuits"
)

// Every kind has words, each group of them always says something or may be silent only after the first, and no sentence is
// about something that its kind lacks.
func TestEveryKindHasWords(t *testing.T) {
	for _, k := range circuit.Kinds() {
		w := WordsFor(k.Name)
		if !assert.NotEmpty(t, w, "%s has no words", k.Name) {
			continue
		}
		last := w[0][len(w[0])-1]
		assert.Empty(t, last.When.about, "%s: the first group must end with what always holds", k.Name)
		for _, group := range w {
			for _, s := range group {
				assert.True(t, strings.HasSuffix(s.Says, "."), "%s: %q is a sentence", k.Name, s.Says)
				for _, about := range s.When.about {
					assert.True(t, has(k, about), "%s has no %s", k.Name, about)
				}
				for rest := s.Says; ; {
					_, after, ok := strings.Cut(rest, "{")
					if !ok {
						break
					}
					name, tail, ok := strings.Cut(after, "}")
					require.True(t, ok, s.Says)
					rest = tail
					switch what, of, _ := strings.Cut(name, ":"); what {
					case "stroke", "needle":
					case "flow":
						assert.True(t, has(k, "passage:"+of), "%s: %q", k.Name, s.Says)
					case "set":
						assert.True(t, has(k, "param:"+of), "%s: %q", k.Name, s.Says)
					default:
						assert.True(t, has(k, "room:"+name), "%s: %q", k.Name, s.Says)
					}
				}
			}
		}
	}
	for kind := range words {
		_, err := circuit.KindNamed(kind)
		assert.NoError(t, err)
	}
}

func has(k *circuit.Kind, about string) bool {
	what, name, _ := strings.Cut(about, ":")
	switch what {
	case "passage":
		_, ok := k.Passage(name)
		return ok
	case "room":
		_, ok := k.Room(name)
		return ok
	case "param":
		_, ok := k.Param(name)
		return ok
	case "control":
		for _, c := range k.Controls {
			if c.Name == name {
				return true
			}
		}
	}
	return false
}

func load(t testing.TB, name string) (*airflow.Network, *airflow.Run) {
	t.Helper()
	c, err := circuits.Load(name)
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	r, err := n.Start(nil, airflow.Scatter{})
	require.NoError(t, err)
	return n, r
}

func charged(t testing.TB, name string) (*airflow.Network, *airflow.Run) {
	n, r := load(t, name)
	require.NoError(t, r.Set(airflow.Engine, n.Circuit().Engine.Rated.SI, 0))
	require.NoError(t, r.Advance(300))
	require.NoError(t, r.Set(airflow.Engine, n.Circuit().Engine.Idle.SI, 0))
	require.NoError(t, r.Advance(30))
	return n, r
}

func at(n *airflow.Network, r *airflow.Run) *Moment {
	var g airflow.Glance
	r.Glance(&g)
	return New(n).At(g.Clone(), "psi")
}

// What is said of the truck in states that everybody in the trade knows.
func TestTheTruckExplained(t *testing.T) {
	n, r := charged(t, "gritter")
	says := func(id, want string) {
		t.Helper()
		a, ok := at(n, r).Of(id)
		require.True(t, ok)
		assert.Contains(t, strings.Join(a.Now, " "), want, id)
	}
	says("foot_valve", "The pedal is up")
	says("park_control", "The knob is out")
	says("rear_left_chamber", "The spring is set")
	says("rear_relay", "It rests")
	assert.Contains(t, at(n, r).News(), "The springs are set.")

	require.NoError(t, r.Set("park_control.knob", 1, 0))
	require.NoError(t, r.Advance(10))
	says("rear_left_chamber", "The spring is held off")
	require.NoError(t, r.Set("foot_valve.pedal", 0.5, 0.1))
	require.NoError(t, r.Advance(0.3))
	says("rear_relay", "It delivers")
	require.NoError(t, r.Advance(5))
	says("rear_relay", "It holds")
	says("foot_valve", "The pedal is held")
	says("front_left_chamber", "The brake is on")
	require.NoError(t, r.Set("foot_valve.pedal", 0, 0.1))
	require.NoError(t, r.Advance(0.3))
	says("rear_relay", "It releases")
	require.NoError(t, r.Set(airflow.Engine, 0, 0))
	require.NoError(t, r.Advance(5))
	says("compressor", "stands still")
}

// A trailer without an engine has no word of one; what feeds it is a workshop's hose.
func TestAWorkshopsHoseExplained(t *testing.T) {
	n, r := load(t, "semi_trailer")
	assert.NotContains(t, at(n, r).News(), "ngine")
	assert.NotContains(t, at(n, r).News(), "hose")
	require.NoError(t, r.Set("gladhand_supply.shut", 1, 0))
	require.NoError(t, r.Set("gladhand_supply.shop_air", 1, 0))
	require.NoError(t, r.Advance(10))
	m := at(n, r)
	gladhand := n.Circuit().Component("gladhand_supply")
	assert.Contains(t, m.News(), "A workshop's hose on the "+gladhand.Name+" gives ")
	a, ok := m.Of("gladhand_supply")
	require.True(t, ok)
	assert.Contains(t, strings.Join(a.Now, " "), "hose is on it and gives")
	require.NoError(t, r.Advance(3600))
	m = at(n, r)
	assert.Contains(t, m.News(), "A workshop's hose is on the "+gladhand.Name)
	require.NoError(t, r.Set("gladhand_supply.shop_air", 0, 0))
	m = at(n, r)
	assert.NotContains(t, m.News(), "hose")
	a, _ = m.Of("gladhand_supply")
	assert.Contains(t, strings.Join(a.Now, " "), "shut hose")
}

// A lit path leads from a place with more air, along open ways that join one another, to the line asked about.
func TestLivePathsHold(t *testing.T) {
	for _, name := range []string{"gritter", "coach", "tractor_trailer"} {
		n, r := charged(t, name)
		book := New(n)
		rapid.Check(t, func(t *rapid.T) {
			require.NoError(t, r.Set(rapid.SampledFrom(n.Controls()[2:]).Draw(t, "control"), rapid.SampledFrom([]float64{0, 1}).Draw(t, "to"), 0.1))
			require.NoError(t, r.Advance(rapid.Float64Range(0.05, 4).Draw(t, "s")))
			var g airflow.Glance
			r.Glance(&g)
			m := book.At(&g, "psi")
			for _, l := range n.Circuit().Lines {
				why, ok := m.Why(l.ID)
				if l.Type.Medium() != circuit.Air {
					assert.False(t, ok)
					continue
				}
				require.True(t, ok, l.ID)
				assert.NotEmpty(t, why.Words)
				assert.Contains(t, why.Path, l.ID)
				assert.Len(t, why.Steps, len(why.Path))
				for _, id := range why.Path {
					assert.True(t, n.Circuit().Component(id) != nil || n.Circuit().Line(id) != nil, "%s is on the sheet", id)
				}
				assert.Equal(t, m.linePressure(l)-circuit.AtmospherePressure >= some, why.Live)
			}
			for _, c := range n.Circuit().Components {
				a, ok := m.Of(c.ID)
				require.True(t, ok)
				assert.NotEmpty(t, a.Now, "%s says something", c.ID)
				for _, s := range a.Now {
					assert.NotContains(t, s, "{")
				}
			}
		})
	}
}

func TestTheLineToTheRelayIsFedByThePrimary(t *testing.T) {
	n, r := charged(t, "gritter")
	m := at(n, r)
	c := n.Circuit()
	l := c.LineAt(circuit.PortRef{Component: "rear_relay", Port: "1"})
	why, ok := m.Why(l.ID)
	require.True(t, ok)
	assert.True(t, why.Live)
	assert.Contains(t, why.Words, "primary compartment")
	l = c.LineAt(circuit.PortRef{Component: "rear_left_chamber", Port: "12"})
	why, _ = m.Why(l.ID)
	assert.False(t, why.Live)
	assert.Contains(t, why.Words, "the park control (inlet, with")
}
