package model

import (
	"context"
	"sync"
	"time"

	"airpath/circuit"
)

// job asks the engine in the background. A newer question cancels an older one.
type job struct {
	wake func()

	mu       sync.Mutex
	number   int // of the newest question
	cancel   context.CancelFunc
	running  bool
	done     int
	total    int
	told     time.Time
	ready    *Answer
	failure  error
	fresh    bool // ready or failure has not been collected
	answered *Answer
	stopped  bool // by the person
	early    bool // the newest question's early answer is ready, or has been collected
	trouble  error
}

// Progress is how far the background work is.
type Progress struct {
	Running     bool
	Done, Total int
	Early       bool  // the answer shown is that of the present findings as far as it is known
	Stopped     bool  // the person cancelled it; the answer shown is older than the findings, unless it is an early one
	Err         error // the engine failed
}

func (j *job) start(engine Engine, cs *circuit.Case, u Units) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.cancel != nil {
		j.cancel()
	}
	ctx, cancel := context.WithCancel(context.Background())
	j.number++
	j.cancel, j.running, j.done, j.total, j.stopped, j.early, j.trouble = cancel, true, 0, 0, false, false, nil
	go j.run(ctx, j.number, engine, cs, u)
}

func (j *job) run(ctx context.Context, number int, engine Engine, cs *circuit.Case, u Units) {
	var answer *Answer
	var err error
	progress := func(done, total int) { j.progress(number, done, total) }
	if early, ok := engine.(EarlyEngine); ok {
		answer, err = early.AskInParts(ctx, cs, u, func(a *Answer) { j.first(number, a) }, progress)
	} else {
		answer, err = engine.Ask(ctx, cs, u, progress)
	}
	j.mu.Lock()
	if number != j.number {
		j.mu.Unlock()
		return
	}
	j.running, j.fresh = false, true
	switch {
	case ctx.Err() == nil:
		j.ready, j.failure = answer, err
	case !j.early: // else the early answer, if it has not been collected yet, is there to stay
		j.ready, j.failure = nil, nil
	}
	j.mu.Unlock()
	j.wake()
}

// first takes an early answer in.
func (j *job) first(number int, a *Answer) {
	j.mu.Lock()
	if number != j.number {
		j.mu.Unlock()
		return
	}
	j.ready, j.failure, j.fresh, j.early = a, nil, true, true
	j.mu.Unlock()
	j.wake()
}

// progress wakes the window at most ten times a second.
func (j *job) progress(number, done, total int) {
	j.mu.Lock()
	if number != j.number {
		j.mu.Unlock()
		return
	}
	j.done, j.total = done, total
	now := time.Now()
	wake := now.Sub(j.told) > 100*time.Millisecond
	if wake {
		j.told = now
	}
	j.mu.Unlock()
	if wake {
		j.wake()
	}
}

func (j *job) stop() {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.cancel != nil {
		j.cancel()
	}
	if j.running {
		j.stopped = true
	}
}

func (j *job) collect() bool {
	j.mu.Lock()
	defer j.mu.Unlock()
	if !j.fresh {
		return false
	}
	j.fresh = false
	if j.failure != nil {
		j.trouble = j.failure
	} else if j.ready != nil {
		j.answered = j.ready
	}
	j.ready, j.failure = nil, nil
	return true
}

// Collect takes in what the background work has finished; the window calls it once a frame. It reports whether anything
// is new.
func (s *Session) Collect() bool {
	a, b, c := s.job.collect(), s.curves.collect(), s.aside.collect()
	return a || b || c
}

// Answer is the newest answer; current is false while it belongs to an earlier state of the case.
func (s *Session) Answer() (a *Answer, current bool) {
	s.job.mu.Lock()
	defer s.job.mu.Unlock()
	return s.job.answered, s.job.answered != nil && !s.job.running && !s.job.stopped && s.job.trouble == nil
}

// Working says how far the background work is.
func (s *Session) Working() Progress {
	s.job.mu.Lock()
	defer s.job.mu.Unlock()
	return Progress{Running: s.job.running, Done: s.job.done, Total: s.job.total, Early: s.job.early, Stopped: s.job.stopped, Err: s.job.trouble}
}

// StopWorking cancels the background work; AskAgain begins it anew.
func (s *Session) StopWorking() { s.job.stop() }

// AskAgain asks the engine once more about the present case.
func (s *Session) AskAgain() { s.job.start(s.Engine, s.Case(), s.units) }
