package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

func TestARepairBeginsANewStage(t *testing.T) {
	s := newSession(t, nil)
	slow := circuit.Finding{Procedure: "build-up-85-100", Reading: "time", Result: circuit.Result{Kind: circuit.Number, Text: "70 s"}}
	require.NoError(t, s.Enter(slow))
	s.Repair("dryer", "", "cartridge renewed")
	require.Len(t, s.Case().Repairs, 1)
	r := s.Case().Repairs[0]
	assert.Equal(t, "r1", r.ID)
	assert.NotEmpty(t, r.Date)

	again := s.Rechecks()
	require.Len(t, again, 1)
	assert.Equal(t, "build-up-85-100", again[0].Procedure.ID)
	assert.Equal(t, "70 s", again[0].Before)
	assert.False(t, again[0].Done)

	p := again[0].Procedure
	i, ok := p.Reading("time", "")
	require.True(t, ok)
	_, found := s.Finding(&p.Readings[i])
	assert.False(t, found, "what was found before the repair is about another vehicle")

	fine := slow
	fine.Result.Text = "27 s"
	require.NoError(t, s.Enter(fine))
	require.Len(t, s.Case().Findings, 2, "the old reading stays")
	assert.Equal(t, "r1", s.Case().Findings[1].After)
	again = s.Rechecks()
	assert.True(t, again[0].Done)
	assert.Equal(t, "27 s", again[0].Now)
	assert.Equal(t, []int{0, 1}, []int{s.Cards()[0].Stage, s.Cards()[1].Stage})

	s.TakeBackRepair("r1")
	assert.Empty(t, s.Case().Repairs)
	assert.Len(t, s.Case().Findings, 1, "and what was found since goes with it")
	s.Undo()
	assert.Len(t, s.Case().Findings, 2)

	// the file takes it, and gives it back
	back, err := circuit.ReadCase("again.toml", s.Text())
	require.NoError(t, err)
	assert.Equal(t, "cartridge renewed", back.Repairs[0].Done)
}
