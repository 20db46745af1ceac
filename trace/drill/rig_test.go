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
}

var gritter = sync.OnceValues(func() (bay, error) {
	c, err := circuits.Load("gritter")
	if err != nil {
		return bay{}, err
	}
	n, err := airflow.Compile(c)
	if err != nil {
		return bay{}, err
	}
	t, err := trace.New(n, trace.Options{})
	return bay{n, t}, err
})

func gritterBay(t testing.TB) bay {
	t.Helper()
	b, err := gritter()
	require.NoError(t, err)
	return b
}

func fault(t testing.TB, b bay, text string) airflow.Fault {
	t.Helper()
	f, err := airflow.ParseFault(b.network.Circuit(), text)
	require.NoError(t, err)
	return f
}

// governor exercise: the compressor is cut out too early.
func made(t testing.TB, b bay, s Setting) (*Exercise, *Key) {
	t.Helper()
	e, k, err := New(context.Background(), b.network, b.tracer, s, nil)
	require.NoError(t, err)
	return e, k
}
