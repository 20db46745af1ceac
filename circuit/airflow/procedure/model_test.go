package procedure

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuits"
)

func model(tb testing.TB, n *airflow.Network, all []*Procedure) *Model {
	tb.Helper()
	m, err := NewModel(context.Background(), n, all, airflow.Fine)
	require.NoError(tb, err)
	return m
}

// A vehicle that follows the healthy one as far as their ways are the same reads what it reads when it goes its own way: every
// seventh fault of the gritter's catalogue, and fewer of the combination's, mild or severe in turn, through everything.
func TestFollowingChangesNoReading(t *testing.T) {
	followingChangesNoReading(t, gritter(t), 7)
	c, err := circuits.Load("tractor_trailer")
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	followingChangesNoReading(t, n, 19)
}

func followingChangesNoReading(t *testing.T, n *airflow.Network, every int) {
	t.Helper()
	all := For(n)
	own, following := bench(t, n), bench(t, n)
	require.NoError(t, following.Follow(model(t, n, all)))
	compared := 0
	for i, f := range airflow.Catalogue(n.Circuit()) {
		if i%every != 0 {
			continue
		}
		mode, err := airflow.ModeOf(n.Circuit(), f)
		require.NoError(t, err)
		f.Severity = []float64{mode.Severity.Severe, mode.Severity.Mild}[i/every%2]
		require.NoError(t, own.Next([]airflow.Fault{f}, airflow.Scatter{}))
		require.NoError(t, following.Next([]airflow.Fault{f}, airflow.Scatter{}))
		for _, p := range all {
			want, got := do(t, own, p), do(t, following, p)
			assert.Equal(t, want.Undone, got.Undone)
			assert.Equal(t, want.Short, got.Short)
			require.Len(t, got.Log, len(want.Log))
			for k := range want.Values {
				about := p.ID + " " + p.Readings[k].ID + " at " + p.Readings[k].Place + " with " + f.String()
				compared++
				agree(t, &p.Readings[k], want.Values[k], got.Values[k], about)
			}
		}
	}
	assert.Greater(t, compared, 20000)
}

// agree where nobody who takes the reading could tell.
func agree(t *testing.T, r *Reading, want, got float64, about string) {
	t.Helper()
	switch {
	case math.IsNaN(want) || math.IsNaN(got):
		assert.Equal(t, math.IsNaN(want), math.IsNaN(got), about)
	case r.Form == YesNo:
		assert.InDelta(t, r.Judge.Says(want), r.Judge.Says(got), 0.02, about)
	case r.Dimension == circuit.Pressure:
		assert.InDelta(t, want, got, 0.1*r.Sigma, about)
	default:
		assert.InDelta(t, want, got, math.Max(0.1*r.Sigma, 2e-3*math.Abs(want)), about)
	}
}

// An action that does not say what it looks at makes every vehicle with a fault leave the healthy one's way there.
func TestEveryActionSaysWhatItLooksAt(t *testing.T) {
	for _, name := range circuits.Names() {
		c, err := circuits.Load(name)
		require.NoError(t, err)
		n, err := airflow.Compile(c)
		require.NoError(t, err)
		all := For(n)
		check := func(steps []Step) {
			for _, s := range steps {
				_, says := s.Do.(onlooker)
				assert.True(t, says, "%s: %T", name, s.Do)
			}
		}
		for _, s := range Starts(all) {
			check(s.Steps)
		}
		for _, p := range all {
			check(p.Steps)
		}
	}
}

// What comes out hangs neither on the order of procedures nor on the vehicles before; nor on the order in which the healthy vehicle went
// through them.
func TestFollowingDoesNotDependOnWhatWentBefore(t *testing.T) {
	n := gritter(t)
	all := For(n)
	m, late := model(t, n, all), model(t, n, nil)
	for i := len(all) - 1; i >= 0; i-- {
		assert.False(t, late.Went(all[i]))
		require.NoError(t, late.GoThrough(t.Context(), all[i:]))
		assert.True(t, late.Went(all[i]))
	}
	for _, fault := range []string{"governor/cut-in low", "rear_left_chamber/diaphragm leaking", "front_release/leaking", "gauge_primary/reading high", "switch_primary/threshold low", "dryer/outlet check leaking back"} {
		a, b := bench(t, n, fault), bench(t, n)
		require.NoError(t, a.Follow(m))
		require.NoError(t, b.Follow(late))
		for _, p := range all[:5] {
			do(t, b, p)
		}
		require.NoError(t, b.Next(a.Faults(), airflow.Scatter{}))
		var first []Outcome
		for _, p := range all {
			first = append(first, do(t, a, p))
		}
		for i := len(all) - 1; i >= 0; i-- {
			same(t, first[i].Values, do(t, b, all[i]).Values, all[i].ID+" last first with "+fault)
		}
	}
}

