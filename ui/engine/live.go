package engine

import (
	"sync"
	"sync/atomic"
	"time"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// A Live vehicle is worked on a goroutine of its own: what is to be done goes in, frames come out, and the window never
// waits.
type Live struct {
	wake func()

	lock  sync.Mutex
	todo  []func(*Worked)
	shut  bool
	rouse chan struct{}
	done  chan struct{}

	frame atomic.Pointer[Frame]
	taken atomic.Uint64 // the last frame that the window has looked at
}

// NewLive makes a vehicle ready and starts it. Wake is called, from another goroutine, whenever there is a new frame.
func NewLive(c *circuit.Circuit, wake func()) *Live {
	l := &Live{wake: wake, rouse: make(chan struct{}, 1), done: make(chan struct{})}
	go l.run(c)
	return l
}

// Frame is the latest one; nil until the vehicle has been made ready.
func (l *Live) Frame() *Frame {
	f := l.frame.Load()
	if f != nil {
		l.taken.Store(f.Seq)
	}
	return f
}

// Do something to the vehicle, soon.
func (l *Live) Do(deed func(*Worked)) {
	l.lock.Lock()
	l.todo = append(l.todo, deed)
	l.lock.Unlock()
	select {
	case l.rouse <- struct{}{}:
	default:
	}
}

// Close ends the goroutine and waits for it.
func (l *Live) Close() {
	l.lock.Lock()
	l.shut = true
	l.lock.Unlock()
	select {
	case l.rouse <- struct{}{}:
	default:
	}
	<-l.done
}

// Frames come this often while time runs; a window that can't follow gets fewer.
const frameTime = 33 * time.Millisecond

// The most of the clock's time that is made up for at once: a machine that was asleep does not catch up.
const mostMadeUp = 100 * time.Millisecond

func (l *Live) run(c *circuit.Circuit) {
	defer close(l.done)
	w, err := ready(c)
	if err != nil {
		l.publish(&Frame{Seq: 1, Trouble: "This vehicle can't be worked: " + err.Error()})
		for !l.ended() {
			<-l.rouse
		}
		return
	}
	l.publish(w.Frame())
	last := time.Now()
	p := pacer{}
	for {
		did, ended := l.carryOut(w)
		if ended {
			return
		}
		now := time.Now()
		if w.playing {
			real := min(now.Sub(last), mostMadeUp)
			if real > 0 {
				did = w.Advance(w.pace*real.Seconds(), now.Add(frameTime)) > 0 || did
				w.actual = p.keep(now.Sub(last), w.now.Time())
			}
		} else {
			p = pacer{}
			w.actual = 0
		}
		last = now
		if f := l.frame.Load(); did && (f == nil || l.taken.Load() >= f.Seq || !w.playing) {
			l.publish(w.Frame())
		}
		l.wait(w.playing, now)
	}
}

func ready(c *circuit.Circuit) (*Worked, error) {
	n, err := airflow.Compile(c)
	if err != nil {
		return nil, err
	}
	return NewWorked(n)
}

// wait for the next frame, or for something to do.
func (l *Live) wait(playing bool, since time.Time) {
	if !playing {
		<-l.rouse
		return
	}
	rest := frameTime - time.Since(since)
	if rest < time.Millisecond {
		rest = time.Millisecond // others want to work too
	}
	t := time.NewTimer(rest)
	defer t.Stop()
	select {
	case <-t.C:
	case <-l.rouse:
	}
}

// carryOut does what has been asked for.
func (l *Live) carryOut(w *Worked) (did, ended bool) {
	l.lock.Lock()
	todo := l.todo
	l.todo, ended = nil, l.shut
	l.lock.Unlock()
	for _, deed := range todo {
		deed(w)
	}
	return len(todo) > 0, ended
}

func (l *Live) ended() bool {
	l.lock.Lock()
	defer l.lock.Unlock()
	return l.shut
}

func (l *Live) publish(f *Frame) {
	l.frame.Store(f)
	l.wake()
}

// A pacer measures the pace that is kept, over about a second.
type pacer struct {
	real, at float64
	pace     float64
	begun    bool
}

func (p *pacer) keep(real time.Duration, at float64) float64 {
	if !p.begun {
		p.begun, p.at = true, at
		return 0
	}
	p.real += real.Seconds()
	if p.real >= 0.5 {
		p.pace = (at - p.at) / p.real
		p.real, p.at = 0, at
	}
	return p.pace
}
