package canvas

import (
	"image"
	"image/color"
	"math"

	"gioui.org/f32"
	"gioui.org/font"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"
	"gioui.org/text"
	"gioui.org/unit"
	"gioui.org/widget"

	"airpath/circuit/symbol"
	"airpath/ui/theme"
)

// surface is symbol's Surface on a Gio operation list.
type surface struct {
	ops    *op.Ops
	shaper *text.Shaper
	cam    Camera

	color color.NRGBA // of what waits in quads
	quads []f32.Point // one filled shape after another, each turning clockwise on the screen
	ends  []int       // where in quads each shape ends
	turn  []f32.Point // scratch: one polyline in pixels
}

// Begin implements symbol.Surface.
func (s *surface) Begin(id, title string) {}

// End implements symbol.Surface. The things of one group wait for one another, those of two never do: a path over the
// whole page would cost the whole page.
func (s *surface) End() { s.flush() }

// Poly implements symbol.Surface.
func (s *surface) Poly(points []symbol.Point, closed bool, style symbol.Style) {
	if len(points) < 2 {
		return
	}
	s.turn = s.turn[:0]
	for _, p := range points {
		x, y := s.cam.Pixel(p)
		s.turn = append(s.turn, f32.Pt(float32(x), float32(y)))
	}
	if style.Fill.A > 0 && len(points) > 2 {
		s.fill(s.turn, style.Fill)
	}
	if style.Stroke.A == 0 || style.Width <= 0 {
		return
	}
	if closed {
		s.turn = append(s.turn, s.turn[0])
	}
	width := max(1, style.Width*s.cam.Scale)
	if len(style.Dash) > 0 {
		s.dashes(s.turn, float32(width), style)
		return
	}
	s.stroke(s.turn, float32(width), closed, style.Stroke)
}

// fill a shape; an upright rectangle goes the cheap way.
func (s *surface) fill(p []f32.Point, c color.NRGBA) {
	if r, ok := upright(p); ok {
		s.rect(r, c)
		return
	}
	s.shape(c, p...)
}

func upright(p []f32.Point) (image.Rectangle, bool) {
	n := len(p)
	if n == 5 && p[4] == p[0] {
		n = 4
	}
	if n != 4 {
		return image.Rectangle{}, false
	}
	level := func(a, b f32.Point) bool { return abs(a.Y-b.Y) < 0.01 }
	plumb := func(a, b f32.Point) bool { return abs(a.X-b.X) < 0.01 }
	if !(level(p[0], p[1]) && plumb(p[1], p[2]) && level(p[2], p[3]) && plumb(p[3], p[0])) &&
		!(plumb(p[0], p[1]) && level(p[1], p[2]) && plumb(p[2], p[3]) && level(p[3], p[0])) {
		return image.Rectangle{}, false
	}
	return image.Rect(round(p[0].X), round(p[0].Y), round(p[2].X), round(p[2].Y)), true
}

// stroke a polyline: upright and level legs as pixel rectangles, the rest as quads with mitred joints.
func (s *surface) stroke(p []f32.Point, width float32, closed bool, c color.NRGBA) {
	p = dropRepeats(p)
	for i := 0; i+1 < len(p); i++ {
		a, b := p[i], p[i+1]
		if isStraight(a, b) {
			// square ends, so that corners of orthogonal runs are closed; open ends stay where they are
			before, after := closed || i > 0, closed || i+2 < len(p)
			s.leg(a, b, width, before, after, c)
			continue
		}
		left0, right0 := s.joint(p, i, closed, width)
		left1, right1 := s.joint(p, i+1, closed, width)
		s.shape(c, left0, left1, right1, right0)
	}
}

// joint is the pair of points left and right of a vertex where the edges of its two legs meet.
func (s *surface) joint(p []f32.Point, i int, closed bool, width float32) (left, right f32.Point) {
	last := len(p) - 1
	var in, out f32.Point
	switch {
	case i > 0:
		in = unitOf(p[i].Sub(p[i-1]))
	case closed:
		in = unitOf(p[0].Sub(p[last-1]))
	}
	switch {
	case i < last:
		out = unitOf(p[i+1].Sub(p[i]))
	case closed:
		out = unitOf(p[1].Sub(p[0]))
	}
	if in == (f32.Point{}) {
		in = out
	}
	if out == (f32.Point{}) {
		out = in
	}
	n := unitOf(f32.Pt(-(in.Y + out.Y), in.X+out.X))
	if n == (f32.Point{}) {
		n = f32.Pt(-out.Y, out.X)
	}
	// the mitre is longer than half the width by 1/cos of half the turn; sharp turns are cut short
	cos := n.X*-out.Y + n.Y*out.X
	half := width / 2 / max(cos, 0.5)
	return p[i].Add(n.Mul(half)), p[i].Sub(n.Mul(half))
}

