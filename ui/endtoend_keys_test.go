package ui

import (
	"image"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/ui/widgets"
)

// note is what the window says of a control.
func note(d Description, label string) string {
	for _, c := range d.Controls {
		if strings.HasPrefix(c.Label, label) {
			return c.Note
		}
	}
	return ""
}

// The same slow build-up by keyboard alone: from part to part on the sheet to the gauge, the reading into its card, the likeliest
// suspect lit, and the test that is proposed next opened.
func TestSlowBuildUpByKeyboardAloneInARealWindow(t *testing.T) {
	s := newScreen(t)
	s.open("gritter")
	s.await("what can be said of an empty case", 4*time.Minute, func(d Description) bool { return d.Vehicle != "" && !d.Working && d.Next != "" })
	s.xdotool("key", "m")
	s.walkTo("gauge_primary")
	s.xdotool("key", "Return")
	s.control("Time from 85 to 100 psi")
	for tabs := 0; !s.typing("Time from 85 to 100 psi"); tabs++ {
		require.Less(t, tabs, 30, "Tab never came to the field")
		s.xdotool("key", "Tab")
	}
	s.xdotool("type", "70")
	s.xdotool("key", "Return")
	d := s.await("the reading", 20*time.Second, func(d Description) bool { return len(d.Findings) == 1 })
	assert.Contains(t, d.Findings[0], "70 s")

	d = s.await("suspects", 8*time.Minute, func(d Description) bool { return len(d.Findings) == 1 && !d.Working && len(d.Suspects) > 0 })
	s.xdotool("key", "Escape")
	s.xdotool("key", "j")
	d = s.await("a lit path", 10*time.Second, func(d Description) bool { return d.Chosen != "" })
	assert.Equal(t, d.Suspects[0].Fault, d.Chosen)
	assert.Equal(t, strings.Split(d.Chosen, "/")[0], d.Path[0], "the path begins at the part")
	s.xdotool("key", "n")
	s.control("Enter readings")
}

// typing tells whether the keyboard is in a field, once the window has had time to say so.
func (s *screen) typing(label string) bool {
	for end := time.Now().Add(2 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		for _, c := range s.shows().Controls {
			if strings.HasPrefix(c.Label, label) && c.Note == widgets.Typing {
				return true
			}
		}
	}
	return false
}

// walkTo goes from part to part by the arrow that leads nearer.
func (s *screen) walkTo(id string) {
	s.t.Helper()
	onPart := func(d Description) bool { return strings.HasPrefix(note(d, "Sheet of"), "At the ") }
	for range 10 { // the first arrow finds a part, once the sheet has the keyboard
		s.xdotool("key", "Left")
		for end := time.Now().Add(time.Second); time.Now().Before(end) && !onPart(s.shows()); time.Sleep(20 * time.Millisecond) {
		}
		if onPart(s.shows()) {
			break
		}
	}
	for range 40 {
		d := s.await("the keyboard on a part", 5*time.Second, onPart)
		name := strings.TrimPrefix(note(d, "Sheet of"), "At the ")
		var here, there image.Point
		for _, p := range d.Parts {
			if p.Note == name {
				here = middle(p.Place)
			}
			if p.Label == id {
				there = middle(p.Place)
			}
		}
		if here == there {
			return
		}
		for _, key := range arrows(there.Sub(here)) {
			s.xdotool("key", key)
			moved := false
			for end := time.Now().Add(400 * time.Millisecond); time.Now().Before(end) && !moved; time.Sleep(20 * time.Millisecond) {
				moved = note(s.shows(), "Sheet of") != note(d, "Sheet of")
			}
			if moved {
				break
			}
		}
	}
	require.Fail(s.t, "the arrows never came to "+id)
}

// arrows that lead along a way, the one that leads further first.
func arrows(way image.Point) []string {
	across, down := "Right", "Down"
	if way.X < 0 {
		across = "Left"
	}
	if way.Y < 0 {
		down = "Up"
	}
	if max(way.X, -way.X) > max(way.Y, -way.Y) {
		return []string{across, down}
	}
	return []string{down, across}
}
