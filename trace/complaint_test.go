package trace

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/circuit"
)

func heardIn(text string) []string {
	var out []string
	for _, h := range HearComplaint(text).Heard {
		out = append(out, h.Meaning.ID)
	}
	return out
}

func TestTradeWordsAreUnderstood(t *testing.T) {
	for _, c := range []struct {
		words string
		want  []string
	}{
		{"builds air slowly", []string{"slow-build-up"}},
		{"Takes for ever to build air", []string{"slow-build-up"}},
		{"Takes too long to build air in the morning", []string{"slow-build-up"}},
		{"Takes a quarter of an hour in the morning before it may leave the yard", []string{"slow-build-up"}},
		{"leaks down overnight", []string{"leaks-standing"}},
		{"no air in the morning", []string{"leaks-standing"}},
		{"won't build air", []string{"no-build-up"}},
		{"brakes drag", []string{"drags"}},
		{"rear wheels get hot", []string{"drags"}},
		{"pulls left", []string{"pulls-left"}},
		{"pulls to the right under braking", []string{"pulls-right"}},
		{"springs set while driving", []string{"springs-set"}},
		{"the knob pops out", []string{"springs-set"}},
		{"warning lamp at low pressure", []string{"lamp-on"}},
		{"warning lamp stays on", []string{"lamp-on"}},
		{"the low pressure lamp doesn't come on", []string{"lamp-off"}},
		{"governor cycles often", []string{"governor-cycles"}},
		{"blows at the dryer after it has cut out, and cycles", []string{"dryer-blows", "governor-cycles"}},
		{"water in the tanks", []string{"water"}},
		{"oil at the drains", []string{"oil"}},
		{"brakes are weak but the trailer brakes stay on", []string{"weak", "trailer-drags"}},
		{"the stop lamps do not work", []string{"stop-lamp"}},
		{"park brake will not release", []string{"springs-hold"}},
		{"safety valve blows", []string{"pressure-high"}},
		{"hisses when parked", []string{"hiss-parked"}},
		{"smells of fish", []string{}},
	} {
		t.Run(c.words, func(t *testing.T) {
			assert.ElementsMatch(t, c.want, heardIn(c.words))
		})
	}
}

// Each saying must be understood as the complaint that it stands for.
func TestSayingsMeanThemselves(t *testing.T) {
	for _, m := range Meanings() {
		assert.Contains(t, heardIn(m.Saying), m.ID, m.Saying)
		assert.NotEmpty(t, m.Means, m.ID)
		assert.Positive(t, len(m.signs)+len(m.blames), m.ID)
	}
}

func TestWordsThatAreNotUnderstoodGetASuggestion(t *testing.T) {
	c := HearComplaint("bilds pressur slowly; smells of fish")
	require.Empty(t, c.Heard)
	require.Len(t, c.Unheard, 2)
	assert.Contains(t, c.Unheard[0].Suggestion, `did you mean "builds air slowly"?`)
	assert.Contains(t, c.Unheard[1].Suggestion, "it can be said as in")
}

func TestAnyTextIsHeardWithoutLoss(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		c := HearComplaint(text)
		for _, u := range c.Unheard {
			require.NotEmpty(t, u.Suggestion)
		}
		again := HearComplaint(text)
		require.Equal(t, c, again)
	})
}

// A blame that names no mode that exists would never do anything.
func TestBlamesNameModesThatExist(t *testing.T) {
	for _, m := range Meanings() {
		for _, b := range m.blames {
			known := map[string]bool{}
			for kind, words := range wordsOf {
				if b.kind == "" || b.kind == kind {
					for _, w := range words {
						known[w.Mode] = true
					}
				}
			}
			for _, words := range lineWordsOf {
				if b.kind == "" || b.kind == "line" {
					for _, w := range words {
						known[w.Mode] = true
					}
				}
			}
			for _, mode := range b.modes {
				assert.True(t, known[mode], "%s: %s has no mode %q", m.ID, b.kind, mode)
			}
		}
	}
}

func TestAComplaintIsWeakEvidence(t *testing.T) {
	tracer := gritterTracer(t)
	trace := func(k circuit.Case) *Verdict {
		v, err := tracer.Trace(context.Background(), &k, nil)
		require.NoError(t, err)
		return v
	}
	before := trace(circuit.Case{Circuit: "gritter"})
	after := trace(circuit.Case{Circuit: "gritter", Complaint: "builds air slowly"})
	require.Len(t, after.Complaint.Heard, 1)
	was, _ := suspectAt(t, before, "compressor/worn")
	is, rank := suspectAt(t, after, "compressor/worn")
	assert.Greater(t, is.Probability, 1.5*was.Probability)
	assert.Zero(t, rank)
	assert.Empty(t, after.Cleared, "a complaint clears nothing")

	// No pair of faults changes its odds by more than is said openly.
	assert.InDelta(t, 9.3, MostComplaint(), 0.05)
	most := 0.0
	for _, a := range after.Suspects {
		b, _ := suspectAt(t, before, id(a.Fault))
		most = max(most, a.Probability/b.Probability)
	}
	assert.LessOrEqual(t, most, MostComplaint())
}

// Once the reading that a complaint is about has been taken, the complaint adds nothing that the reading did not say.
func TestAComplaintIsNotCountedAgainOnceMeasured(t *testing.T) {
	k := *loadCase(t, "slow-build-up")
	k.Complaint = ""
	tracer := gritterTracer(t)
	without, err := tracer.Trace(context.Background(), &k, nil)
	require.NoError(t, err)
	k.Complaint = "builds air slowly"
	with, err := tracer.Trace(context.Background(), &k, nil)
	require.NoError(t, err)
	for i, s := range without.Suspects[:5] {
		assert.InDelta(t, s.Probability, with.Suspects[i].Probability, 0.05, id(s.Fault))
	}
}

// A truck pulls to the side whose brake does more: a leaking chamber on the right lets it pull left.
func TestPullsBlameTheRightSide(t *testing.T) {
	tracer := gritterTracer(t)
	raised := func(words string) []string {
		v, err := tracer.Trace(context.Background(), &circuit.Case{Circuit: "gritter", Complaint: words}, nil)
		require.NoError(t, err)
		base, err := tracer.Trace(context.Background(), &circuit.Case{Circuit: "gritter"}, nil)
		require.NoError(t, err)
		var out []string
		for _, s := range v.Suspects {
			if b, _ := suspectAt(t, base, id(s.Fault)); s.Probability > 1.5*b.Probability {
				out = append(out, id(s.Fault))
			}
		}
		slices.Sort(out)
		return out
	}
	left, right := raised("pulls left"), raised("pulls right")
	assert.Contains(t, left, "rear_right_chamber/diaphragm leaking")
	assert.NotContains(t, left, "rear_left_chamber/diaphragm leaking")
	assert.Contains(t, right, "rear_left_chamber/diaphragm leaking")
	assert.Contains(t, left, "rear_left_chamber/return spring weak")
	assert.NotContains(t, right, "rear_left_chamber/return spring weak")
}
