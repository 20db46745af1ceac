package drill

import (
	"context"

	"airpath/circuit"
	"airpath/trace"
)

// remembering is a guide that is asked about each case once. Marking asks about the same findings several times over: for the
// step, for what came before it, for the way from there on.
type remembering struct {
	guide    Guide
	verdicts map[string]*trace.Verdict // by the case as it is written
}

func remember(g Guide) Guide {
	if r, ok := g.(*remembering); ok {
		return r
	}
	return &remembering{g, map[string]*trace.Verdict{}}
}

// Trace implements Guide.
func (r *remembering) Trace(ctx context.Context, k *circuit.Case, progress func(done, total int)) (*trace.Verdict, error) {
	key := string(circuit.WriteCase(k))
	if v, ok := r.verdicts[key]; ok {
		return v, nil
	}
	v, err := r.guide.Trace(ctx, k, progress)
	if err == nil {
		r.verdicts[key] = v
	}
	return v, err
}
