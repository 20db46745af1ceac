package ui

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/ui/model"
)

// afterTheWinter puts the findings of two faults at once into the case of the first start: the governor cuts out low, and one brake's
// stroke is long.
func afterTheWinter(s *shell) {
	figure := func(procedure, reading, place, text string) circuit.Finding {
		return circuit.Finding{Procedure: procedure, Reading: reading, Place: place, Result: circuit.Result{Kind: circuit.Number, Text: text}}
	}
	s.session.SetComplaint("pulls to the right")
	s.session.Remove("f1")
	for _, f := range []circuit.Finding{
		figure("push-rod-stroke", "stroke", "front_left_chamber", "52 mm"), figure("push-rod-stroke", "stroke", "front_right_chamber", "36 mm"),
		figure("push-rod-stroke", "stroke", "rear_left_chamber", "37 mm"), figure("push-rod-stroke", "stroke", "rear_right_chamber", "36 mm"),
		figure("leak-down-released", "fall", "gauge_primary", "0.5 psi/min"), figure("leak-down-released", "fall", "gauge_secondary", "0.5 psi/min"),
		figure("governor-cut-out", "pressure", "gauge_primary", "105 psi"), figure("governor-cut-out", "pressure", "gauge_secondary", "104 psi"),
	} {
		if err := s.session.Enter(f); err != nil {
			panic(err)
		}
	}
}

// twoAtOnce is what the tracer says of them, in short.
func twoAtOnce(_ context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error) {
	progress(1, 1)
	suspect := func(target, mode, words string, p float64, with ...string) model.Suspect {
		x := model.Suspect{Key: target + "/" + mode, Target: target, Mode: mode, Title: words, Probability: p, Path: []model.Step{{Target: target, Words: target}}, Because: "It gives what was found there."}
		for _, f := range cs.Findings {
			for _, place := range with {
				if f.Place == place && f.Procedure != "leak-down-released" {
					x.For = append(x.For, f.ID)
				}
			}
		}
		return x
	}
	a := &model.Answer{Suspects: []model.Suspect{
		suspect("governor", "cut-out low", "governor: it is set too low", 0.92, "gauge_primary", "gauge_secondary"),
		suspect("front_left_slack", "not adjusting", "front left slack adjuster: it does not take up wear, so that the stroke is long", 0.6, "front_left_chamber"),
		suspect("front_left_chamber", "stroke long", "front left chamber: its push-rod travels too far", 0.3, "front_left_chamber"),
	}, Alike: []model.Alike{{Suspects: []int{1, 2}}}, Else: 0.02, Limits: map[string]model.Check{}}
	for i, p := range []float64{0.58, 0.29} {
		first, other := a.Suspects[0], a.Suspects[i+1]
		a.Pairs = append(a.Pairs, model.Pair{Keys: [2]string{first.Key, other.Key}, Titles: [2]string{first.Title, other.Title}, Targets: [2]string{first.Target, other.Target}, Probability: p})
	}
	a.Disagree = []string{"By numbers the governor, by paths not.", "By numbers the front left slack adjuster, by paths not."}
	for _, f := range cs.Findings {
		if f.Procedure == "push-rod-stroke" {
			a.Limits[f.ID] = model.Check{Met: f.Place != "front_left_chamber"}
		}
	}
	a.Next = append(a.Next, model.Next{Procedure: e.procedures[3], Minutes: 6, Bits: 1, Because: "It tells most."})
	return a, nil
}

// Two faults that lead together are said to be two: which gives what, and what else the second may be. Each lights its path.
func TestTwoFaultsAtOnceAreAVerdict(t *testing.T) {
	h := newHarness(t, Options{Engine: quick(twoAtOnce)})
	h.size.Y = 2000
	h.frame()
	_, shown := h.control("One of two faults: governor")
	require.True(t, shown)
	afterTheWinter(h.shell)
	h.settle()
	for _, c := range []string{"One of two faults: governor", "One of two faults: front left slack adjuster", "One of two faults: front left chamber"} {
		h.press(c)
		require.NotEmpty(t, h.shell.describe().Chosen, c)
	}
	assert.Equal(t, "front_left_chamber/stroke long", h.shell.describe().Chosen)

	h = newHarness(t, Options{Engine: quick(func(ctx context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error) {
		a, err := twoAtOnce(ctx, e, cs, progress)
		a.Pairs[0].Probability, a.Pairs[1].Probability = 0.3, 0.1
		return a, err
	})})
	_, shown = h.control("One of two faults")
	assert.False(t, shown, "one fault alone is likelier")
	h.size.Y = 2000
	h.frame()
	told := func() (n int) {
		for _, l := range h.labels() {
			if strings.HasPrefix(l, "By numbers") {
				n++
			}
		}
		return n
	}
	assert.Equal(t, 1, told(), "one place where paths and numbers differ")
	h.press("1 more where paths and numbers differ")
	assert.Equal(t, 2, told())
	h.press("Only the first of them")
	assert.Equal(t, 1, told())
}

// Where nothing known fits, the likeliest two faults are named however improbable, and why.
func TestTwoFaultsAreNamedWhereNothingKnownFits(t *testing.T) {
	for _, unknown := range []bool{false, true} {
		h := newHarness(t, Options{Engine: quick(func(ctx context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error) {
			a, err := twoAtOnce(ctx, e, cs, progress)
			a.Pairs[0].Probability, a.Pairs[1].Probability, a.Else, a.Unknown = 0.002, 0.001, 0.9, unknown
			return a, err
		})})
		h.size.Y = 2000
		h.frame()
		said := slices.ContainsFunc(h.labels(), func(l string) bool { return strings.HasPrefix(l, "No single fault in the catalogue gives all") })
		assert.Equal(t, unknown, said)
	}
}

// What was read at several places of one test shares a card, and what is in order stands back where there is much.
func TestFindingsInOrderStandBack(t *testing.T) {
	h := newHarness(t, Options{Engine: quick(twoAtOnce)})
	h.size.Y = 2000
	afterTheWinter(h.shell)
	require.NoError(t, h.shell.session.Enter(circuit.Finding{Procedure: "governor-cut-out", Reading: "purge", Place: "dryer.3", Result: circuit.Result{Kind: circuit.Number, Text: "25 s"}}))
	h.settle()
	cards := h.shell.session.Cards()
	require.Len(t, cards, 5)
	assert.True(t, cards[0].Bad)
	assert.True(t, cards[0].Reported)
	assert.Equal(t, "front right chamber 36 mm, rear left spring brake chamber 37 mm, rear right spring brake chamber 36 mm", cards[1].Result)
	assert.Equal(t, "Governor cut-out", cards[3].Title)
	assert.Len(t, cards[3].Findings, 2)
	assert.Equal(t, 2, h.count("Finding: "), "what is wrong, and the newest")
	h.press("Show 3 more that were found")
	assert.Equal(t, 5, h.count("Finding: "))
	h.press("Show what matters most")
	assert.Equal(t, 2, h.count("Finding: "))
}
