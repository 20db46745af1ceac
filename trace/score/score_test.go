package score

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/circuits"
	"airpath/trace"
)

// told is a reasoner that has been told the truth.
type told struct {
	w *world
	s *subject
}

func (r told) Trace(context.Context, *circuit.Case, func(int, int)) (*trace.Verdict, error) {
	v := &trace.Verdict{Stop: "it was told"}
	for _, f := range r.s.hidden.faults {
		v.Suspects = append(v.Suspects, trace.Suspect{Fault: f, Probability: 1 / float64(len(r.s.hidden.faults)), RepairTime: 10})
	}
	for _, c := range r.w.catalogue {
		if !slices.ContainsFunc(r.s.hidden.faults, func(f airflow.Fault) bool { return same(f, c.fault) }) {
			v.Cleared = append(v.Cleared, trace.Cleared{Fault: c.fault})
		}
	}
	if len(r.s.hidden.faults) == 0 {
		v.NoFault = 1
	}
	return v, nil
}

// broken is a reasoner that draws its verdicts.
type broken struct {
	w    *world
	dice *rand.Rand
}

func (r broken) Trace(context.Context, *circuit.Case, func(int, int)) (*trace.Verdict, error) {
	v := &trace.Verdict{}
	if r.dice.IntN(3) == 0 {
		v.Stop = "it has had enough"
	}
	for _, i := range r.dice.Perm(len(r.w.catalogue)) {
		c := r.w.catalogue[i]
		if len(v.Suspects) < 20 {
			v.Suspects = append(v.Suspects, trace.Suspect{Fault: c.fault, Probability: 0.97 / float64(1+30*len(v.Suspects)), RepairTime: 30})
		} else {
			v.Cleared = append(v.Cleared, trace.Cleared{Fault: c.fault})
		}
	}
	for p := range r.w.procedures {
		v.Next = append(v.Next, trace.Next{Procedure: r.w.procedures[p], Minutes: 10, Readings: []trace.Wanted{{Place: r.w.procedures[p].Readings[0].Place}}})
	}
	return v, nil
}

func boardWorld(t *testing.T, o Options) *world {
	t.Helper()
	return worldOf(t, "bench_board", o)
}

func worldOf(t testing.TB, name string, o Options) *world {
	t.Helper()
	c, err := circuits.Load(name)
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	require.NoError(t, o.Check())
	w, err := newWorld(t.Context(), n, procedure.For(n), o)
	require.NoError(t, err)
	return w
}

func play(t *testing.T, w *world, reasoner func(*subject) Reasoner) (*Report, []*Record) {
	t.Helper()
	var records []*Record
	r, err := w.score(t.Context(), func() func(*subject) Reasoner { return reasoner }, Watch{Record: func(r *Record) error {
		records = append(records, r)
		return nil
	}})
	require.NoError(t, err)
	return r, records
}

func TestWhoIsToldTheTruthScoresInFull(t *testing.T) {
	for _, faults := range []int{0, 1, 2} {
		w := boardWorld(t, Options{Cases: 12, Seed: 3, Faults: faults})
		r, _ := play(t, w, func(s *subject) Reasoner { return told{w, s} })
		f := r.Strategies[0]
		require.Empty(t, f.Cleared)
		require.Equal(t, 1.0, f.First, "%d faults", faults)
		require.Equal(t, 1.0, f.Found)
		require.Zero(t, f.Minutes)
		require.Zero(t, f.GoodParts)
		switch faults {
		case 1:
			require.Equal(t, 1.0, f.Exonerated)
			require.Zero(t, f.Log)
			require.Zero(t, f.Brier)
			require.Zero(t, f.Calibration)
		case 2:
			require.Equal(t, 1.0, f.Second)
		}
	}
}

// Of two faults at least one has given what the driver noticed, and often the other one nothing yet.
func TestWhichOfTwoFaultsGaveWhatWasFound(t *testing.T) {
	w := boardWorld(t, Options{Cases: 12, Seed: 3, Faults: 2})
	both, one := 0, 0
	for i := 1; i <= 12; i++ {
		k := w.worker(nil)
		s, err := k.prepare(t.Context(), i)
		require.NoError(t, err)
		b := &table{worker: k, s: s, game: &Game{}, left: slices.Clone(s.truths)}
		require.NoError(t, b.open(t.Context(), s.symptom))
		first, err := b.gave(t.Context(), 0)
		require.NoError(t, err)
		second, err := b.gave(t.Context(), 1)
		require.NoError(t, err)
		switch {
		case first && second:
			both++
		case first || second:
			one++
		}
	}
	require.Greater(t, both+one, 9)
	require.Greater(t, one, 4)
}

// Vehicles as they are expected: most have one fault, and each sort comes.
func TestMixedVehiclesAreOfEverySort(t *testing.T) {
	w := boardWorld(t, Options{Cases: 1, Seed: 3, Mixed: true})
	count, odd := map[int]int{}, 0
	r := w.dice(0, forTruth)
	for range 4000 {
		n, strange := w.mixed(r)
		if strange {
			odd++
		} else {
			count[n]++
		}
	}
	require.Greater(t, count[1], 2000)
	require.Positive(t, count[0])
	require.Positive(t, count[2])
	require.InDelta(t, 250.0/300, float64(odd)/float64(count[0]), 0.35, "as the two are expected beside one another")
}

