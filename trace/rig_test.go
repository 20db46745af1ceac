package trace

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuits"
)

// gritter is one tracer for all tests of the library's truck: what one has simulated the next need not.
var gritter = sync.OnceValues(func() (*Tracer, error) {
	c, err := circuits.Load("gritter")
	if err != nil {
		return nil, err
	}
	n, err := airflow.Compile(c)
	if err != nil {
		return nil, err
	}
	return New(n, Options{})
})

func gritterTracer(t testing.TB) *Tracer {
	t.Helper()
	tracer, err := gritter()
	require.NoError(t, err)
	return tracer
}

// loadCase reads a case file of testdata and holds it against the truck.
func loadCase(t testing.TB, name string) *circuit.Case {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", name+".toml"))
	require.NoError(t, err)
	k, err := circuit.ReadCase(name+".toml", text)
	require.NoError(t, err)
	return k
}

func traceCase(t testing.TB, name string) *Verdict {
	t.Helper()
	v, err := gritterTracer(t).Trace(context.Background(), loadCase(t, name), nil)
	require.NoError(t, err)
	return v
}

// id of a fault without its severity.
func id(f airflow.Fault) string { return f.Target + "/" + f.Mode }

// suspectAt finds a suspect and its rank, from 0.
func suspectAt(t testing.TB, v *Verdict, fault string) (Suspect, int) {
	t.Helper()
	for i, s := range v.Suspects {
		if id(s.Fault) == fault {
			return s, i
		}
	}
	require.Fail(t, "no suspect "+fault)
	return Suspect{}, 0
}

func ranking(v *Verdict) []string {
	var out []string
	for _, s := range v.Suspects {
		out = append(out, id(s.Fault))
	}
	return out
}

func clearedOf(v *Verdict) map[string]Cleared {
	out := map[string]Cleared{}
	for _, c := range v.Cleared {
		out[id(c.Fault)] = c
	}
	return out
}

// bits of values, so that NaN equals NaN and nothing is close enough.
func bits(values []float64) []uint64 {
	out := make([]uint64, len(values))
	for i, v := range values {
		out[i] = math.Float64bits(v)
	}
	return out
}

// notTheCause tells whether a fault is cleared, or at least of having given what was found by itself.
func notTheCause(v *Verdict, fault string) bool {
	for _, s := range v.Suspects {
		if id(s.Fault) == fault {
			return s.Beside
		}
	}
	_, cleared := clearedOf(v)[fault]
	return cleared
}
