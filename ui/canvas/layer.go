package canvas

import (
	"image"

	"gioui.org/layout"
	"gioui.org/op"

	"airpath/circuit/symbol"
	"airpath/ui/theme"
)

// A layer keeps what was recorded for as long as its key holds.
type layer struct {
	ops  op.Ops
	call op.CallOp
	key  layerKey
	full bool
	at   image.Point // offset of the camera when it was recorded
	view symbol.Box
}

type layerKey struct {
	sheet     *symbol.Sheet
	revision  int
	scale     float64
	density   float64
	textScale float64
	unit      string
	palette   *symbol.Palette
	hover     string
	cursor    string
}

// mostPictured is the largest view, in pixels, whose sheet the processor draws as one picture. Showing a picture costs next to
// nothing where there is no graphics card, and there screens are small; on larger ones a card draws the shapes themselves.
const mostPictured = 1920 * 1200

func (s *Sheet) draw(gtx layout.Context, th *theme.Theme, scene *Scene) {
	if s.size.X*s.size.Y <= mostPictured {
		s.layer.full = false
		s.drawPicture(gtx, th, scene)
		return
	}
	s.picture = picture{}
	s.drawShapes(gtx, th, scene)
}

// drawShapes replays the recorded sheet, moved by whole pixels, and records it anew when something on it changed or the view
// has left what was recorded.
func (s *Sheet) drawShapes(gtx layout.Context, th *theme.Theme, scene *Scene) {
	key := layerKey{s.drawn, scene.Revision, s.cam.Scale, s.density, scene.TextScale, scene.Unit, th.Sheet, s.hover, ""}
	if s.ring {
		key.cursor = s.cursor
	}
	view := s.cam.View(s.size)
	l := &s.layer
	if !l.full || l.key != key || !covers(l.view, view, s.drawn.Bounds()) {
		l.view = view.Grow(max(view.Width(), view.Height()) / 3)
		l.ops.Reset()
		m := op.Record(&l.ops)
		marks := scene.Marks
		marks.Hover = s.hover
		if s.ring && s.cursor != "" {
			marks.Selected = s.cursor
		}
		surface := surface{ops: &l.ops, shaper: th.Shaper, cam: s.cam}
		s.drawn.Draw(&surface, symbol.Look{Palette: th.Sheet, Scale: s.cam.Scale / s.density, TextScale: scene.TextScale, View: l.view, Unit: scene.Unit}, marks)
		surface.flush()
		l.call, l.key, l.at, l.full = m.Stop(), key, s.cam.Off, true
	}
	defer op.Offset(s.cam.Off.Sub(l.at)).Push(gtx.Ops).Pop()
	l.call.Add(gtx.Ops)
}

// covers reports whether what was recorded still holds all of the sheet that is in view.
func covers(recorded, view, sheet symbol.Box) bool {
	return recorded.Min.X <= max(view.Min.X, sheet.Min.X) && recorded.Min.Y <= max(view.Min.Y, sheet.Min.Y) &&
		recorded.Max.X >= min(view.Max.X, sheet.Max.X) && recorded.Max.Y >= min(view.Max.Y, sheet.Max.Y)
}