// leg is one straight stroke on whole pixels.
func (s *surface) leg(a, b f32.Point, width float32, squareA, squareB bool, c color.NRGBA) {
	w := max(1, round(width))
	if abs(a.Y-b.Y) < 0.01 {
		y := round(a.Y - float32(w)/2)
		s.rect(along(a.X, b.X, w, squareA, squareB, func(lo, hi int) image.Rectangle { return image.Rect(lo, y, hi, y+w) }), c)
		return
	}
	x := round(a.X - float32(w)/2)
	s.rect(along(a.Y, b.Y, w, squareA, squareB, func(lo, hi int) image.Rectangle { return image.Rect(x, lo, x+w, hi) }), c)
}

// along finds where a leg begins and ends on whole pixels, so that the corner with the next leg is exactly filled.
func along(from, to float32, w int, squareFrom, squareTo bool, r func(lo, hi int) image.Rectangle) image.Rectangle {
	if from > to {
		from, to, squareFrom, squareTo = to, from, squareTo, squareFrom
	}
	lo, hi := round(from), round(to)
	if squareFrom {
		lo = round(from - float32(w)/2)
	}
	if squareTo {
		hi = round(to-float32(w)/2) + w
	}
	return r(lo, max(hi, lo+1))
}

func isStraight(a, b f32.Point) bool { return abs(a.X-b.X) < 0.01 || abs(a.Y-b.Y) < 0.01 }

func (s *surface) rect(r image.Rectangle, c color.NRGBA) {
	if len(s.ends) > 0 && s.color != c {
		s.flush()
	}
	paint.FillShape(s.ops, c, clip.Rect(r).Op())
}

// shape adds one filled shape to those that wait. All of them must turn the same way round: in one outline, opposite
// turns cancel to a hole.
func (s *surface) shape(c color.NRGBA, p ...f32.Point) {
	if s.color != c {
		s.flush()
		s.color = c
	}
	from := len(s.quads)
	s.quads = append(s.quads, p...)
	if area(p) < 0 {
		part := s.quads[from:]
		for i, j := 0, len(part)-1; i < j; i, j = i+1, j-1 {
			part[i], part[j] = part[j], part[i]
		}
	}
	s.ends = append(s.ends, len(s.quads))
}

func (s *surface) flush() {
	if len(s.ends) == 0 {
		return
	}
	var path clip.Path
	path.Begin(s.ops)
	from := 0
	for _, end := range s.ends {
		path.MoveTo(s.quads[from])
		for _, p := range s.quads[from+1 : end] {
			path.LineTo(p)
		}
		path.Close()
		from = end
	}
	paint.FillShape(s.ops, s.color, clip.Outline{Path: path.End()}.Op())
	s.quads, s.ends = s.quads[:0], s.ends[:0]
}

// dashes cuts a polyline into strokes and gaps.
func (s *surface) dashes(p []f32.Point, width float32, style symbol.Style) {
	k, on := 0, true
	left := float32(style.Dash[0] * s.cam.Scale)
	for i := 0; i+1 < len(p); i++ {
		a, b := p[i], p[i+1]
		length := norm(b.Sub(a))
		dir := unitOf(b.Sub(a))
		for done := float32(0); done < length; {
			step := min(left, length-done)
			if on {
				from, to := a.Add(dir.Mul(done)), a.Add(dir.Mul(done+step))
				s.stroke([]f32.Point{from, to}, width, false, style.Stroke)
			}
			done += step
			if left -= step; left <= 0.01 {
				k = (k + 1) % len(style.Dash)
				on = !on
				left = max(1, float32(style.Dash[k]*s.cam.Scale))
			}
		}
	}
}

// Text implements symbol.Surface.
func (s *surface) Text(at symbol.Point, words string, f symbol.Font) {
	px := math.Round(f.Size * s.cam.Scale)
	if px < 6 || words == "" {
		return
	}
	s.flush()
	weight := theme.Normal
	if f.Bold {
		weight = theme.Strong
	}
	gtx := layout.Context{Ops: s.ops, Metric: unit.Metric{PxPerDp: 1, PxPerSp: 1},
		Constraints: layout.Constraints{Max: image.Pt(4000, 400)}}
	c := op.Record(s.ops)
	paint.ColorOp{Color: f.Color}.Add(s.ops)
	ink := c.Stop()
	m := op.Record(s.ops)
	dims := widget.Label{MaxLines: 1}.Layout(gtx, s.shaper, font.Font{Weight: weight}, unit.Sp(px), words, ink)
	call := m.Stop()
	x, y := s.cam.Pixel(at)
	switch f.Anchor {
	case symbol.Middle:
		x -= float64(dims.Size.X) / 2
	case symbol.End:
		x -= float64(dims.Size.X)
	}
	y -= float64(dims.Size.Y - dims.Baseline)
	defer op.Offset(image.Pt(whole(x), whole(y))).Push(s.ops).Pop()
	call.Add(s.ops)
}
