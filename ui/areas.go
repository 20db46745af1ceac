package ui

import (
	"airpath/circuit"
	"airpath/ui/engine"
	"airpath/ui/flow"
)

// The work areas, in the order of their tabs.
const (
	traceArea = iota
	flowArea
)

var areaNames = []string{"Trace", "Flow"}

// Where a shortcut holds.
const (
	traceKeys = traceArea + 1
	flowKeys  = flowArea + 1
)

// sheetArea is what the work areas have in common.
type sheetArea interface {
	FocusSheet(ctx)
	Zoom(float64)
	FitSheet()
}

func (s *shell) areaShown() int {
	if s.flowing {
		return flowArea
	}
	return traceArea
}

// showArea goes to another work area. Time in Flow stands while it is not looked at.
func (s *shell) showArea(i int) {
	if s.flow != nil && i != flowArea {
		s.flow.Play(false)
	}
	s.flowing = i == flowArea
}

// holds says whether shortcuts of an area hold now.
func (s *shell) holds(in int) bool { return in == 0 || in == s.areaShown()+1 }

// showsFlow says whether a vehicle is being worked.
func (s *shell) showsFlow() bool { return s.flowing && s.session != nil && s.trouble == nil }

// flowArea makes the area for the vehicle on the bench when it is first shown.
func (s *shell) flowArea() *flow.Area {
	if s.flow == nil {
		start := s.opts.Vehicle
		if start == nil {
			start = live
		}
		c := s.session.Circuit
		s.flow = flow.New(c, start(c, s.wake))
	}
	return s.flow
}

func live(c *circuit.Circuit, wake func()) flow.Vehicle { return engine.NewLive(c, wake) }

// onSheet does something to the sheet that is shown.
func (s *shell) onSheet(do func(sheetArea)) {
	switch {
	case s.showsFlow():
		do(s.flowArea())
	case s.area != nil && s.trouble == nil:
		do(s.area)
	}
}

func onFlow(do func(*flow.Area)) func(*shell, ctx) {
	return func(s *shell, _ ctx) {
		if s.showsFlow() {
			do(s.flowArea())
		}
	}
}
