package widgets

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

func TestStopwatch(t *testing.T) {
	now := time.Unix(100, 0)
	var w Stopwatch
	assert.False(t, w.Running())
	w.Press(now)
	assert.True(t, w.Running())
	assert.Equal(t, 3*time.Second, w.Shows(now.Add(3*time.Second)))
	w.Press(now.Add(62400 * time.Millisecond))
	assert.False(t, w.Running())
	assert.Equal(t, "1:02.4", SayTime(w.Shows(now.Add(time.Hour))))
	w.Press(now.Add(2 * time.Hour))
	assert.Zero(t, w.Shows(now.Add(2*time.Hour)), "it starts from zero")
}

func TestSayTime(t *testing.T) {
	for d, words := range map[time.Duration]string{0: "0:00.0", 59960 * time.Millisecond: "1:00.0", 9049 * time.Millisecond: "0:09.0", 11 * time.Minute: "11:00.0"} {
		assert.Equal(t, words, SayTime(d))
	}
}
