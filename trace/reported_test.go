package trace

import (
	"context"
	"testing"

	"airpath/circuit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Of all that a vehicle shows and all that is taken for wrong on it by mistake just one thing is reported: the chances add up to one, or to less where
// nothing is amiss and it may come in for nothing.
func TestOneOfAllThatShowsIsReported(t *testing.T) {
	for _, name := range []string{"bench_board", "gritter"} {
		tracer := cachedTracer(t, name, "")
		require.NoError(t, tracer.Prepare(context.Background(), nil))
		shown := 0
		for v := 0; v < len(tracer.showing); v += 7 {
			shows, mistakes := 0.0, 0.0
			for p, pr := range tracer.procedures {
				healthy, values := tracer.table.values(p, 0), tracer.table.values(p, v)
				for r := range pr.Readings {
					if healthy == nil || values == nil {
						continue
					}
					o := &observation{procedure: p, reading: r, r: &pr.Readings[r]}
					if differs(&pr.Readings[r], healthy[r], values[r]) {
						shows += tracer.reportedOn(o, v)
					} else {
						mistakes += mistaken(&pr.Readings[r], healthy[r]) * tracer.reportedOn(o, v)
					}
				}
			}
			if shows > 0 {
				assert.InDelta(t, 1, shows+mistakes, 0.4, "%s: %v", name, tracer.table.vehicles[v])
				assert.Greater(t, shows, 0.1, "%s: %v", name, tracer.table.vehicles[v])
				shown++
			} else {
				assert.Less(t, mistakes, 1.0, "%s: %v", name, tracer.table.vehicles[v])
			}
		}
		assert.Greater(t, shown, 10)
	}
}

// What a vehicle came in for doesn't tell whether the catalogue knows what is the matter with it: over the catalogue, something else is as likely to be
// reported as what the catalogue has.
func TestSomethingElseIsReportedWhereFaultsAre(t *testing.T) {
	tracer := cachedTracer(t, "bench_board", "")
	require.NoError(t, tracer.Prepare(context.Background(), nil))
	before := priorSomethingElse / sumOfPriors(tracer)
	for _, text := range []string{"40 s", "70 s", "200 s"} {
		k := &circuit.Case{Circuit: "bench_board", Title: "reported", Reported: "f1", Findings: []circuit.Finding{{
			ID: "f1", Procedure: "build-up-85-100", Reading: "time", Result: circuit.Result{Kind: circuit.Number, Text: text},
		}}}
		v, err := tracer.Trace(context.Background(), k, nil)
		require.NoError(t, err)
		assert.InDelta(t, before, v.SomethingElse, 0.6*before, text)
	}
}

func sumOfPriors(t *Tracer) (sum float64) {
	for i := range t.list {
		sum += t.list[i].words.Prior
	}
	return sum
}

// A vehicle that is brought in for one hiss that many a round might have had by mistake is hardly ever in good order: of as many
// places as there are to listen at, it is just this one.
func TestAMistakeMightHaveBeenMadeAnywhere(t *testing.T) {
	tracer := cachedTracer(t, "gritter", "")
	require.NoError(t, tracer.Prepare(context.Background(), nil))
	heard := &circuit.Case{Circuit: "gritter", Title: "reported", Findings: []circuit.Finding{{
		ID: "f1", Procedure: "listen-released", Reading: "hiss", Place: "primary_gauge_stub", Result: circuit.Result{Kind: circuit.Yes, Text: "yes"},
	}}}
	heard.Reported = "f1"
	reported, err := tracer.Trace(context.Background(), heard, nil)
	require.NoError(t, err)
	assert.Less(t, reported.NoFault, priorNoFault/sumOfPriors(tracer)*3)
}

// That a finding is what the vehicle came in for raises what shows in little else, and is said of one that is there alone.
func TestWhatWasReportedCounts(t *testing.T) {
	tracer := cachedTracer(t, "bench_board", "")
	require.NoError(t, tracer.Prepare(context.Background(), nil))
	k := &circuit.Case{Circuit: "bench_board", Title: "reported", Findings: []circuit.Finding{{
		ID: "f1", Procedure: "build-up-85-100", Reading: "time", Result: circuit.Result{Kind: circuit.Number, Text: "70 s"},
	}}}
	plain, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	k.Reported = "f1"
	reported, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	k.Reported = "f2"
	other, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	assert.NotEqual(t, plain.Suspects[0].Probability, reported.Suspects[0].Probability)
	assert.Equal(t, plain.Suspects[0].Probability, other.Suspects[0].Probability, "no finding has that id")
}