// What a vehicle in good order comes in for is now and then a mistake, where vehicles are mixed; a vehicle with a fault comes in for what it shows.
func TestVehiclesInGoodOrderComeInForMistakes(t *testing.T) {
	for _, mixed := range []bool{false, true} {
		o := Options{Cases: 1, Seed: 3, Faults: 1, Mixed: mixed}
		w := boardWorld(t, o)
		mistakes, good := 0, 0
		for i := 1; i <= 60; i++ {
			s, err := w.worker(nil).prepare(t.Context(), i)
			require.NoError(t, err)
			if len(s.truths) == 0 && s.oddity == "" {
				good++
			}
			mine, err := s.hidden.outcome(t.Context(), s.symptom.procedure)
			require.NoError(t, err)
			its, err := s.twin.outcome(t.Context(), s.symptom.procedure)
			require.NoError(t, err)
			r := s.symptom.reading
			if !s.dull && !shows(&w.procedures[s.symptom.procedure].Readings[r], mine.Values[r], its.Values[r]) {
				mistakes++
				require.Empty(t, s.truths)
			}
		}
		require.LessOrEqual(t, mistakes, good)
		if !mixed {
			require.Zero(t, good)
		}
	}
	w := boardWorld(t, Options{Cases: 1, Seed: 3, Mixed: true})
	mistakes := 0
	for i := 1; i <= 200 && mistakes == 0; i++ {
		k := w.worker(nil)
		s := &subject{vehicle: i, hidden: w.draw(i), twin: w.draw(i)}
		require.NoError(t, s.hidden.put(k, 0, nil))
		require.NoError(t, s.twin.put(k, 1, nil))
		_, ok, err := s.hidden.noticeOr(t.Context(), s.twin, true)
		require.NoError(t, err)
		mistakes += int(is(ok))
	}
	require.Positive(t, mistakes)
}

func TestABrokenTracerScoresBadly(t *testing.T) {
	w := boardWorld(t, Options{Cases: 25, Seed: 3, Faults: 1})
	r, _ := play(t, w, func(s *subject) Reasoner { return broken{w, w.dice(s.vehicle, forReasoner)} })
	f := r.Strategies[0]
	require.Greater(t, len(f.Cleared), 15, "who clears at random clears the truth sooner or later")
	require.Less(t, f.First, 0.2)
	require.Greater(t, f.Calibration, 0.5)
	require.Greater(t, f.Brier, 0.5)
	require.Greater(t, f.GoodParts, 1.0)
	require.Positive(t, f.Shuffled)
	require.Equal(t, f.Shuffled, f.Disturbed, "who draws verdicts draws another when asked again")
}

func TestVehiclesHangOnSeedAndNumberAlone(t *testing.T) {
	o := Options{Cases: 6, Seed: 7, Faults: 2, Unmodelled: 0.5, Baselines: 3, Workers: 1}
	w := boardWorld(t, o)
	reasoner := func(w *world) func(s *subject) Reasoner {
		return func(s *subject) Reasoner { return broken{w, w.dice(s.vehicle, forReasoner)} }
	}
	_, one := play(t, w, reasoner(w))
	o.Workers, o.Cases = 3, 5
	w = boardWorld(t, o)
	_, three := play(t, w, reasoner(w))
	require.Equal(t, one[:5], three, "fewer vehicles on more cores")
	o.Only = 4
	w = boardWorld(t, o)
	_, alone := play(t, w, reasoner(w))
	require.Equal(t, one[3], alone[0], "a vehicle played alone")
	o.Only, o.Seed = 0, 8
	w = boardWorld(t, o)
	_, other := play(t, w, reasoner(w))
	require.NotEqual(t, three, other, "another seed")
}

func TestACancelledScoreReportsWhatWasPlayed(t *testing.T) {
	w := boardWorld(t, Options{Cases: 50, Seed: 1, Faults: 1, Workers: 2})
	ctx, cancel := context.WithCancel(t.Context())
	r, err := w.score(ctx, func() func(*subject) Reasoner {
		return func(s *subject) Reasoner { return told{w, s} }
	}, Watch{Progress: func(done, _ int) {
		if done == 5 {
			cancel()
		}
	}})
	require.NoError(t, err)
	require.True(t, r.Cut)
	require.GreaterOrEqual(t, r.Vehicles, 5)
	require.Less(t, r.Vehicles, 50)
	require.Equal(t, 50, r.Wanted)
}

func TestTheTextbookNamesProceduresThatThereAre(t *testing.T) {
	w := worldOf(t, "tractor_trailer", Options{Cases: 1, Faults: 1})
	var listed []string
	for _, c := range publishedOrder {
		require.GreaterOrEqual(t, w.index(c.procedure), 0, c.procedure)
		require.NotEmpty(t, c.source)
		for _, a := range c.after {
			require.GreaterOrEqual(t, w.index(a), 0, a)
		}
		require.NotContains(t, listed, c.procedure)
		listed = append(listed, c.procedure)
	}
}

// Every vehicle of the library on which anything can be tested can be scored.
func TestEveryVehicleOfTheLibraryCanBeScored(t *testing.T) {
	for _, name := range circuits.Names() {
		t.Run(name, func(t *testing.T) {
			c, err := circuits.Load(name)
			require.NoError(t, err)
			n, err := airflow.Compile(c)
			require.NoError(t, err)
			o := Options{Cases: 2, Seed: 5, Faults: 1}
			require.NoError(t, o.Check())
			w, err := newWorld(t.Context(), n, procedure.For(n), o)
			if len(procedure.For(n)) == 0 {
				require.ErrorContains(t, err, "no procedure")
				return
			}
			require.NoError(t, err)
			r, _ := play(t, w, func(s *subject) Reasoner { return told{w, s} })
			require.Equal(t, 1.0, r.Strategies[0].First)
		})
	}
}
