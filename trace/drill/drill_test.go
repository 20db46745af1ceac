package drill

import (
	"context"
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

func deadLamp(t testing.TB, b bay) Setting {
	return Setting{
		Title: "A lamp that stays dark", Circuit: "bench_board", Complaint: "low pressure lamp does not come on", Seed: 7,
		Faults: []airflow.Fault{fault(t, b, "low_lamp/dead")},
	}
}

func TestEqualReadingsMakeEqualFiles(t *testing.T) {
	// A dead lamp and a broken wire to it are one to whoever looks at the lamp.
	b := boardBay(t)
	s := deadLamp(t, b)
	lamp, err := observe(context.Background(), b.network, s, nil)
	require.NoError(t, err)
	s.Faults = []airflow.Fault{fault(t, b, "low_wire/open")}
	wire, err := observe(context.Background(), b.network, s, nil)
	require.NoError(t, err)
	assert.Equal(t, string(lamp.Write()), string(wire.Write()))
	assert.Equal(t, lamp.Seal(), wire.Seal())

	s.Faults = []airflow.Fault{fault(t, b, "low_switch/stuck off")}
	other, err := observe(context.Background(), b.network, s, nil)
	require.NoError(t, err)
	assert.NotEqual(t, string(lamp.Write()), string(other.Write()), "the bridged plug lights the lamp")
	for _, word := range []string{"stuck off", "severity", "seed", "fault"} {
		assert.NotContains(t, strings.ToLower(string(other.Write())), word)
	}
}

func TestWhateverIsNotedCanBeRead(t *testing.T) {
	// Every fault of the board, at its worst, through what is read off most: no result may be such that a case can't hold it.
	b := boardBay(t)
	for i, f := range airflow.Catalogue(b.network.Circuit()) {
		if i%12 != 0 { // a dozen of them, of every sort
			continue
		}
		m, err := airflow.ModeOf(b.network.Circuit(), f)
		require.NoError(t, err)
		f.Severity = m.Severity.Severe
		s := deadLamp(t, b)
		s.Faults, s.Seed, s.Allowed = []airflow.Fault{f}, uint64(i), []string{"drain-yield", "cab-check", "governor-cut-out", "intake-restriction", "drive-check"}
		e, err := observe(context.Background(), b.network, s, nil)
		require.NoError(t, err)
		_, err = ReadExercise("e", e.Write())
		require.NoError(t, err, f.String())
		require.NoError(t, e.Fits(b.network.Circuit(), b.tracer.Procedures()))
	}
}

func TestFilesSurviveTheirWayThere(t *testing.T) {
	b := boardBay(t)
	e, k := made(t, b, deadLamp(t, b))
	again, err := ReadExercise("e", e.Write())
	require.NoError(t, err)
	assert.Equal(t, e, again)
	require.NoError(t, again.Fits(b.network.Circuit(), b.tracer.Procedures()))
	key, err := ReadKey("k", k.Write())
	require.NoError(t, err)
	assert.Equal(t, k, key)
	require.NoError(t, key.Fits(again, b.network.Circuit()))

	a := Begin(e, "A. Prentice")
	require.NoError(t, a.Prepare("chock"))
	_, err = a.Do("low-pressure-warning")
	require.NoError(t, err)
	a.Name(Named{Part: "low_lamp", Mode: "dead", Repair: "new bulb"})
	w, err := ReadWork("w", a.HandIn().Write())
	require.NoError(t, err)
	assert.Equal(t, a.HandIn(), w)
	require.NoError(t, w.Fits(e))
	resumed, err := Resume(e, w)
	require.NoError(t, err)
	assert.Equal(t, a.Steps(), resumed.Steps())
}

func TestWorkIsSealedToItsExercise(t *testing.T) {
	b := boardBay(t)
	s := deadLamp(t, b)
	s.Allowed = []string{"low-pressure-warning"}
	e, _ := made(t, b, s)
	w := Begin(e, "A. Prentice").HandIn()

	_, err := ReadWork("w.json", []byte(strings.Replace(string(w.Write()), "A. Prentice", "B. Copier", 1)))
	assert.ErrorContains(t, err, "w.json: the seal does not fit")

	s.Complaint = "loses air"
	other, _ := made(t, b, s)
	assert.ErrorContains(t, w.Fits(other), "another exercise")
	_, err = Mark(context.Background(), b.guide, b.tracer.Procedures(), other, &Key{}, w, nil)
	assert.ErrorContains(t, err, "another exercise")
}

func TestBadFilesAreRefusedWithTheirPlace(t *testing.T) {
	for name, c := range map[string]struct{ text, says string }{
		"unknown key":   {"{\"airpath_exercise\": 1,\n \"tittle\": \"x\"}", `x:2:2: unknown key "tittle"`},
		"not JSON":      {"{\"airpath_exercise\": 1,\n oops}", "x:2:2: invalid character"},
		"cut off":       {"{\"airpath_exercise\": 1", "ends too early for an exercise"},
		"other kind":    {`{"airpath_key": 1}`, "this is an instructor's key, and an exercise is wanted"},
		"other version": {`{"airpath_exercise": 2, "circuit": "gritter"}`, "this program reads version 1"},
		"no lead":       {`{"circuit": "gritter"}`, `no "airpath_exercise" leads the file`},
		"more":          {`{"airpath_exercise": 1, "circuit": "gritter"} {}`, "something follows the end"},
		"wrong type":    {`{"airpath_exercise": 1, "parts": "one"}`, `"parts" is a string here`},
		"no circuit":    {`{"airpath_exercise": 1}`, `"circuit" is missing`},
		"no procedure":  {`{"airpath_exercise": 1, "circuit": "gritter", "parts": 1}`, `"allowed" is empty`},
		"no result":     {`{"airpath_exercise": 1, "circuit": "gritter", "parts": 1, "allowed": [{"procedure": "p", "set_up": 1, "minutes": 1, "results": [{"reading": "time", "result": "soon"}]}]}`, `"soon" is no result`},
		"no minutes":    {`{"airpath_exercise": 1, "circuit": "gritter", "parts": 1, "allowed": [{"procedure": "p", "set_up": 0, "minutes": 0, "results": []}]}`, "want minutes"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ReadExercise("x", []byte(c.text))
			assert.ErrorContains(t, err, c.says)
		})
	}
}

