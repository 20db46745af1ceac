package drill

import (
	"context"
	"flag"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/trace"
)

// What whoever chooses at random scores. The tables of the larger vehicles take minutes to fill, since random work looks at
// everything: -all takes their exercises in too.
var allVehicles = flag.Bool("all", false, "random work on all exercises of the library, not only on the bench board's and the gritter's")

const randomDraws = 8

// randomWork takes at every step one of the tests left or stops, all equally likely; on a round, up to six places. Then it names
// suspects, drawn by the tracer's own probabilities: its guesses are the best that a guesser could make.
func randomWork(t *testing.T, rng *rand.Rand, l *lesson) *Attempt {
	a := Begin(l.exercise, "random")
	left := slices.Clone(l.exercise.Allowed)
	for {
		i := rng.IntN(len(left) + 1)
		if i == len(left) {
			break
		}
		var places []string
		if all := left[i].places(); left[i].Round && len(all) > 0 {
			for range 1 + rng.IntN(6) {
				places = append(places, all[rng.IntN(len(all))])
			}
		}
		_, err := a.Do(left[i].Procedure, places...)
		require.NoError(t, err)
		left = slices.Delete(left, i, i+1)
	}
	v, err := l.bay.guide.Trace(context.Background(), a.Case(), nil)
	require.NoError(t, err)
	var answer []Named
	for range l.exercise.Parts {
		s := drawn(rng, v.Suspects)
		answer = append(answer, Named{Part: s.Fault.Target, Mode: s.Fault.Mode})
	}
	a.Name(answer...)
	return a
}

// drawn is a suspect, by probability.
func drawn(rng *rand.Rand, suspects []trace.Suspect) trace.Suspect {
	total := 0.0
	for _, s := range suspects {
		total += s.Probability
	}
	x := rng.Float64() * total
	for _, s := range suspects {
		if x -= s.Probability; x <= 0 {
			return s
		}
	}
	return suspects[len(suspects)-1]
}

func TestRandomChoiceScoresUnderForty(t *testing.T) {
	rng := rand.New(rand.NewPCG(40, 1))
	sum, works, right := 0.0, 0, 0
	for _, d := range definitions(t) {
		if !*allVehicles && d.Circuit != "bench_board" && d.Circuit != "gritter" {
			continue
		}
		l := d.make(t)
		mine := 0.0
		for range randomDraws {
			m := mark(t, l.bay, l.exercise, l.key, randomWork(t, rng, l))
			require.LessOrEqual(t, m.Score, 100.0)
			mine += m.Score
			right += m.Right
			works++
		}
		sum += mine
		t.Logf("%s: %.0f on average", d.Name, mine/randomDraws)
	}
	t.Logf("%.1f on average of %d works, %d parts named rightly", sum/float64(works), works, right)
	assert.Less(t, sum/float64(works), 40.0)
	assert.Positive(t, right, "not one was right: the work is not random but hopeless")
}

// The tracer's own work on every exercise of the library has full marks, and no fault is found with it.
func TestTheTracersOwnWayScoresFullOnTheLibrary(t *testing.T) {
	for _, d := range definitions(t) {
		l := d.make(t)
		a := Begin(l.exercise, "tracer")
		for _, step := range l.key.Best {
			prepareAll(t, a)
			_, err := a.Do(step.Procedure, step.Places...)
			require.NoError(t, err)
		}
		w, err := onward(context.Background(), l.bay.guide, l.exercise, l.key, a.Steps())
		require.NoError(t, err)
		require.Empty(t, w.taken, "the way goes on after its end")
		for _, wrong := range w.fitted {
			a.Fit(Named{Part: wrong.Target, Mode: wrong.Mode})
		}
		var answer []Named
		for _, h := range l.key.Faults {
			answer = append(answer, Named{Part: h.Component, Mode: h.Mode})
		}
		a.Name(answer...)
		m := mark(t, l.bay, l.exercise, l.key, a)
		assert.InDelta(t, 100, m.Score, 1e-9, d.Name)
		assert.InDelta(t, 0, m.Lost, 1e-9, d.Name)
		assert.InDelta(t, m.BestBits, m.Bits, 1e-9, d.Name)
		assert.Empty(t, m.Unsafe, d.Name)
		assert.Zero(t, m.ToFinish, d.Name)
	}
}
