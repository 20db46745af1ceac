package drill

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow"
	"airpath/circuits"
	"airpath/trace"
)

// The library's exercises are made from their definitions, here: go generate ./circuits writes them, and the test holds that
// what is in the library is still what the definitions make.

var update = flag.Bool("update", false, "write the library's exercises and golden files anew")

const libraryFolder = "../../circuits/drills"

// A definition is one exercise of the library as it is written down.
type definition struct {
	Name      string
	Title     string
	Circuit   string
	Level     string
	Complaint string
	Faults    []string
	Allowed   []string
	Minutes   map[string]float64
	Hints     bool
	Seed      uint64
	Notes     string
}

func definitions(t testing.TB) []definition {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(libraryFolder, "definitions.toml"))
	require.NoError(t, err)
	var file struct{ Exercise []definition }
	d := toml.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(&file))
	return file.Exercise
}

// bays of the library's vehicles, each made once for all tests.
var bays struct {
	sync.Mutex
	of map[string]bay
}

func bayOf(t testing.TB, vehicle string) bay {
	t.Helper()
	if vehicle == "bench_board" {
		return boardBay(t)
	}
	bays.Lock()
	defer bays.Unlock()
	if b, ok := bays.of[vehicle]; ok {
		return b
	}
	c, err := circuits.Load(vehicle)
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	tracer, err := trace.New(n, trace.Options{})
	require.NoError(t, err)
	if bays.of == nil {
		bays.of = map[string]bay{}
	}
	bays.of[vehicle] = bay{n, tracer, remember(tracer)}
	return bays.of[vehicle]
}

func (d *definition) setting(t testing.TB, b bay) Setting {
	s := Setting{
		Title: d.Title, Circuit: d.Circuit, Complaint: d.Complaint, Allowed: d.Allowed, Minutes: d.Minutes, Hints: d.Hints,
		Seed: d.Seed, Notes: d.Notes,
	}
	for _, f := range d.Faults {
		s.Faults = append(s.Faults, fault(t, b, f))
	}
	return s
}

// made for all tests: each exercise of the library with its key, as its definition makes them.
var libraryMade struct {
	sync.Mutex
	of map[string]*lesson
}

type lesson struct {
	bay      bay
	exercise *Exercise
	key      *Key
}

func (d *definition) make(t testing.TB) *lesson {
	t.Helper()
	b := bayOf(t, d.Circuit)
	libraryMade.Lock()
	defer libraryMade.Unlock()
	if l, ok := libraryMade.of[d.Name]; ok {
		return l
	}
	e, k := made(t, b, d.setting(t, b))
	if libraryMade.of == nil {
		libraryMade.of = map[string]*lesson{}
	}
	libraryMade.of[d.Name] = &lesson{b, e, k}
	return libraryMade.of[d.Name]
}

func TestLibraryExercisesAreMadeOfTheirDefinitions(t *testing.T) {
	var names []string
	for _, d := range definitions(t) {
		names = append(names, d.Name)
		t.Run(d.Name, func(t *testing.T) {
			l := d.make(t)
			exercise := filepath.Join(libraryFolder, d.Name+".exercise.json")
			key := filepath.Join(libraryFolder, "keys", d.Name+".key.json")
			if *update {
				require.NoError(t, os.WriteFile(exercise, l.exercise.Write(), 0o644))
				require.NoError(t, os.MkdirAll(filepath.Dir(key), 0o755))
				require.NoError(t, os.WriteFile(key, l.key.Write(), 0o644))
			}
			text, err := os.ReadFile(exercise)
			require.NoError(t, err)
			e, err := ReadExercise(exercise, text)
			require.NoError(t, err)
			assert.Equal(t, text, e.Write(), "%s: written by this program", exercise)
			require.NoError(t, e.Fits(l.bay.network.Circuit(), l.bay.tracer.Procedures()))
			holdExercise(t, exercise, e, l.exercise)
			text, err = os.ReadFile(key)
			require.NoError(t, err)
			k, err := ReadKey(key, text)
			require.NoError(t, err)
			require.NoError(t, k.Fits(e, l.bay.network.Circuit()))
			holdKey(t, key, k, l.key, d.Level)
		})
	}
	assert.True(t, slices.IsSorted(names), "the library lists its exercises by name, the easiest first")
	if !*update {
		assert.Equal(t, names, circuits.Drills())
	}
}

// holdExercise against what would be made now: equal but for the last digits of figures, since the solver's steps are tuned and
// processors round differently.
func holdExercise(t *testing.T, name string, have, now *Exercise) {
	nearly := *have
	nearly.Allowed = slices.Clone(have.Allowed)
	for i := range nearly.Allowed {
		if i >= len(now.Allowed) || len(nearly.Allowed[i].Results) != len(now.Allowed[i].Results) {
			break // told below
		}
		nearly.Allowed[i].Results = slices.Clone(have.Allowed[i].Results)
		for j := range nearly.Allowed[i].Results {
			r, fresh := &nearly.Allowed[i].Results[j], now.Allowed[i].Results[j].Result
			if near(r.Result, fresh) {
				r.Result = fresh
			}
		}
	}
	assert.Equal(t, now, &nearly, "%s is stale: run go generate ./circuits", name)
}

// near tells whether two results are one but for two steps of the last digit, or 2 %.
func near(a, b string) bool {
	x, unitA, _ := strings.Cut(a, " ")
	y, unitB, _ := strings.Cut(b, " ")
	p, err1 := strconv.ParseFloat(x, 64)
	q, err2 := strconv.ParseFloat(y, 64)
	if err1 != nil || err2 != nil || unitA != unitB {
		return a == b
	}
	_, decimals, _ := strings.Cut(x, ".")
	return math.Abs(p-q) <= max(2.5*math.Pow(10, -float64(len(decimals))), 0.02*math.Abs(p))
}

// holdKey against what would be made now. The answer is what it was, to the letter. The tracer's way follows the tracer, whose
// words and priors are tuned, so there some play is left before the file counts as stale.
func holdKey(t *testing.T, name string, k, now *Key, level string) {
	assert.Equal(t, level, k.Difficulty.Level, "%s: the level that its definition wants", name)
	nearly := *k
	nearly.Exercise, nearly.Best, nearly.Cost, nearly.Difficulty = now.Exercise, now.Best, now.Cost, now.Difficulty
	assert.Equal(t, now, &nearly, "%s is stale: run go generate ./circuits", name)
	assert.InDelta(t, slices.Index(Levels, now.Difficulty.Level), slices.Index(Levels, level), 1, "%s: its level is %s by now; run go generate ./circuits", name, now.Difficulty.Level)
	assert.InEpsilon(t, now.Cost, k.Cost, 0.5, "%s: the tracer's way takes %.0f minutes by now; run go generate ./circuits", name, now.Cost)
}
