package trace

import (
	"context"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuits"
)

// The order in which findings are entered changes nothing, to the last bit.
func TestOrderChangesNothing(t *testing.T) {
	tracer := gritterTracer(t)
	for _, name := range []string{"slow-build-up", "wet-tank-falls"} {
		k := loadCase(t, name)
		want, err := tracer.Trace(context.Background(), k, nil)
		require.NoError(t, err)
		order := rand.New(rand.NewPCG(1, 2))
		for range 3 {
			order.Shuffle(len(k.Findings), func(i, j int) { k.Findings[i], k.Findings[j] = k.Findings[j], k.Findings[i] })
			got, err := tracer.Trace(context.Background(), k, nil)
			require.NoError(t, err)
			require.Equal(t, want, got)
		}
	}
}

// A measurement that is repeated is not fresh evidence.
func TestRepeatsAddNothing(t *testing.T) {
	tracer := gritterTracer(t)
	k := loadCase(t, "primary-follows-supply")
	once, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	for _, id := range []string{"again", "and again"} {
		f := k.Findings[0]
		f.ID = id
		k.Findings = append(k.Findings, f)
	}
	thrice, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	require.Len(t, thrice.Suspects, len(once.Suspects))
	for i := range once.Suspects {
		assert.InDelta(t, once.Suspects[i].Probability, thrice.Suspects[i].Probability, 1e-9)
	}
}

func TestNotSureSaysNothing(t *testing.T) {
	tracer := gritterTracer(t)
	k := loadCase(t, "primary-follows-supply")
	want, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	k.Findings = append(k.Findings, circuit.Finding{ID: "x", Procedure: "leak-down-released", Reading: "fall", Place: "gauge_primary", Result: circuit.Result{Kind: circuit.NotSure, Text: "not sure"}})
	got, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	assert.Equal(t, []Ignored{{"x", "the result is not sure, so it says nothing"}}, got.Ignored)
	got.Ignored = want.Ignored
	assert.Equal(t, want, got)
}

// Cleared is worked out anew each time: what one finding cleared comes back when it turns out to be wrong.
func TestClearedComesBack(t *testing.T) {
	k := loadCase(t, "slow-build-up")
	assert.True(t, notTheCause(traceCase(t, "slow-build-up"), "drain_primary/left open"))
	for i := range k.Findings {
		if k.Findings[i].Procedure == "leak-down-released" && k.Findings[i].Place == "gauge_primary" {
			k.Findings[i].Result = circuit.Result{Kind: circuit.Number, Text: "9 psi/min"}
		}
		if k.Findings[i].Procedure == "leak-down-applied" && k.Findings[i].Place == "gauge_primary" {
			k.Findings[i].Result = circuit.Result{Kind: circuit.Number, Text: "9 psi/min"}
		}
	}
	v, err := gritterTracer(t).Trace(context.Background(), k, nil)
	require.NoError(t, err)
	assert.False(t, notTheCause(v, "drain_primary/left open"))
	assert.False(t, notTheCause(v, "compressor/worn"), "there may be two faults")
}

// A finding that has nothing to do with the rest is said to be unexplained, and rules nothing out for good.
func TestUnexplainedFindingIsSaid(t *testing.T) {
	k := loadCase(t, "slow-build-up")
	k.Findings = append(k.Findings, circuit.Finding{ID: "odd", Procedure: "listen-parked", Reading: "hiss", Place: "stop_switch", Result: circuit.Result{Kind: circuit.Yes, Text: "yes"}})
	v, err := gritterTracer(t).Trace(context.Background(), k, nil)
	require.NoError(t, err)
	require.Len(t, v.Unexplained, 1)
	assert.Equal(t, "odd", v.Unexplained[0].Finding)
	_, rank := suspectAt(t, v, "compressor/worn")
	assert.Zero(t, rank)
}

