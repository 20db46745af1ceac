package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

func TestWhatIsMarkedFirstIsWhatTheVehicleCameInFor(t *testing.T) {
	s := newSession(t, nil)
	require.NoError(t, s.Enter(heard("dryer.3", circuit.No)))
	assert.Empty(t, s.Reported(), "nobody brings a vehicle because it is quiet")
	s.Remove("f1")
	require.NoError(t, s.Enter(buildUp("20 s")))
	assert.Empty(t, s.Reported(), "within the limit")
	require.NoError(t, s.Enter(buildUp("70 s")))
	assert.Equal(t, "f1", s.Reported(), "put right, it is out of order")
	require.NoError(t, s.Enter(heard("dryer.3", circuit.Yes)))
	assert.Equal(t, "f1", s.Reported(), "what is marked later was found in the workshop")

	s.Report("f2")
	assert.Equal(t, "f2", s.Reported())
	s.Undo()
	assert.Equal(t, "f1", s.Reported())
	s.Report("")
	require.NoError(t, s.Enter(buildUp("72 s")))
	assert.Empty(t, s.Reported(), "the person said that it was none")
	s.Report("f9")
	assert.Empty(t, s.Reported(), "there is no such finding")

	s.Report("f1")
	require.NoError(t, s.Enter(buildUp("25 s")))
	assert.Empty(t, s.Reported(), "it was read wrongly")
	s.Undo()
	s.Remove("f1")
	assert.Empty(t, s.Reported(), "it was cleared")
	s.Undo()
	assert.Equal(t, "f1", s.Reported())
}

func TestWhatIsFoundAfterARepairIsNotWhatTheVehicleCameInFor(t *testing.T) {
	s := newSession(t, nil)
	s.Repair("compressor", "worn", "renewed")
	require.NoError(t, s.Enter(buildUp("70 s")))
	assert.Empty(t, s.Reported())
}

func TestHowTheLastTestLeftTheVehicle(t *testing.T) {
	s := newSession(t, nil)
	last := func() string { return s.Case().Last }
	require.NoError(t, s.Enter(buildUp("70 s")))
	assert.Empty(t, last(), "what the driver says is no test")

	require.NoError(t, s.PutRight([]circuit.Finding{buildUp("71 s")}, nil))
	assert.Empty(t, last(), "a figure put right is no test")
	require.NoError(t, s.Record([]circuit.Finding{buildUp("72 s")}, nil))
	assert.Equal(t, "build-up-85-100", last())
	require.NoError(t, s.PutRight([]circuit.Finding{buildUp("71 s")}, nil))
	assert.Equal(t, "build-up-85-100", last())
	require.NoError(t, s.Record([]circuit.Finding{heard("dryer.3", circuit.No)}, nil))
	assert.Equal(t, "listen-building", last())
	require.NoError(t, s.Enter(heard("compressor.0", circuit.No)))
	assert.Equal(t, "listen-building", last(), "one more place on the same round")
	s.Undo()
	s.Undo()
	assert.Equal(t, "build-up-85-100", last(), "taken back")
	s.Redo()
	assert.Equal(t, "listen-building", last())

	require.NoError(t, s.Enter(circuit.Finding{Procedure: "governor-cut-out", Reading: "pressure", Result: circuit.Result{Kind: circuit.Number, Text: "120 psi"}}))
	assert.Empty(t, last(), "marked on the sheet: who knows how it was left")
	s.Undo()
	p := s.procedure("governor-cut-out")
	s.Skip(p)
	assert.Equal(t, "listen-building", last(), "nothing was done")
	s.Refuse(p)
	assert.Empty(t, last(), "it may have been begun")
	s.Undo()
	s.Repair("compressor", "worn", "renewed")
	assert.Empty(t, last(), "it was opened")
}

func TestSetUpIsSharedWithTheLastTest(t *testing.T) {
	s := newSession(t, nil)
	p := s.procedure("governor-cut-out")
	assert.Zero(t, s.SharedSetUp(p), "nothing is known of how it stands")
	require.NoError(t, s.Record([]circuit.Finding{buildUp("70 s")}, nil))
	assert.Equal(t, p.SetUp-p.SetUpAfter(s.procedure("build-up-85-100").Leaves()), s.SharedSetUp(p))
	assert.Positive(t, s.SharedSetUp(p))
}
