package sound

import (
	"io"
	"sync"
)

// A Speaker plays what blows. Its zero value plays through the system's own player.
type Speaker struct {
	Open func() (io.WriteCloser, error) // nil for the system's own

	lock    sync.Mutex
	air     Air
	unheard int // samples since it was last told what blows
	playing bool
	failed  error
	hiss    hiss
}

// One piece is made and handed over at a time; who stops telling what blows is taken to have gone, and silence ends the player.
const (
	piece   = Rate / 50
	patient = Rate / 2
)

// Play tells what blows now. It is called for every frame while time runs; it never waits.
func (s *Speaker) Play(air Air) {
	s.lock.Lock()
	defer s.lock.Unlock()
	s.air, s.unheard = air, 0
	if s.playing || s.failed != nil || loudness(air.Exhaust) == 0 && loudness(air.Leak) == 0 {
		return
	}
	s.playing = true
	go s.run()
}

// Trouble says why nothing is heard; nil when all is well.
func (s *Speaker) Trouble() error {
	s.lock.Lock()
	defer s.lock.Unlock()
	return s.failed
}

func (s *Speaker) run() {
	open := s.Open
	if open == nil {
		open = Open
	}
	out, err := open()
	for err == nil {
		var bytes []byte
		if bytes = s.next(); bytes == nil {
			break
		}
		_, err = out.Write(bytes) // waits until the player has room
	}
	if out != nil {
		out.Close()
	}
	s.lock.Lock()
	defer s.lock.Unlock()
	s.playing = false
	if err != nil {
		s.failed = err
	}
}

// next is a piece as bytes, low byte first; nil when there has been nothing to hear for a while.
func (s *Speaker) next() []byte {
	s.lock.Lock()
	defer s.lock.Unlock()
	if s.unheard += piece; s.unheard > patient {
		s.air = Air{}
	}
	if s.unheard > 3*patient && s.hiss.silent() {
		return nil
	}
	samples, bytes := make([]int16, piece), make([]byte, 2*piece)
	s.hiss.fill(samples, s.air)
	for i, v := range samples {
		bytes[2*i], bytes[2*i+1] = byte(v), byte(uint16(v)>>8)
	}
	return bytes
}
