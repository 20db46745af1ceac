package drill

import (
	"context"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow"
	"airpath/circuits"
	"airpath/trace"
)

// A bay is a vehicle with its tracer, made once for all tests.
type bay struct {
	network *airflow.Network
	tracer  *trace.Tracer
	guide   Guide // the tracer, asked about each case once in all tests together
}

// board is the smallest vehicle of the library: what is tested here are exercises, not vehicles.
var board = sync.OnceValues(func() (bay, error) {
	c, err := circuits.Load("bench_board")
	if err != nil {
		return bay{}, err
	}
	n, err := airflow.Compile(c)
	if err != nil {
		return bay{}, err
	}
	t, err := trace.New(n, trace.Options{})
	return bay{n, t, remember(t)}, err
})

func boardBay(t testing.TB) bay {
	t.Helper()
	b, err := board()
	require.NoError(t, err)
	return b
}

func fault(t testing.TB, b bay, text string) airflow.Fault {
	t.Helper()
	f, err := airflow.ParseFault(b.network.Circuit(), text)
	require.NoError(t, err)
	return f
}

// made is an exercise with its key.
func made(t testing.TB, b bay, s Setting) (*Exercise, *Key) {
	t.Helper()
	e, k, err := New(context.Background(), b.network, b.guide, s, nil)
	require.NoError(t, err)
	return e, k
}
