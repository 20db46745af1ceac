package airflow

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is written can be read back as it was, and two exports of the same run are the same text.
func TestExportIsTheSameTextTwice(t *testing.T) {
	write := func() []byte {
		g := gritter(t, "tank/primary leaking=0.5 mm")
		e := g.Export()
		g.set(Engine, rated, 2)
		g.wait(90)
		var text bytes.Buffer
		require.NoError(t, e.Write(&text))
		return text.Bytes()
	}
	first := write()
	assert.Equal(t, string(first), string(write()))
	var back Export
	require.NoError(t, json.Unmarshal(first, &back))
	var again bytes.Buffer
	require.NoError(t, back.Write(&again))
	assert.Equal(t, string(first), again.String())
	assert.Equal(t, []string{"tank/primary leaking=0.0005"}, back.Faults)
	assert.Equal(t, 90.0, back.End)
	assert.Equal(t, []ExportedInput{{0, "engine", rated, 2}}, back.Inputs)
	assert.Len(t, back.Rooms, len(healthyNetwork(t).Rooms()))
	assert.NotEmpty(t, back.Events, "the low pressure switches close on the way up")
}

func healthyNetwork(t *testing.T) *Network {
	n, err := gritterNetwork()
	require.NoError(t, err)
	return n
}

// A line off opens its two ends and shuts its bore; fastened again, each conducts what it did before.
func TestExportTakesChangesDown(t *testing.T) {
	g := gritter(t)
	e := g.Export()
	g.wait(1)
	require.NoError(t, g.LineOff("supply_line", true))
	g.wait(1)
	require.NoError(t, g.LineOff("supply_line", false))
	bore := -1
	for i, m := range e.Elements {
		if m.Passage == "supply_line/bore" {
			bore = i
		}
	}
	require.GreaterOrEqual(t, bore, 0)
	require.Len(t, e.Changes, 6)
	now := map[int]float64{}
	for _, c := range e.Changes {
		now[c.Element] = c.Conductance
		if c.Element == bore && c.At == 1 {
			assert.Zero(t, c.Conductance)
		}
	}
	for i, c := range now {
		assert.Equal(t, e.Elements[i].Conductance, c, "element %d is again as it was", i)
	}
}

// An export ends where the run turns into another one.
func TestExportEndsWithItsRun(t *testing.T) {
	for name, turn := range map[string]func(g *rig){
		"restarted": func(g *rig) { require.NoError(t, g.Restart(nil, Scatter{})) },
		"restored":  func(g *rig) { g.Restore(g.Snapshot()) },
		"filled":    func(g *rig) { require.NoError(t, g.Fill("tank.primary", 3e5)) },
	} {
		t.Run(name, func(t *testing.T) {
			g := gritter(t)
			e := g.Export()
			g.wait(3)
			turn(g)
			g.set("pedal", 1, 0)
			g.wait(4)
			assert.Equal(t, 3.0, e.End)
			assert.Empty(t, e.Inputs)
		})
	}
}