func FuzzReadExercise(f *testing.F) {
	f.Add([]byte(`{"airpath_exercise": 1, "circuit": "gritter", "parts": 1, "allowed": [{"procedure": "p", "set_up": 1, "minutes": 1, "results": []}]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		e, err := ReadExercise("x", text)
		if err != nil {
			return
		}
		again, err := ReadExercise("x", e.Write())
		require.NoError(t, err)
		assert.Equal(t, e.Seal(), again.Seal())
	})
}

func FuzzReadWork(f *testing.F) {
	f.Add([]byte(`{"airpath_work": 1, "exercise": "", "trainee": "x", "steps": [{"clear": "tank"}], "seal": ""}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		w, err := ReadWork("x", text)
		if err != nil {
			return
		}
		_, err = ReadWork("x", w.Write())
		require.NoError(t, err)
	})
}

func FuzzReadKey(f *testing.F) {
	f.Add([]byte(`{"airpath_key": 1, "faults": [{"component": "tank", "mode": "m", "severity": 1}]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		k, err := ReadKey("x", text)
		if err != nil {
			return
		}
		_, err = ReadKey("x", k.Write())
		require.NoError(t, err)
	})
}

// exercises for marking, of several sorts.
func exercises(t testing.TB, b bay) []Setting {
	var out []Setting
	for i, x := range []struct{ fault, complaint string }{
		{"low_lamp/dead", "low pressure lamp does not come on"},
		{"governor/cut-out low", "cuts out too low"},
		{"compressor/worn", "builds air slowly"},
	} {
		out = append(out, Setting{
			Title: x.fault, Circuit: "bench_board", Complaint: x.complaint, Seed: uint64(i), Faults: []airflow.Fault{fault(t, b, x.fault)},
			Allowed: []string{"build-up-85-100", "governor-cut-out", "governor-cut-in", "low-pressure-warning", "switch-unplugged", "intake-restriction", "drive-check"},
		})
	}
	return out
}

// prepareAll does every preparation, in a seemly order.
func prepareAll(t testing.TB, a *Attempt) {
	for _, p := range procedure.Preparations() {
		require.NoError(t, a.Prepare(p.ID))
	}
}

func TestTheTracersOwnWayScoresFull(t *testing.T) {
	b := boardBay(t)
	for _, s := range exercises(t, b) {
		e, k := made(t, b, s)
		a := Begin(e, "tracer")
		for _, step := range k.Best {
			prepareAll(t, a) // bleeding down included, since charging uses it up
			_, err := a.Do(step.Procedure, step.Places...)
			require.NoError(t, err)
		}
		w, err := onward(context.Background(), b.guide, e, k, a.Steps())
		require.NoError(t, err)
		require.Empty(t, w.taken, "the way goes on after its end")
		for _, wrong := range w.fitted {
			a.Fit(Named{Part: wrong.Target, Mode: wrong.Mode})
		}
		a.Name(Named{Part: k.Faults[0].Component, Mode: k.Faults[0].Mode})
		m := mark(t, b, e, k, a)
		assert.InDelta(t, 100, m.Score, 1e-9, s.Title)
		assert.Equal(t, 1, m.Right)
		assert.Equal(t, 1, m.RightModes)
		assert.Empty(t, m.Unsafe)
		assert.InDelta(t, m.BestBits, m.Bits, 1e-9)
	}
}

func mark(t testing.TB, b bay, e *Exercise, k *Key, a *Attempt) *Marks {
	t.Helper()
	m, err := Mark(context.Background(), b.guide, b.tracer.Procedures(), e, k, a.HandIn(), nil)
	require.NoError(t, err)
	return m
}

func TestAnUnsafeOrderIsFlagged(t *testing.T) {
	b := boardBay(t)
	e, k := made(t, b, deadLamp(t, b))
	a := Begin(e, "hasty")
	_, err := a.Do("build-up-85-100")
	require.NoError(t, err)
	require.NoError(t, a.Prepare("chock")) // too late
	m := mark(t, b, e, k, a)
	require.Len(t, m.Unsafe, 1)
	assert.Contains(t, m.Unsafe[0], "Chock the wheels")
	assert.Contains(t, m.Unsafe[0], "eye and ear protection")
	assert.Contains(t, m.Review[0].Unsafe, "Chock the wheels")
}

func TestBleedingDownIsUsedUpByCharging(t *testing.T) {
	var undone, charging string
	b := boardBay(t)
	for _, p := range b.tracer.Procedures() {
		for _, q := range p.Preparations() {
			if q.ID == "bleed" && undone == "" {
				undone = p.ID
			}
		}
		if p.Charges() && charging == "" {
			charging = p.ID
		}
	}
	require.NotEmpty(t, undone)
	require.NotEmpty(t, charging)
	e, k := made(t, b, deadLamp(t, b))
	a := Begin(e, "x")
	prepareAll(t, a)
	for _, id := range []string{charging, undone} {
		_, err := a.Do(id)
		require.NoError(t, err)
	}
	m := mark(t, b, e, k, a)
	require.Len(t, m.Unsafe, 1)
	assert.Contains(t, m.Unsafe[0], "Bleed the whole system down")
}

func TestWrongPartsAndWrongClearingsCost(t *testing.T) {
	b := boardBay(t)
	e, k := made(t, b, deadLamp(t, b))
	a := Begin(e, "guess")
	a.Clear("low_lamp")
	a.Clear("drain_wet")
	a.Doubt("drain_wet")
	a.Clear("governor")
	a.Fit(Named{Part: "compressor", Mode: "worn"})
	a.Name(Named{Part: "wet", Mode: "leaking"})
	m := mark(t, b, e, k, a)
	assert.Equal(t, 2, m.GoodParts)
	assert.Positive(t, m.Fitted)
	assert.Positive(t, m.ToFinish)
	assert.Equal(t, 1, m.WrongClears)
	assert.Equal(t, 2, m.Clears)
	assert.Zero(t, m.BackedClears, "nothing was found yet that could bear anything out")
	assert.Less(t, m.Score, 50.0)
	assert.Equal(t, "Wrong: this is a part at fault.", m.Review[0].Says)
}

// The class's result as an instructor opens it, from real works: one that found it, one that gave up, one that was lucky.
func TestClassResultIsOneRowAWork(t *testing.T) {
	b := boardBay(t)
	s := exercises(t, b)[1]
	e, k := made(t, b, s)
	found := Begin(e, "C. Careful")
	prepareAll(t, found)
	for _, id := range []string{"governor-cut-out", "governor-cut-in"} {
		_, err := found.Do(id)
		require.NoError(t, err)
	}
	found.Clear("compressor")
	found.Name(Named{Part: "governor", Mode: "cut-out low"})
	lost := Begin(e, "B. Lost")
	_, err := lost.Do("drive-check")
	require.NoError(t, err)
	lost.Clear("governor")
	lucky := Begin(e, "A. Lucky")
	lucky.Fit(Named{Part: "compressor", Mode: "worn"})
	lucky.Name(Named{Part: "governor", Mode: "cut-out high"})
	var out strings.Builder
	require.NoError(t, WriteClass(&out, []*Marks{mark(t, b, e, k, found), mark(t, b, e, k, lost), mark(t, b, e, k, lucky)}))
	if *update {
		require.NoError(t, os.WriteFile("testdata/class.csv", []byte(out.String()), 0o644))
	}
	golden, err := os.ReadFile("testdata/class.csv")
	require.NoError(t, err)
	want, have := cells(t, string(golden)), cells(t, out.String())
	require.Len(t, have, len(want))
	for i := range want {
		for j := range want[i] {
			// The minutes and bits of the tracer's way follow the tracer, which is tuned.
			assert.True(t, near(want[i][j], have[i][j]), "row %d, %s: %q, was %q; go test ./trace/drill -run Class -update writes it anew", i, want[0][j], have[i][j], want[i][j])
		}
	}
}

func cells(t *testing.T, text string) [][]string {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	return rows
}

func TestNamesAreNoFormulas(t *testing.T) {
	var out strings.Builder
	require.NoError(t, WriteClass(&out, []*Marks{{Trainee: "=1+1", Title: "@sum"}, {Trainee: "-x", Title: "+1"}, {Trainee: "A. Prentice", Title: "a - b"}}))
	rows, err := csv.NewReader(strings.NewReader(out.String())).ReadAll()
	require.NoError(t, err)
	var names [][]string
	for _, row := range rows[1:] {
		names = append(names, row[:2])
	}
	assert.ElementsMatch(t, [][]string{{"'=1+1", "'@sum"}, {"'-x", "'+1"}, {"A. Prentice", "a - b"}}, names)
}
