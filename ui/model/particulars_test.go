package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

func TestHowColdItWasIsReadAsPeopleWriteIt(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "-8": "-8 C", "−8 °C": "-8 C", "-8,5": "-8.5 C", " 18f ": "18 F", "14 °F": "14 F", "-8  C": "-8 C", "265 K": "265 K",
	} {
		got, err := Units("psi").ReadAmbient(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
		again, err := Units("bar").ReadAmbient(SayAmbient(got))
		require.NoError(t, err, text)
		assert.Equal(t, got, again, "what is shown can be entered again")
	}
	for _, text := range []string{"cold", "90", "-8 psi", "200 F", "5 C 6", "°", "-"} {
		_, err := Units("psi").ReadAmbient(text)
		assert.Error(t, err, text)
	}
}

func TestWhatIsEnteredOfACaseCanBeReadAgain(t *testing.T) {
	s := newSession(t, nil)
	revision := s.Revision()
	require.Error(t, s.SetParticulars(Particulars{Vehicle: "G7", Ambient: "freezing"}))
	require.Error(t, s.SetParticulars(Particulars{Vehicle: "G7", Date: "yesterday"}))
	assert.Equal(t, revision, s.Revision(), "nothing is half entered")
	require.NoError(t, s.SetParticulars(Particulars{Ambient: "-8"}))
	assert.Equal(t, "How cold it was: −8 °C", s.LastDeed())
	require.NoError(t, s.SetParticulars(Particulars{Vehicle: "G7", Ambient: "-8 °C", Date: "2026-01-14"}))
	k, err := circuit.ReadCase("case.toml", circuit.WriteCase(s.Case()))
	require.NoError(t, err)
	at, ok := k.AmbientTemperature()
	assert.True(t, ok)
	assert.InDelta(t, 265.15, at, 1e-9)
	s.Undo()
	s.Undo()
	assert.Empty(t, s.Case().Ambient)
	s.Redo()
	assert.Equal(t, "-8 C", s.Case().Ambient)
}
