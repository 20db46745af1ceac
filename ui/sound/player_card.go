//go:build windows || darwin

package sound

import (
	"io"
	"sync"
	"time"

	"github.com/ebitengine/oto/v3"
)

// context of the sound card: there may be one in a program.
var context = sync.OnceValues(func() (*oto.Context, error) {
	c, ready, err := oto.NewContext(&oto.NewContextOptions{SampleRate: Rate, ChannelCount: 1, Format: oto.FormatSignedInt16LE, BufferSize: 60 * time.Millisecond})
	if err == nil {
		<-ready
	}
	return c, err
})

// Available says whether sound can be played, and if not, what is missing.
func Available() error { return nil }

// Open starts playing on the system's sound card.
func Open() (io.WriteCloser, error) {
	c, err := context()
	if err != nil {
		return nil, err
	}
	from, to := io.Pipe()
	player := c.NewPlayer(from)
	player.SetBufferSize(4 * piece)
	player.Play()
	return &card{to, player}, nil
}

type card struct {
	*io.PipeWriter
	player *oto.Player
}

// Close ends it.
func (c *card) Close() error {
	c.PipeWriter.Close()
	return c.player.Close()
}
