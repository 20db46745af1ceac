package score

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"airpath/circuit/airflow"
	"airpath/trace"
)

// Watch is told how a score goes. Each of its functions may be nil; they are called by one goroutine at a time.
type Watch struct {
	Progress  func(done, total int)            // vehicles
	Record    func(*Record) error              // of each vehicle, in order
	Tell      func(format string, args ...any) // every step, when one vehicle is played alone
	Preparing func(done, total int)            // the signature table
}

// Run scores the tracer on a vehicle. When ctx is cancelled it ends with the vehicles that have been played to their end, and the
// report says that it was cut short. What comes of a vehicle does not depend on the number of workers.
func Run(ctx context.Context, n *airflow.Network, o Options, watch Watch) (*Report, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	began := time.Now()
	tracer, err := trace.New(n, trace.Options{})
	if err != nil {
		return nil, err
	}
	if err := tracer.Prepare(ctx, watch.Preparing); err != nil {
		return nil, err
	}
	w, err := newWorld(ctx, n, tracer.Procedures(), o)
	if err != nil {
		return nil, err
	}
	shared := tracer.Share()
	r, err := w.score(ctx, func() func(*subject) Reasoner {
		own := shared()
		return func(*subject) Reasoner { return own }
	}, watch)
	if r != nil {
		r.Seconds = time.Since(began).Seconds()
	}
	return r, err
}

// score plays all vehicles. reasoners gives each worker its own.
func (w *world) score(ctx context.Context, reasoners func() func(*subject) Reasoner, watch Watch) (*Report, error) {
	o := w.options
	if o.Baselines > 0 {
		var err error
		if w.typical, err = w.effectsOf(ctx); err != nil {
			return nil, err
		}
	}
	first, count := 1, o.Cases
	if o.Only > 0 {
		first, count = o.Only, 1
	}
	records := make([]*Record, count)
	workers := o.Workers
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	inner, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var next atomic.Int64
	var reporting sync.Mutex
	written, done := 0, 0
	report := func(i int, r *Record) error {
		reporting.Lock()
		defer reporting.Unlock()
		records[i] = r
		done++
		if watch.Progress != nil {
			watch.Progress(done, len(records))
		}
		for ; written < len(records) && records[written] != nil; written++ {
			if watch.Record != nil {
				if err := watch.Record(records[written]); err != nil {
					return err
				}
				records[written].forget()
			}
		}
		return nil
	}
	var work sync.WaitGroup
	for range min(workers, len(records)) {
		k := w.worker(reasoners())
		k.filing = watch.Record != nil
		if watch.Tell != nil && o.Only > 0 {
			k.tell, k.telling = watch.Tell, true
		}
		work.Go(func() {
			for inner.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(records) {
					return
				}
				r, err := k.vehicle(inner, first+i)
				if err == nil {
					err = report(i, r)
				}
				if err != nil {
					cancel(fmt.Errorf("score: vehicle %d: %w", first+i, err))
					return
				}
			}
		})
	}
	work.Wait()
	if ctx.Err() == nil && inner.Err() != nil {
		return nil, context.Cause(inner)
	}
	cut := written < len(records)
	if cut {
		rest := slices.DeleteFunc(slices.Clone(records[written:]), func(r *Record) bool { return r == nil })
		for _, r := range rest {
			if watch.Record != nil {
				if err := watch.Record(r); err != nil {
					return nil, err
				}
			}
		}
		records = append(records[:written:written], rest...)
	}
	r := w.report(records)
	if w.typical != nil {
		r.Optimum = w.optimum(byTracer)
	}
	r.Cut = cut
	if len(records) == 0 {
		return r, errors.Join(errors.New("score: not one vehicle was played"), ctx.Err())
	}
	return r, nil
}
