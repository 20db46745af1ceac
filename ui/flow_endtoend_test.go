package ui

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// The whole program in a real window: a walk is taken in Flow, once by mouse and once by the keyboard alone, on a vehicle
// that runs by itself.
func TestAWalkInARealWindow(t *testing.T) {
	for _, how := range []string{"mouse", "keyboard"} {
		t.Run(how, func(t *testing.T) {
			s := newScreen(t)
			s.open("bench_board")
			s.await("the vehicle", time.Minute, func(d Description) bool { return d.Vehicle != "" })
			byMouse := how == "mouse"
			if byMouse {
				s.click(s.control("work area: Flow").Place)
			} else {
				s.xdotool("key", "ctrl+2")
			}
			s.await("Flow", time.Minute, func(d Description) bool { return d.Area == "Flow" && d.Flow != nil })
			if byMouse {
				s.click(s.control("show: Walks").Place)
				s.click(s.control("Walk: Application and release").Place)
			} else {
				s.xdotool("key", "w")
				s.await("the walks", 20*time.Second, func(d Description) bool { return d.Flow != nil && d.Flow.Page == "Walks" })
				time.Sleep(500 * time.Millisecond) // as a hand takes to the next key
				s.xdotool("key", "Tab")            // from the first to the second that this vehicle has
				s.xdotool("key", "Return")
			}
			for step := 1; step <= 3; step++ {
				s.await("the step", 20*time.Second, func(d Description) bool { return d.Flow != nil && d.Flow.Walk == "application" && d.Flow.Step == step })
				if byMouse {
					s.click(s.control("Do what the step says").Place)
				} else {
					s.xdotool("key", "g")
				}
				d := s.await("what the step says", 2*time.Minute, func(d Description) bool { return d.Flow != nil && d.Flow.Seen && d.Flow.Step == step })
				assert.True(t, d.Flow.Playing, "time runs")
				if byMouse {
					s.click(s.control("Next step").Place)
				} else {
					s.xdotool("key", "n")
				}
			}
			s.await("the end of the walk", 20*time.Second, func(d Description) bool { return d.Flow != nil && d.Flow.Walk == "" })
		})
	}
}