// With several abnormal findings that no one part explains, the smallest sets that do are named.
func TestTwoFaultsAreExplainedTogether(t *testing.T) {
	k := &circuit.Case{Circuit: "gritter", Findings: []circuit.Finding{
		{ID: "a", Procedure: "listen-released", Reading: "hiss", Place: "rear_relay.3", Result: circuit.Result{Kind: circuit.Yes, Text: "yes"}},
		{ID: "b", Procedure: "listen-parked", Reading: "hiss", Place: "drain_primary.3", Result: circuit.Result{Kind: circuit.Yes, Text: "yes"}},
	}}
	v, err := gritterTracer(t).Trace(context.Background(), k, nil)
	require.NoError(t, err)
	require.NotEmpty(t, v.Explanations)
	for _, e := range v.Explanations {
		assert.Len(t, e, 2)
	}
	var first []string
	for _, class := range v.Explanations[0] {
		for _, f := range class {
			first = append(first, id(f))
		}
	}
	assert.Contains(t, first, "drain_primary/leaking")
	assert.Contains(t, first, "rear_left_chamber/inner seal leaking")
	assert.Contains(t, v.TakesMore, "It takes 2: ")
	assert.Contains(t, v.TakesMore, "primary drain (leaking)")
	assert.Empty(t, traceCase(t, "slow-build-up").TakesMore, "one part may")
}

func TestWithoutFindingsNothingIsRuledOut(t *testing.T) {
	tracer := gritterTracer(t)
	v, err := tracer.Trace(context.Background(), &circuit.Case{Circuit: "gritter"}, nil)
	require.NoError(t, err)
	assert.Empty(t, v.Cleared)
	assert.Len(t, v.Suspects, len(airflow.Catalogue(tracer.circuit)))
	assert.NotEmpty(t, v.Next)
	sum := v.NoFault + v.SomethingElse
	for _, s := range v.Suspects {
		sum += s.Probability
	}
	assert.InDelta(t, 1, sum, 1e-9)
}

func TestBadFindingsAreSaid(t *testing.T) {
	tracer := gritterTracer(t)
	_, err := tracer.Trace(context.Background(), &circuit.Case{Findings: []circuit.Finding{{ID: "f9", Procedure: "bild-up-85-100", Reading: "time"}}}, nil)
	assert.ErrorContains(t, err, `finding f9: no procedure "bild-up-85-100"`)
	_, err = tracer.Trace(context.Background(), &circuit.Case{Findings: []circuit.Finding{{ID: "f9", Procedure: "build-up-85-100", Reading: "time", Result: circuit.Result{Kind: circuit.Number, Text: "70 psi"}}}}, nil)
	assert.ErrorContains(t, err, "finding f9")
}

// Long work can be given up at any moment, and does no harm to what comes after.
func TestCancelled(t *testing.T) {
	tracer, err := New(gritterTracer(t).network, Options{})
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	calls := 0
	_, err = tracer.Trace(ctx, loadCase(t, "lamp-on-gauges-good"), func(done, total int) {
		calls++
		assert.LessOrEqual(t, done, total)
		cancel()
	})
	require.ErrorIs(t, err, context.Canceled)
	assert.Positive(t, calls)
	_, err = tracer.Trace(ctx, loadCase(t, "lamp-on-gauges-good"), nil)
	require.ErrorIs(t, err, context.Canceled)
}

// The table does not depend on how many cores fill it, nor on what was asked for before.
func TestTableIsDeterministic(t *testing.T) {
	n := gritterTracer(t).network
	var vehicles []int
	for v := 0; v < 900; v += 60 {
		vehicles = append(vehicles, v)
	}
	fill := func(cores int, batches ...[]int) *table {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		tracer, err := New(n, Options{})
		require.NoError(t, err)
		for _, procedures := range batches {
			require.NoError(t, tracer.table.fill(context.Background(), procedures, vehicles, nil))
		}
		return tracer.table
	}
	at := func(id string) int {
		for i, p := range gritterTracer(t).procedures {
			if p.ID == id {
				return i
			}
		}
		t.Fatal(id)
		return -1
	}
	a, b, c := at("build-up-85-100"), at("leak-down-released"), at("listen-released")
	one := fill(1, []int{a, b, c})
	two := fill(2, []int{c}, []int{a}, []int{b, a})
	for _, p := range []int{a, b, c} {
		for _, v := range vehicles {
			require.Equal(t, bits(one.known[p][v]), bits(two.known[p][v]), "%s on %s", one.procedures[p].ID, one.vehicles[v])
		}
	}
}

