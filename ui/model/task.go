package model

import (
	"context"
	"sync"
)

// A Task is work in the background that yields one result. A newer one cancels an older one.
type Task[T any] struct {
	wake func()

	mu      sync.Mutex
	number  int
	cancel  context.CancelFunc
	running bool
	stopped bool
	done    int
	total   int
	stage   string
	result  T
	err     error
	fresh   bool
}

// NewTask makes one that has nothing to do yet. Wake is called, from another goroutine, whenever there is something new to show.
func NewTask[T any](wake func()) *Task[T] { return &Task[T]{wake: wake} }

// A Tell says how far a task is, and in which stage.
type Tell func(stage string, done, total int)

// Start begins the work, in place of what was being done.
func (t *Task[T]) Start(work func(ctx context.Context, tell Tell) (T, error)) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.cancel != nil {
		t.cancel()
	}
	ctx, cancel := context.WithCancel(context.Background())
	t.number++
	number := t.number
	t.cancel, t.running, t.stopped, t.done, t.total, t.stage, t.err, t.fresh = cancel, true, false, 0, 0, "", nil, false
	go func() {
		result, err := work(ctx, func(stage string, done, total int) {
			t.mu.Lock()
			news := number == t.number && (stage != t.stage || total > 0 && (100*done/total != 100*t.done/max(t.total, 1)))
			if number == t.number {
				t.stage, t.done, t.total = stage, done, total
			}
			t.mu.Unlock()
			if news {
				t.wake()
			}
		})
		t.mu.Lock()
		if number == t.number {
			t.running = false
			if ctx.Err() == nil {
				t.result, t.err, t.fresh = result, err, true
			}
		}
		t.mu.Unlock()
		cancel()
		t.wake()
	}()
}

// Stop cancels the work.
func (t *Task[T]) Stop() {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.cancel != nil {
		t.cancel()
	}
	t.stopped = t.stopped || t.running
}

// Collect takes in a result, once.
func (t *Task[T]) Collect() (result T, ok bool, err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if !t.fresh {
		return result, false, nil
	}
	t.fresh = false
	return t.result, true, t.err
}

// Working says how far it is, and in which stage.
func (t *Task[T]) Working() (p Progress, stage string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	return Progress{Running: t.running, Done: t.done, Total: t.total, Stopped: t.stopped, Err: t.err}, t.stage
}
