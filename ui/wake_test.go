package ui

import (
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// A deafToolkit takes a call only between frames, and forgets those that come during one, as Gio does.
type deafToolkit struct {
	lock    sync.Mutex
	drawing bool
	frames  chan struct{}
}

func (d *deafToolkit) ask() {
	d.lock.Lock()
	defer d.lock.Unlock()
	if !d.drawing {
		select {
		case d.frames <- struct{}{}:
		default:
		}
	}
}

func (d *deafToolkit) draws(on bool) {
	d.lock.Lock()
	d.drawing = on
	d.lock.Unlock()
}

func TestACallDuringAFrameIsNotLost(t *testing.T) {
	d := &deafToolkit{frames: make(chan struct{}, 1)}
	b := newBell(d.ask)
	defer b.close()

	b.ring()
	<-d.frames
	d.draws(true)
	b.heard()
	b.ring() // what is new came after the frame had looked
	assert.Empty(t, d.frames, "the toolkit has forgotten the call")
	d.draws(false)

	select {
	case <-d.frames:
	case <-time.After(20 * time.Second):
		assert.Fail(t, "the frame that was asked for never came")
	}
}

func TestABellThatWasHeardIsQuiet(t *testing.T) {
	asked := make(chan struct{}, 100)
	b := newBell(func() { asked <- struct{}{} })
	b.ring()
	b.heard()
	time.Sleep(patience) // one that was on its way is through by now
	before := len(asked)
	time.Sleep(3 * patience)
	b.close()
	assert.Len(t, asked, before, "nothing is drawn while nothing happens")
}
