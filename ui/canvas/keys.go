package canvas

import (
	"image"
	"math"

	"gioui.org/io/key"
	"gioui.org/layout"

	"airpath/circuit"
)

// key moves from part to part with the arrows, pans with Shift, and picks with Return or Space.
func (s *Sheet) key(gtx layout.Context, e key.Event) (string, bool) {
	var d image.Point
	switch e.Name {
	case key.NameLeftArrow:
		d.X = -1
	case key.NameRightArrow:
		d.X = 1
	case key.NameUpArrow:
		d.Y = -1
	case key.NameDownArrow:
		d.Y = 1
	default:
		return s.cursor, s.cursor != ""
	}
	if e.Modifiers.Contain(key.ModShift) {
		s.cam, s.whole = s.cam.Pan(d.Mul(-gtx.Dp(60))), false
		return "", false
	}
	if id := s.neighbour(d); id != "" {
		s.cursor = id
		s.wanted = []string{id}
		s.bring(gtx)
	}
	return "", false
}

// neighbour is the nearest component in one direction: what lies straight ahead counts before what lies aside.
func (s *Sheet) neighbour(d image.Point) string {
	from, ok := s.middle(s.cursor)
	if !ok {
		from = s.cam.Sheet(float64(s.size.X)/2, float64(s.size.Y)/2)
		d = image.Point{}
	}
	best, nearest := "", math.Inf(1)
	for _, c := range s.of.Components {
		if c.ID == s.cursor {
			continue
		}
		dx, dy := c.At.X-from.X, c.At.Y-from.Y
		ahead := dx*float64(d.X) + dy*float64(d.Y)
		aside := math.Abs(dx*float64(d.Y)) + math.Abs(dy*float64(d.X))
		if d != (image.Point{}) && (ahead <= 0.01 || aside > 3*ahead+2) {
			continue
		}
		far := ahead + 2*aside
		if d == (image.Point{}) {
			far = math.Hypot(dx, dy)
		}
		if far < nearest {
			best, nearest = c.ID, far
		}
	}
	return best
}

func (s *Sheet) middle(id string) (circuit.Point, bool) {
	if id == "" {
		return circuit.Point{}, false
	}
	box, ok := s.box(id)
	return box.Center(), ok
}

// wheel turns a scroll distance into a zoom factor.
func wheel(pixels float64) float64 { return math.Exp(-min(max(pixels, -400), 400) / 400) }
