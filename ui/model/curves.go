package model

import (
	"context"
	"fmt"
	"sync"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// curveJob simulates the curves of one suspect in one test in the background.
type curveJob struct {
	wake func()

	mu     sync.Mutex
	want   string // what is being made or was made
	cancel context.CancelFunc
	busy   bool
	plot   *Plot
	fresh  bool
}

// WantCurves asks for the curves of a suspect, or of the healthy vehicle alone, in a test. Asking again for the same does
// nothing.
func (s *Session) WantCurves(x *Suspect, p *procedure.Procedure) {
	key := fmt.Sprintf("%s|%d", p.ID, s.revision)
	if x != nil {
		key += fmt.Sprintf("|%s|%g", x.Key, x.Mid)
	}
	s.curves.start(key, s.Engine, s.Case(), x, p)
}

// Curves are the newest ones, and whether newer ones are being made.
func (s *Session) Curves() (p *Plot, busy bool) {
	s.curves.mu.Lock()
	defer s.curves.mu.Unlock()
	return s.curves.plot, s.curves.busy
}

func (j *curveJob) start(key string, engine Engine, cs *circuit.Case, x *Suspect, p *procedure.Procedure) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if key == j.want {
		return
	}
	if j.cancel != nil {
		j.cancel()
	}
	ctx, cancel := context.WithCancel(context.Background())
	j.want, j.cancel, j.busy = key, cancel, true
	go func() {
		plot, err := engine.Curves(ctx, cs, x, p)
		j.mu.Lock()
		defer j.mu.Unlock()
		if key != j.want {
			return
		}
		j.busy, j.fresh = false, true
		switch {
		case ctx.Err() != nil:
			j.want = ""
		case err != nil:
			j.plot = &Plot{Title: p.Title, Failed: err.Error()}
		default:
			j.plot = plot
		}
		j.wake()
	}()
}

func (j *curveJob) stop() {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.cancel != nil {
		j.cancel()
	}
}

func (j *curveJob) collect() bool {
	j.mu.Lock()
	defer j.mu.Unlock()
	f := j.fresh
	j.fresh = false
	return f
}
