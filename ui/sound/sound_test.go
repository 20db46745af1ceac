package sound

import (
	"bytes"
	"errors"
	"io"
	"math"
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// level is the root of the mean square of half a second, after it has settled.
func level(air Air) float64 {
	var h hiss
	out := make([]int16, Rate)
	h.fill(out, air)
	sum := 0.0
	for _, v := range out[Rate/2:] {
		sum += float64(v) * float64(v)
	}
	return math.Sqrt(sum/(Rate/2)) / 32767
}

// Hearing goes by the logarithm: each tenfold flow is louder by about as much, nothing is silence, and the loudest stays far from
// full scale.
func TestMoreAirIsLouder(t *testing.T) {
	assert.Zero(t, level(Air{}))
	assert.Zero(t, level(Air{Leak: quietest / 2}))
	last := 0.0
	for flow := 2 * quietest; flow < 0.2; flow *= 10 {
		leak, exhaust := level(Air{Leak: flow}), level(Air{Exhaust: flow})
		assert.Greater(t, leak, last)
		assert.Positive(t, exhaust)
		last = leak
	}
	assert.Less(t, level(Air{Exhaust: 10, Leak: 10}), 0.4)
}

// A leak is brighter than an exhaust: it goes through zero more often.
func TestALeakIsBrighter(t *testing.T) {
	crossings := func(air Air) (n int) {
		var h hiss
		out := make([]int16, Rate)
		h.fill(out, air)
		for i := range out[1:] {
			if (out[i] < 0) != (out[i+1] < 0) {
				n++
			}
		}
		return n
	}
	assert.Greater(t, crossings(Air{Leak: 1e-3}), crossings(Air{Exhaust: 1e-3})*5/4)
}

// It begins and ends without a click: no sample is far louder than the ones before have come to be.
func TestItSwellsAndFades(t *testing.T) {
	var h hiss
	out := make([]int16, piece)
	h.fill(out[:20], Air{Leak: 1})
	for _, v := range out[:20] {
		assert.Less(t, math.Abs(float64(v)), 600.0)
	}
	for range 50 {
		h.fill(out, Air{Leak: 1})
	}
	for range 25 {
		h.fill(out, Air{})
	}
	assert.True(t, h.silent())
}

func TestTheSameEachTime(t *testing.T) {
	var a, b hiss
	x, y := make([]int16, 1000), make([]int16, 1000)
	a.fill(x, Air{Leak: 1e-3})
	b.fill(y, Air{Leak: 1e-3})
	assert.Equal(t, x, y)
}

type tape struct {
	bytes.Buffer
	closed chan struct{}
}

func (t *tape) Close() error { close(t.closed); return nil }

// Who no longer tells what blows has gone: it fades, and the player ends by itself.
func TestSilenceEndsThePlayer(t *testing.T) {
	out := &tape{closed: make(chan struct{})}
	s := Speaker{Open: func() (io.WriteCloser, error) { return out, nil }}
	s.Play(Air{})
	assert.False(t, s.playing, "nothing blows: nothing is opened")
	s.Play(Air{Exhaust: 0.01})
	<-out.closed
	heard := out.Bytes()
	require.Greater(t, len(heard), 2*2*patient)
	loud := func(b []byte) bool {
		for i := 0; i+1 < len(b); i += 2 {
			if v := int16(uint16(b[i]) | uint16(b[i+1])<<8); v > 300 || v < -300 {
				return true
			}
		}
		return false
	}
	assert.True(t, loud(heard[:2*patient]))
	assert.False(t, loud(heard[len(heard)-2*piece:]))
	assert.NoError(t, s.Trouble())
}

func TestWhatFailsIsSaidAndNotTriedAgain(t *testing.T) {
	var lock sync.Mutex
	tries := 0
	s := Speaker{Open: func() (io.WriteCloser, error) {
		lock.Lock()
		defer lock.Unlock()
		tries++
		return nil, errors.New("no sound player is installed")
	}}
	s.Play(Air{Leak: 1})
	for s.Trouble() == nil {
		runtime.Gosched()
	}
	s.Play(Air{Leak: 1})
	lock.Lock()
	defer lock.Unlock()
	assert.Equal(t, 1, tries)
}
