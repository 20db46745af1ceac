package ui

import (
	"sync"
	"sync/atomic"
	"time"
)

// patience is how long a bell waits for a frame before it rings again.
const patience = 100 * time.Millisecond

// A bell asks the toolkit for a frame, and asks again until one has begun. Once would not do: Gio drops a call that falls into a
// frame which an earlier call brought about (app.Window clears mayInvalidate with the call, and sets it only when it has run out of
// events), and whoever waits to be looked at before it calls again, as a Live vehicle does, would then wait for good.
type bell struct {
	ask  func() // the toolkit's call; may get lost
	rung atomic.Uint64
	seen atomic.Uint64 // calls that the frame begun last has seen

	rouse chan struct{}
	end   chan struct{}
	once  sync.Once
}

func newBell(ask func()) *bell {
	b := &bell{ask: ask, rouse: make(chan struct{}, 1), end: make(chan struct{})}
	go b.insist()
	return b
}

// ring asks for a frame, from any goroutine; it never waits.
func (b *bell) ring() {
	b.rung.Add(1)
	b.ask()
	select {
	case b.rouse <- struct{}{}:
	default:
	}
}

// heard is called as a frame begins, before it looks at anything: what was called for until now will be in it.
func (b *bell) heard() { b.seen.Store(b.rung.Load()) }

// close ends the insisting; a call after it is made once, as the toolkit takes it.
func (b *bell) close() { b.once.Do(func() { close(b.end) }) }

func (b *bell) insist() {
	tick := time.NewTimer(patience)
	defer tick.Stop()
	for {
		select {
		case <-b.rouse:
		case <-b.end:
			return
		}
		for call := b.rung.Load(); b.seen.Load() < call; {
			tick.Reset(patience)
			select {
			case <-tick.C:
			case <-b.end:
				return
			}
			if b.seen.Load() < call {
				b.ask()
			}
		}
	}
}
