package ui

import (
	"image"

	"airpath/circuit"
	"airpath/ui/drilling"
	"airpath/ui/engine"
	"airpath/ui/flow"
	"airpath/ui/model"
	"airpath/ui/tracing"
)

// A workArea is one tab of the window.
type workArea struct {
	name  string
	does  string            // what it is for, beside its shortcut
	pane  func(*shell) pane // what is shown in it, made when it is first looked at
	leave func(*shell)      // another area is gone to; may be nil
}

// A pane is what every work area can do, whatever it shows.
type pane interface {
	Layout(ctx, tracing.Setting) dims
	FocusSheet(ctx)
	Zoom(float64)
	FitSheet()
	WhereIs(id string) image.Rectangle // in the area's pixels
	Typing(ctx) bool                   // letters go into one of its fields
	Escape(ctx)
	Undo()
	Redo()
	CanUndo() (undo, redo string) // in words; "" for nothing
}

// workAreas in the order of their tabs. Ctrl and the number of its place goes to each.
var workAreas = []workArea{
	traceArea: {name: "Trace", does: "find the fault", pane: func(s *shell) pane { return s.area }},
	flowArea: {name: "Flow", does: "work the vehicle", pane: func(s *shell) pane { return flowPane{s.flowArea()} },
		leave: func(s *shell) { s.flowArea().Play(false) }}, // time stands while it is not looked at
	drillArea: {name: "Drill", does: "exercises with hidden faults", pane: func(s *shell) pane { return s.drillArea() }},
}

// Places in the list.
const (
	traceArea = iota
	flowArea
	drillArea
)

// Where a shortcut holds.
const (
	traceKeys = traceArea + 1
	flowKeys  = flowArea + 1
	drillKeys = drillArea + 1
)

var areaNames = func() (names []string) {
	for _, a := range workAreas {
		names = append(names, a.name)
	}
	return names
}()

// showArea goes to another work area.
func (s *shell) showArea(i int) {
	if leave := workAreas[s.shown].leave; leave != nil && i != s.shown && s.session != nil {
		leave(s)
	}
	s.shown = i
}

// pane that is shown; nil where nothing is open or a file is in trouble.
func (s *shell) pane() pane {
	if s.session == nil || s.trouble != nil {
		return nil
	}
	return workAreas[s.shown].pane(s)
}

// shows says whether an area is shown, and works.
func (s *shell) shows(area int) bool { return s.shown == area && s.pane() != nil }

// holds says whether shortcuts of an area hold now.
func (s *shell) holds(in int) bool { return in == 0 || in == s.shown+1 }

// onPane does something to what is shown.
func (s *shell) onPane(do func(pane)) {
	if p := s.pane(); p != nil {
		do(p)
	}
}

// flowPane is Flow among the panes.
type flowPane struct{ *flow.Area }

func (p flowPane) Layout(gtx ctx, set tracing.Setting) dims {
	return p.Area.Layout(gtx, flow.Setting(set))
}

// flowArea makes the area for the vehicle on the bench when it is first shown.
func (s *shell) flowArea() *flow.Area {
	if s.flow == nil {
		start := s.opts.Vehicle
		if start == nil {
			start = live
		}
		c := s.session.Circuit
		s.flow = flow.New(c, start(c, s.wake))
		s.flow.Speaker.Open = s.opts.Loudspeaker
	}
	return s.flow
}

func live(c *circuit.Circuit, wake func()) flow.Vehicle { return engine.NewLive(c, wake) }

func onFlow(do func(*flow.Area)) func(*shell, ctx) {
	return func(s *shell, _ ctx) {
		if s.shows(flowArea) {
			do(s.flowArea())
		}
	}
}

// drillArea makes the area when it is first shown. It outlives what is on the bench.
func (s *shell) drillArea() *drilling.Area {
	if s.drill == nil {
		s.drill = drilling.New(drilling.Shop{
			Place: s.place, Wake: s.wake,
			Bench: func() (*circuit.Circuit, string) { return s.session.Circuit, s.session.Origin.Vehicle },
			Engine: func(c *circuit.Circuit, vehicle string) (model.Engine, error) {
				if c == s.session.Circuit {
					return s.session.Engine, nil
				}
				return s.build(c)
			},
		})
	}
	return s.drill
}

func onDrill(do func(*drilling.Area)) func(*shell, ctx) {
	return func(s *shell, _ ctx) {
		if s.shows(drillArea) {
			do(s.drillArea())
		}
	}
}
