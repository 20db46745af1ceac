package canvas

import (
	"image"
	"strings"

	"gioui.org/io/event"
	"gioui.org/io/key"
	"gioui.org/io/pointer"
	"gioui.org/io/semantic"
	"gioui.org/layout"
	"gioui.org/op/clip"

	"airpath/circuit"
	"airpath/circuit/symbol"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// A Scene is what is shown.
type Scene struct {
	Circuit   *circuit.Circuit
	Marks     symbol.Marks
	Revision  int // rises whenever Circuit or Marks change
	Unit      string
	TextScale float64
}

// A Sheet is the part of the window that shows a circuit: where it is looked at from, what the pointer is over, where the
// keyboard is.
type Sheet struct {
	drawn   *symbol.Sheet
	of      *circuit.Circuit
	cam     Camera
	fitted  bool // the camera has been set
	whole   bool // and shows the whole sheet: it goes on doing so when the window changes
	size    image.Point
	density float64

	hover  string // under the pointer
	cursor string // where the keyboard is
	ring   bool   // the sheet has the keyboard

	press   image.Point
	pressed bool
	moved   bool
	wanted  []string // to be brought into sight
	zoom    float64  // asked for by a button

	picture picture
	letters letters
	zooming zooming
	frozen  bool // what has been drawn is shown, enlarged, and nothing beyond it
}

// Focus puts the keyboard on the sheet.
func (s *Sheet) Focus(gtx layout.Context) { gtx.Execute(key.FocusCmd{Tag: s}) }

// FitAll shows the whole sheet.
func (s *Sheet) FitAll() { s.fitted = false }

// ZoomBy enlarges around the middle of the view.
func (s *Sheet) ZoomBy(factor float64) { s.zoom = factor }

// Show brings components or lines into sight, at the next frame.
func (s *Sheet) Show(ids ...string) { s.wanted = ids }

// Camera is where the sheet is looked at from.
func (s *Sheet) Camera() Camera { return s.cam }

// Drawn is the sheet as it is laid out; nil before the first frame.
func (s *Sheet) Drawn() *symbol.Sheet { return s.drawn }

// Where is the place of a component or line in the view's pixels.
func (s *Sheet) Where(id string) image.Rectangle {
	if s.drawn == nil {
		return image.Rectangle{}
	}
	box, ok := s.box(id)
	if !ok {
		return image.Rectangle{}
	}
	x0, y0 := s.cam.Pixel(box.Min)
	x1, y1 := s.cam.Pixel(box.Max)
	return image.Rect(whole(x0), whole(y0), whole(x1), whole(y1))
}

// box of a component, or around a line's corners.
func (s *Sheet) box(id string) (symbol.Box, bool) {
	if b, ok := s.drawn.BoxOf(id); ok {
		return b, true
	}
	route, ok := s.drawn.RouteOf(id)
	if !ok || len(route) == 0 {
		return symbol.Box{}, false
	}
	b := symbol.Box{Min: route[0], Max: route[0]}
	for _, p := range route {
		b = b.Union(symbol.Box{Min: p, Max: p})
	}
	return b, true
}

// slop is how far in dp a finger may slip during a click, and how far off a thin line may be hit.
const slop = 5

// Update handles pointer and keyboard. It returns the places that were picked, in order, as findings name them: a
// component, a line, a vent "dryer.3"; "" for the empty sheet.
func (s *Sheet) Update(gtx layout.Context, scene *Scene) []string {
	s.attach(gtx, scene)
	var picked []string
	everything := pointer.ScrollRange{Min: -1 << 24, Max: 1 << 24}
	for {
		ev, ok := gtx.Event(
			pointer.Filter{Target: s, Kinds: pointer.Press | pointer.Drag | pointer.Release | pointer.Cancel | pointer.Move | pointer.Leave | pointer.Scroll, ScrollX: everything, ScrollY: everything},
			key.FocusFilter{Target: s},
			key.Filter{Focus: s, Name: key.NameLeftArrow, Optional: key.ModShift},
			key.Filter{Focus: s, Name: key.NameRightArrow, Optional: key.ModShift},
			key.Filter{Focus: s, Name: key.NameUpArrow, Optional: key.ModShift},
			key.Filter{Focus: s, Name: key.NameDownArrow, Optional: key.ModShift},
			key.Filter{Focus: s, Name: key.NameReturn},
			key.Filter{Focus: s, Name: key.NameSpace},
		)
		if !ok {
			return picked
		}
		switch e := ev.(type) {
		case pointer.Event:
			if id, ok := s.pointer(gtx, e); ok {
				picked = append(picked, id)
			}
		case key.FocusEvent:
			s.ring = e.Focus
		case key.Event:
			if e.State != key.Press {
				continue
			}
			if id, ok := s.key(gtx, e); ok {
				picked = append(picked, id)
			}
		}
	}
}

func (s *Sheet) attach(gtx layout.Context, scene *Scene) {
	size := gtx.Constraints.Max
	s.density = float64(gtx.Metric.PxPerDp)
	if s.density <= 0 {
		s.density = 1
	}
	if s.of != scene.Circuit {
		s.of, s.drawn = scene.Circuit, symbol.NewSheet(scene.Circuit)
		s.fitted, s.hover, s.cursor = false, "", ""
	}
	if size != s.size && s.size != (image.Point{}) && s.fitted {
		// keep the middle in the middle
		s.cam = s.cam.Pan(image.Pt((size.X-s.size.X)/2, (size.Y-s.size.Y)/2))
		if s.whole {
			s.fitted = false
		}
	}
	s.size = size
	if !s.fitted && size.X > 0 && size.Y > 0 {
		s.cam = Fit(s.drawn.Bounds(), size, gtx.Dp(theme.Step), s.density)
		s.fitted, s.whole, s.zooming = true, true, zooming{}
		s.makeRoom(scene.TextScale)
	}
	if s.zoom != 0 {
		s.zoomTo(gtx, s.cam.Zoom(float64(size.X)/2, float64(size.Y)/2, s.zoom, s.density))
		s.zoom, s.whole = 0, false
	}
	if len(s.wanted) > 0 {
		s.bring(gtx)
	}
}

func (s *Sheet) bring(gtx layout.Context) {
	var box symbol.Box
	any := false
	for _, id := range s.wanted {
		b, ok := s.box(id)
		switch {
		case !ok:
		case any:
			box = box.Union(b)
		default:
			box, any = b, true
		}
	}
	s.wanted = nil
	if any {
		if moved := s.cam.Keep(box, s.size, gtx.Dp(theme.Gap)); moved != s.cam {
			s.cam, s.whole = moved, false
		}
	}
}

func (s *Sheet) pointer(gtx layout.Context, e pointer.Event) (string, bool) {
	at := e.Position.Round()
	switch e.Kind {
	case pointer.Press:
		s.press, s.pressed, s.moved = at, true, e.Buttons.Contain(pointer.ButtonTertiary)
	case pointer.Drag:
		if !s.pressed {
			break
		}
		d := at.Sub(s.press)
		if !s.moved && d.X*d.X+d.Y*d.Y < gtx.Dp(slop)*gtx.Dp(slop) {
			break
		}
		s.moved, s.whole = true, false
		s.cam, s.press = s.cam.Pan(d), at
	case pointer.Release:
		click := s.pressed && !s.moved
		s.pressed = false
		if click {
			t := s.hit(gtx, at)
			s.cursor = t.ID
			return t.Place, true
		}
	case pointer.Cancel:
		s.pressed = false
	case pointer.Move:
		s.hover = s.hit(gtx, at).ID
	case pointer.Leave:
		s.hover = ""
	case pointer.Scroll:
		if e.Modifiers.Contain(key.ModShift) {
			s.cam = s.cam.Pan(image.Pt(-whole(float64(e.Scroll.X+e.Scroll.Y)), 0))
		} else {
			s.zoomTo(gtx, s.cam.Zoom(float64(e.Position.X), float64(e.Position.Y), wheel(float64(e.Scroll.Y)), s.density))
		}
		s.whole = false
		s.hover = s.hit(gtx, at).ID
	}
	return "", false
}

func (s *Sheet) hit(gtx layout.Context, at image.Point) symbol.Target {
	p := s.cam.Sheet(float64(at.X), float64(at.Y))
	return s.drawn.Hit(p, float64(gtx.Dp(slop))/s.cam.Scale)
}

// Layout draws the sheet.
func (s *Sheet) Layout(gtx layout.Context, th *theme.Theme, scene *Scene) layout.Dimensions {
	return s.layout(gtx, th, scene, func(gtx layout.Context) { s.draw(gtx, th, scene) })
}

// layout draws the sheet's frame around what is drawn of it.
func (s *Sheet) layout(gtx layout.Context, th *theme.Theme, scene *Scene, draw layoutFunc) layout.Dimensions {
	size := gtx.Constraints.Max
	defer clip.Rect{Max: size}.Push(gtx.Ops).Pop()
	semantic.LabelOp("Sheet of " + scene.Circuit.Title).Add(gtx.Ops)
	semantic.DescriptionOp(s.describe(scene)).Add(gtx.Ops)
	defer clip.Rect{Max: size}.Push(gtx.Ops).Pop()
	event.Op(gtx.Ops, s)
	switch {
	case s.pressed && s.moved:
		pointer.CursorGrabbing.Add(gtx.Ops)
	case s.hover != "":
		pointer.CursorPointer.Add(gtx.Ops)
	}
	s.settled(gtx, th, draw)
	if s.ring {
		widgets.Ring(gtx, th, size)
	}
	return layout.Dimensions{Size: size}
}

// describe says in words where the keyboard is.
func (s *Sheet) describe(scene *Scene) string {
	if s.cursor == "" {
		return "Arrow keys go from part to part, Return opens its card"
	}
	for _, c := range scene.Circuit.Components {
		if c.ID == s.cursor {
			return "At the " + c.Name
		}
	}
	for _, l := range scene.Circuit.Lines {
		if l.ID == s.cursor {
			return "At the " + l.Name
		}
	}
	return ""
}

// PlaceOf is where a place is seen, in the view's pixels: a vent's middle, a part's, a line's.
func (s *Sheet) PlaceOf(place string) (image.Point, bool) {
	if s.drawn == nil {
		return image.Point{}, false
	}
	at, ok := s.drawn.Anchor(place)
	if port, is := s.vent(place); is {
		// the triangle lies inside the border
		out := port.Out.Step()
		at = circuit.Point{X: port.At.X - out.X/2, Y: port.At.Y - out.Y/2}
	}
	x, y := s.cam.Pixel(at)
	return image.Pt(whole(x), whole(y)), ok
}

func (s *Sheet) vent(place string) (symbol.Port, bool) {
	component, port, ok := strings.Cut(place, ".")
	if !ok {
		return symbol.Port{}, false
	}
	return s.drawn.PortAt(circuit.PortRef{Component: component, Port: port})
}

// Cursor is the part that the keyboard is on.
func (s *Sheet) Cursor() string { return s.cursor }

// PanBy moves the sheet by whole pixels.
func (s *Sheet) PanBy(d image.Point) { s.cam, s.whole = s.cam.Pan(d), false }