// The healthy vehicle follows itself to the end, and nothing is simulated for it; a vehicle that differs from its file does not.
func TestTheHealthyVehicleFollowsItself(t *testing.T) {
	n := gritter(t)
	all := For(n)
	b := bench(t, n)
	require.NoError(t, b.Follow(model(t, n, all)))
	for _, p := range all {
		do(t, b, p)
	}
	tries, _ := b.run.Tries()
	assert.Zero(t, tries)

	scatter := airflow.Scatter{Volume: 0.05}
	require.NoError(t, b.Next(nil, scatter))
	own, err := NewBench(n, nil, scatter)
	require.NoError(t, err)
	for _, p := range all[:4] {
		want, got := do(t, own, p), do(t, b, p)
		for i := range want.Values {
			agree(t, &p.Readings[i], want.Values[i], got.Values[i], p.ID)
		}
	}
}

// What begins alike is carried out once: the pedal is pressed on a vehicle three times over, and simulated once.
func TestWhatBeginsAlikeIsCarriedOutOnce(t *testing.T) {
	n := gritter(t)
	all := For(n)
	m := model(t, n, all)
	const fault = "rear_left_chamber/diaphragm leaking"
	alone := func(p *Procedure) (Outcome, int) {
		b := bench(t, n, fault)
		require.NoError(t, b.Follow(m))
		o := do(t, b, p)
		tries, _ := b.run.Tries()
		return o, tries
	}
	b := bench(t, n, fault)
	require.NoError(t, b.Follow(m))
	sum := 0
	for _, id := range []string{"full-application", "leak-down-applied", "listen-applied"} {
		p := named(t, all, id)
		want, tries := alone(p)
		require.Greater(t, tries, 50, "the fault shows there")
		sum += tries
		same(t, want.Values, do(t, b, p).Values, id)
	}
	tries, _ := b.run.Tries()
	assert.Less(t, tries, sum*6/10)
}

func TestHistories(t *testing.T) {
	n := gritter(t)
	all := For(n)
	v := all[0].vehicle
	begin := history{did: "start"}
	running := begin.after(v.engine("rated"))
	assert.NotEqual(t, begin.did, running.did)
	assert.Equal(t, running, running.after(v.engine("rated")), "it runs so already")
	assert.NotEqual(t, running.did, begin.after(v.engine("idle")).did)
	assert.Equal(t, running, running.after(noteNeedles{"x"}), "looking changes nothing")
	assert.Equal(t, running.after(wait{7, ""}), running.after(wait{3, "for this"}).after(wait{4, "and that"}))
	a := await{until: []condition{unloads{v}}, within: 60, mark: "one"}
	b := await{until: []condition{unloads{v}}, within: 60, mark: "another"}
	c := await{until: []condition{unloads{v}}, within: 61, mark: "one"}
	assert.Equal(t, running.after(a), running.after(b))
	assert.NotEqual(t, running.after(a), running.after(c))
	assert.NotEqual(t, running.after(a), begin.after(a))
	assert.Empty(t, running.after(readFlow{}).did, "that takes time of its own")
	assert.Empty(t, running.after(readFlow{}).after(v.engine("idle")).did)

	cuts := func(id string) (out []float64) {
		for _, s := range named(t, all, id).stems {
			out = append(out, s.cuts...)
		}
		return out
	}
	assert.Equal(t, []float64{5, 30, 60}, cuts("full-application"))
	assert.Equal(t, []float64{5, 30, 60}, cuts("leak-down-applied"))
	assert.Equal(t, []float64{5, 30}, cuts("listen-applied"))
	assert.Empty(t, cuts("leak-down-released"))
}

// A caller may keep and change what it is given.
func TestOutcomesOfTheModelAreCopies(t *testing.T) {
	n := gritter(t)
	all := For(n)
	b := bench(t, n)
	require.NoError(t, b.Follow(model(t, n, all)))
	p := named(t, all, "build-up-85-100")
	first := do(t, b, p)
	want := append([]float64(nil), first.Values...)
	require.NotEmpty(t, first.Curves.Seconds, "a reading is taken from them")
	first.Values[0], first.Curves.Seconds[0], first.Curves.Series[0].Pressure[0] = -1, -1, -1
	second := do(t, b, p)
	same(t, want, second.Values, "again")
	assert.Zero(t, second.Curves.Seconds[0])
	assert.Positive(t, second.Curves.Series[0].Pressure[0])
	assert.Empty(t, do(t, b, named(t, all, "leak-down-released")).Curves.Seconds, "nobody reads them there")
}

func TestModelCancelled(t *testing.T) {
	n := gritter(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := NewModel(ctx, n, For(n), airflow.Fine)
	assert.ErrorIs(t, err, context.Canceled)
}

// The healthy vehicle's way through everything, which is worked out before any fault.
func BenchmarkModel(b *testing.B) {
	n := gritter(b)
	all := For(n)
	for b.Loop() {
		model(b, n, all)
	}
}