// The plots' curves: a fault's and the healthy vehicle's.
func TestPredict(t *testing.T) {
	tracer := gritterTracer(t)
	p := tracer.procedures[0]
	healthy, err := tracer.Predict(context.Background(), nil, p)
	require.NoError(t, err)
	worn, err := tracer.Predict(context.Background(), &airflow.Fault{Target: "compressor", Mode: "worn", Severity: 0.8}, p)
	require.NoError(t, err)
	assert.Greater(t, worn.Values[0], 2*healthy.Values[0])
	assert.NotEmpty(t, worn.Curves.Seconds)
	_, err = tracer.Predict(context.Background(), &airflow.Fault{Target: "compressor", Mode: "melted"}, p)
	assert.Error(t, err)
}

// The words follow the unit that is asked for.
func TestUnitOfTheWords(t *testing.T) {
	tracer := gritterTracer(t)
	tracer.SpeakIn("bar")
	defer tracer.SpeakIn("psi")
	v := traceCase(t, "lamp-on-gauges-good")
	said := ""
	for _, n := range v.Next {
		said += n.Because
	}
	assert.Contains(t, said, " bar")
	assert.NotContains(t, said, " psi:")
}

// Every vehicle of the library can be traced: each of its faults has words, severities and a place where it acts.
func TestEveryVehicleOfTheLibraryHasATracer(t *testing.T) {
	for _, name := range circuits.Names() {
		t.Run(name, func(t *testing.T) {
			c, err := circuits.Load(name)
			require.NoError(t, err)
			n, err := airflow.Compile(c)
			require.NoError(t, err)
			tracer, err := New(n, Options{})
			require.NoError(t, err)
			assert.Len(t, tracer.list, firstFault+len(airflow.Catalogue(c)))
		})
	}
}

// On a vehicle that is asked about for the first time a rough look comes first, and says so. The suspects come before it is known what to do
// next; they are those of the whole verdict. Afterwards everything is known at once.
func TestTheSuspectsComeFirst(t *testing.T) {
	tracer := cachedTracer(t, "bench_board", "")
	k := &circuit.Case{Circuit: "bench_board", Title: "t", Findings: []circuit.Finding{{
		ID: "f1", Procedure: "build-up-85-100", Reading: "time", Result: circuit.Result{Kind: circuit.Number, Text: "70 s"},
	}}}
	var early []*Verdict
	whole, err := tracer.TraceInParts(context.Background(), k, func(v *Verdict) { early = append(early, v) }, nil)
	require.NoError(t, err)
	require.Len(t, early, 2)
	assert.True(t, early[0].Rough)
	assert.NotEmpty(t, early[0].Suspects)
	assert.False(t, early[1].Rough)
	assert.False(t, whole.Rough)
	assert.Equal(t, whole.Suspects, early[1].Suspects)
	assert.Equal(t, whole.Cleared, early[1].Cleared)
	for _, v := range early {
		assert.Empty(t, v.Next)
	}
	assert.NotEmpty(t, whole.Next)
	again, err := tracer.TraceInParts(context.Background(), k, func(v *Verdict) { early = append(early, v) }, nil)
	require.NoError(t, err)
	assert.Len(t, early, 2, "nothing is left to simulate")
	assert.Equal(t, whole, again)
}

// What somebody saw early leaves nothing behind: the verdict in the end is that of one who waited, to the last bit. The rough look's
// first suspect is among the first of the end.
func TestTheRoughLookLeavesNothingBehind(t *testing.T) {
	for name, change := range map[string]func(k *circuit.Case){
		"finding":               func(k *circuit.Case) { k.Complaint = "" },
		"finding and complaint": func(*circuit.Case) {},
		"complaint":             func(k *circuit.Case) { k.Findings = nil },
	} {
		t.Run(name, func(t *testing.T) {
			k := loadCase(t, "slow-build-up")
			k.Findings = k.Findings[:1]
			k.Complaint = "builds air slowly"
			change(k)
			var early []*Verdict
			got, err := cachedTracer(t, "gritter", "").TraceInParts(context.Background(), k, func(v *Verdict) { early = append(early, v) }, nil)
			require.NoError(t, err)
			want, err := cachedTracer(t, "gritter", "").Trace(context.Background(), k, nil)
			require.NoError(t, err)
			assert.Equal(t, said(want), said(got))
			require.Len(t, early, 2)
			require.True(t, early[0].Rough)
			place := slices.IndexFunc(want.Suspects, func(s Suspect) bool { return s.Title == early[0].Suspects[0].Title })
			assert.GreaterOrEqual(t, place, 0)
			assert.Less(t, place, 5, "%s", early[0].Suspects[0].Title)
		})
	}
}
