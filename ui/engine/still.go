package engine

import (
	"time"

	"airpath/circuit/airflow"
)

// A Still vehicle is worked at once and moves only when it is told to: for pictures and for tests.
type Still struct {
	Worked *Worked
	frame  *Frame
}

// NewStill starts one.
func NewStill(n *airflow.Network) (*Still, error) {
	w, err := NewWorked(n)
	if err != nil {
		return nil, err
	}
	return &Still{Worked: w}, nil
}

// Frame is the present one.
func (s *Still) Frame() *Frame {
	if s.frame == nil {
		s.frame = s.Worked.Frame()
	}
	return s.frame
}

// Do something to the vehicle, now.
func (s *Still) Do(deed func(*Worked)) {
	deed(s.Worked)
	s.frame = nil
}

// Tick lets the clock go on: time goes by where it runs.
func (s *Still) Tick(real time.Duration) {
	if s.Worked.playing {
		s.Worked.Advance(s.Worked.pace*real.Seconds(), time.Time{})
		s.frame = nil
	}
}

// Close does nothing: there is nothing to end.
func (s *Still) Close() {}
