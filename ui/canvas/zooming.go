package canvas

import (
	"image"
	"image/color"
	"math"
	"time"

	"gioui.org/f32"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"

	"airpath/ui/theme"
)

// While a large view is zoomed, what was drawn before is shown enlarged, and drawn anew only when the hand rests: drawing a screen of
// eight million pixels takes longer than a frame may.
type zooming struct {
	from float64   // the scale that was drawn last
	last time.Time // when it was zoomed last
}

// mostAtOnce is the largest view, in pixels, that is drawn anew at every step of a zoom.
const mostAtOnce = 1920 * 1200

// restAfter is how long nothing is zoomed before it is drawn anew.
const restAfter = 120 * time.Millisecond

// paperAround paints what a picture leaves of a view: to paint all of it, and the picture over that, would take a card with little room
// to spare as long again.
func (s *Sheet) paperAround(ops *op.Ops, picture image.Rectangle, paper color.NRGBA) {
	if s.frozen {
		return // there is paper under all of it
	}
	view := image.Rectangle{Max: s.size}
	in := picture.Intersect(view)
	if in.Empty() {
		paint.FillShape(ops, paper, clip.Rect(view).Op())
		return
	}
	for _, r := range [...]image.Rectangle{
		{Max: image.Pt(view.Max.X, in.Min.Y)}, {Min: image.Pt(0, in.Max.Y), Max: view.Max},
		{Min: image.Pt(0, in.Min.Y), Max: image.Pt(in.Min.X, in.Max.Y)}, {Min: image.Pt(in.Max.X, in.Min.Y), Max: image.Pt(view.Max.X, in.Max.Y)},
	} {
		if !r.Empty() {
			paint.FillShape(ops, paper, clip.Rect(r).Op())
		}
	}
}

type layoutFunc func(layout.Context)

func (s *Sheet) zoomTo(gtx layout.Context, cam Camera) {
	if z := &s.zooming; z.from == 0 {
		z.from = s.cam.Scale
	}
	s.zooming.last = gtx.Now
	s.cam = cam
}

// settled draws at the scale of the view, or while that is being changed at the one before.
func (s *Sheet) settled(gtx layout.Context, th *theme.Theme, draw layoutFunc) {
	z := &s.zooming
	if z.from == 0 || s.size.X*s.size.Y <= mostAtOnce || gtx.Now.Sub(z.last) >= restAfter {
		*z = zooming{}
		draw(gtx)
		return
	}
	gtx.Execute(op.InvalidateCmd{At: z.last.Add(restAfter)})
	cam, size, k := s.cam, s.size, s.cam.Scale/z.from
	off := image.Pt(whole(float64(cam.Off.X)/k), whole(float64(cam.Off.Y)/k))
	s.cam = Camera{Scale: z.from, Off: off}
	s.size = image.Pt(int(math.Ceil(float64(size.X)/k))+1, int(math.Ceil(float64(size.Y)/k))+1)
	s.frozen = true
	rest := f32.Pt(float32(float64(cam.Off.X)-k*float64(off.X)), float32(float64(cam.Off.Y)-k*float64(off.Y)))
	paint.Fill(gtx.Ops, th.Paper)
	enlarged := op.Affine(f32.AffineId().Scale(f32.Point{}, f32.Pt(float32(k), float32(k))).Offset(rest)).Push(gtx.Ops)
	draw(gtx)
	enlarged.Pop()
	s.cam, s.size, s.frozen = cam, size, false
}
