package engine

import (
	"bytes"
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/circuits"
	"airpath/ui/model"
)

func benchBoard(t *testing.T) *Engine {
	c, err := circuits.Load("bench_board")
	require.NoError(t, err)
	e, err := New(c)
	require.NoError(t, err)
	return e.(*Engine)
}

func slowBuildUp(t *testing.T, e *Engine) *circuit.Case {
	for _, p := range e.Procedures() {
		if p.ID == "build-up-85-100" {
			return &circuit.Case{Circuit: "bench_board", Title: "slow", Complaint: "builds air slowly", Findings: []circuit.Finding{
				{ID: "f1", Procedure: p.ID, Reading: "time", Result: circuit.Result{Kind: circuit.Number, Text: "90 s"}}}}
		}
	}
	t.Fatal("the bench board has no build-up")
	return nil
}

func TestPapersAreWhole(t *testing.T) {
	e := benchBoard(t)
	cs := slowBuildUp(t, e)
	quiet := func(int, int) {}
	for name, write := range map[string]func() ([]byte, error){
		"record": func() ([]byte, error) { return e.Record(context.Background(), cs, "psi", "Airpath", quiet) },
		"chart":  func() ([]byte, error) { return e.Chart(context.Background(), cs, "psi", quiet) },
	} {
		pdf, err := write()
		require.NoError(t, err, name)
		assert.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")), name)
		assert.Contains(t, string(pdf[len(pdf)-16:]), "%%EOF", name)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := e.Chart(ctx, cs, "psi", quiet)
	assert.Error(t, err, "a cancelled chart is none")
}

func TestOutcomesAddUp(t *testing.T) {
	e := benchBoard(t)
	cs := slowBuildUp(t, e)
	a, err := e.Ask(context.Background(), cs, "psi", func(int, int) {})
	require.NoError(t, err)
	require.NotEmpty(t, a.Next)
	out, err := e.Outcomes(context.Background(), cs, "psi", a.Next[0].Procedure)
	require.NoError(t, err)
	require.NotEmpty(t, out)
	sum := 0.0
	for _, o := range out {
		sum += o.Chance
		assert.NotEmpty(t, o.Words)
		assert.NotEmpty(t, o.Findings)
	}
	assert.InDelta(t, 1, sum, 0.02)
}

// After a repair the vehicle is another one: what was found before it is held against its limits, and accuses nobody any more.
func TestAfterARepairOnlyWhatWasFoundSinceCounts(t *testing.T) {
	e := benchBoard(t)
	cs := slowBuildUp(t, e)
	before, err := e.Ask(context.Background(), cs, "psi", func(int, int) {})
	require.NoError(t, err)
	cs.Repairs = []circuit.Repair{{ID: "r1", Part: before.Suspects[0].Target, Done: "renewed"}}
	still, err := e.Ask(context.Background(), cs, "psi", func(int, int) {})
	require.NoError(t, err)
	assert.Equal(t, before.Suspects[0].Key, still.Suspects[0].Key, "as long as nothing was found since, the suspects stay")

	healthy, err := e.tracer.Predict(context.Background(), nil, procedureOf(e, "build-up-85-100"))
	require.NoError(t, err)
	cs.Findings = append(cs.Findings, circuit.Finding{ID: "f2", After: "r1", Procedure: "build-up-85-100", Reading: "time",
		Result: circuit.Result{Kind: circuit.Number, Text: model.Units("psi").Format(healthy.Values[0], circuit.Time)}})
	after, err := e.Ask(context.Background(), cs, "psi", func(int, int) {})
	require.NoError(t, err)
	assert.Greater(t, after.NoFault, before.NoFault)
	check, ok := after.Limits["f1"]
	require.True(t, ok, "the old reading is still held against its limit")
	assert.False(t, check.Met)
	assert.True(t, after.Limits["f2"].Met)
}

func procedureOf(e *Engine, id string) *procedure.Procedure {
	for _, p := range e.Procedures() {
		if p.ID == id {
			return p
		}
	}
	return nil
}
