package tracing

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"

	"gioui.org/f32"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"
	"gioui.org/text"

	"airpath/circuit"
	"airpath/ui/canvas"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// A plot draws gauges over time.
type plot struct {
	pointer image.Point
	over    bool
	words   []image.Rectangle // taken by labels in this frame
}

func (p *plot) layout(gtx ctx, th *theme.Theme, u model.Units, m *model.Plot, busy bool) dims {
	size := gtx.Constraints.Max
	switch {
	case m == nil && busy:
		return message(gtx, th, "Working out the curves …")
	case m == nil:
		return message(gtx, th, "No curves yet.")
	case len(m.Curves) == 0 && m.Failed != "":
		return message(gtx, th, m.Failed)
	case len(m.Curves) == 0:
		return message(gtx, th, "In this test nothing is read from a gauge over time.")
	}
	f := frameOf(gtx, size, u, m)
	if f.rect.Dx() < gtx.Dp(60) || f.rect.Dy() < gtx.Dp(40) {
		return dims{Size: size}
	}
	p.words = p.words[:0]
	p.axes(gtx, th, f, m.Since)
	clipped := clip.Rect(f.rect).Push(gtx.Ops)
	for _, c := range m.Curves {
		p.curve(gtx, th, f, c)
	}
	for _, l := range m.Marks {
		p.mark(gtx, th, f, l)
	}
	clipped.Pop()
	p.names(gtx, th, f, m)
	if busy {
		at(gtx, image.Pt(f.rect.Min.X+gtx.Dp(8), f.rect.Min.Y), func() { widgets.Note(th, "Working out newer curves …").Layout(loose(gtx), th) })
	}
	if p.over && p.pointer.In(f.rect) {
		p.crosshair(gtx, th, f, m)
	}
	return dims{Size: size}
}

func message(gtx ctx, th *theme.Theme, words string) dims {
	return layout.Center.Layout(gtx, widgets.Note(th, words).In(th))
}

func loose(gtx ctx) ctx {
	gtx.Constraints = layout.Constraints{Max: image.Pt(1<<16, 1<<16)}
	return gtx
}

// at runs drawing shifted by whole pixels.
func at(gtx ctx, p image.Point, draw func()) {
	defer op.Offset(p).Push(gtx.Ops).Pop()
	draw()
}

func (p *plot) axes(gtx ctx, th *theme.Theme, f frame, since string) {
	g := loose(gtx)
	first, step := ticks(f.p0, f.p1, max(2, f.rect.Dy()/gtx.Sp(34)))
	for v := first; v <= f.p1+step/1e6; v += step {
		y := f.rect.Max.Y - int(math.Round((v-f.p0)/(f.p1-f.p0)*float64(f.rect.Dy())))
		rect(gtx, th.Rule, image.Rect(f.rect.Min.X, y, f.rect.Max.X, y+1))
		p.label(g, th, image.Pt(f.rect.Min.X-gtx.Dp(6), y), fmt.Sprintf("%.4g", v), text.End)
	}
	first, step = ticks(f.t0, f.t1, max(2, f.rect.Dx()/gtx.Sp(80)))
	for t := first; t <= f.t1+step/1e6; t += step {
		x := round(f.x(t))
		rect(gtx, th.Rule, image.Rect(x, f.rect.Min.Y, x+1, f.rect.Max.Y))
		at(gtx, image.Pt(x, f.rect.Max.Y+gtx.Dp(3)), func() { centred(g, th, fmt.Sprintf("%.4g s", t)) })
	}
	at(gtx, image.Pt(gtx.Dp(8), f.rect.Max.Y-gtx.Sp(2)), func() { widgets.Note(th, string(f.units)).Layout(g, th) })
	if since != "" {
		at(gtx, image.Pt(f.rect.Min.X+gtx.Dp(8), f.rect.Max.Y-gtx.Sp(18)), func() { widgets.Text{Words: since, Size: 12, Color: th.Soft}.Layout(g, th) })
	}
	rect(gtx, th.Edge, image.Rect(f.rect.Min.X, f.rect.Min.Y, f.rect.Min.X+1, f.rect.Max.Y))
	rect(gtx, th.Edge, image.Rect(f.rect.Min.X, f.rect.Max.Y, f.rect.Max.X, f.rect.Max.Y+1))
}

// label writes at a point, its middle on the point's height.
func (p *plot) label(gtx ctx, th *theme.Theme, where image.Point, words string, side text.Alignment) {
	m := op.Record(gtx.Ops)
	d := widgets.Text{Words: words, Size: 12, Color: th.Soft, Lines: 1}.Layout(gtx, th)
	call := m.Stop()
	if side == text.End {
		where.X -= d.Size.X
	}
	at(gtx, where.Sub(image.Pt(0, d.Size.Y/2)), func() { call.Add(gtx.Ops) })
}

func centred(gtx ctx, th *theme.Theme, words string) {
	m := op.Record(gtx.Ops)
	d := widgets.Text{Words: words, Size: 12, Color: th.Soft, Lines: 1}.Layout(gtx, th)
	call := m.Stop()
	at(gtx, image.Pt(-d.Size.X/2, 0), func() { call.Add(gtx.Ops) })
}

func rect(gtx ctx, c color.NRGBA, r image.Rectangle) {
	paint.FillShape(gtx.Ops, c, clip.Rect(r).Op())
}

func round(v float32) int { return int(math.Round(float64(v))) }

func (p *plot) curve(gtx ctx, th *theme.Theme, f frame, c model.Curve) {
	points := make([]f32.Point, 0, len(c.Time))
	for i, t := range c.Time {
		if v := c.Value[i]; !math.IsNaN(v) {
			points = append(points, f32.Pt(f.x(t), f.y(v)))
		}
	}
	points = canvas.Thin(points, 0.4)
	if c.Logged {
		for _, q := range points { // as dots: what was recorded is not a line that something was drawn along
			rect(gtx, th.Measured, image.Rect(round(q.X)-1, round(q.Y)-1, round(q.X)+1, round(q.Y)+1))
		}
		return
	}
	if c.Healthy {
		canvas.Stroke(gtx.Ops, points, float32(gtx.Dp(2)), th.Healthy)
		return
	}
	canvas.Stroke(gtx.Ops, points, float32(gtx.Dp(3)), th.Mark)
}

// mark draws a bound as dashes and a measured value as a full line, each with its words.
func (p *plot) mark(gtx ctx, th *theme.Theme, f frame, l model.Mark) {
	c, dash := th.Broken, float32(gtx.Dp(8))
	if l.Measured {
		c, dash = th.Measured, 0
	}
	a, b := f32.Pt(float32(f.rect.Min.X), f.y(l.From)), f32.Pt(float32(f.rect.Max.X), f.y(l.To))
	if !math.IsNaN(l.Start) {
		a.X, b.X = f.x(l.Start), f.x(l.End)
	}
	dashed(a, b, dash, func(a, b f32.Point) { canvas.Stroke(gtx.Ops, []f32.Point{a, b}, float32(gtx.Dp(2)), c) })
	m := op.Record(gtx.Ops)
	words := l.Words + " " + f.units.Format(l.Limit, l.Dimension)
	d := widgets.Text{Words: words, Size: 12, Color: c, Weight: theme.Strong, Lines: 1}.Layout(loose(gtx), th)
	call := m.Stop()
	where := image.Pt(f.rect.Min.X+gtx.Dp(8), round(a.Y))
	if !math.IsNaN(l.Start) {
		// by its upper end, where lines of different slopes are furthest apart
		where = image.Pt(min(round(b.X)+gtx.Dp(5), f.rect.Max.X-d.Size.X), round(b.Y))
	}
	where = p.free(where, d.Size)
	at(gtx, where, func() {
		ground := th.Panel
		ground.A = 0xd0 // so that a curve behind can be seen and the words can be read
		widgets.Fill(gtx, ground, d.Size)
		call.Add(gtx.Ops)
	})
}

// free is the first place from here downwards where no label is yet.
func (p *plot) free(where, size image.Point) image.Point {
	for tries := 0; tries < 12; tries++ {
		r := image.Rectangle{Min: where, Max: where.Add(size)}
		if !slices.ContainsFunc(p.words, r.Overlaps) {
			p.words = append(p.words, r)
			break
		}
		where.Y += size.Y
	}
	return where
}

// dashed cuts a straight line into dashes; a dash of 0 leaves it whole.
func dashed(a, b f32.Point, dash float32, draw func(a, b f32.Point)) {
	d := b.Sub(a)
	length := float32(math.Hypot(float64(d.X), float64(d.Y)))
	if dash <= 0 || length == 0 {
		draw(a, b)
		return
	}
	for s := float32(0); s < length; s += 2 * dash {
		draw(a.Add(d.Mul(s/length)), a.Add(d.Mul(min(s+dash, length)/length)))
	}
}

// names stand at the right: one sample of each kind of line, and what the readings come to.
func (p *plot) names(gtx ctx, th *theme.Theme, f frame, m *model.Plot) {
	x, y := f.rect.Max.X+gtx.Dp(14), f.rect.Min.Y-gtx.Dp(4)
	bottom := gtx.Constraints.Max.Y
	g := gtx
	g.Constraints = layout.Constraints{Max: image.Pt(gtx.Constraints.Max.X-x-gtx.Dp(6), gtx.Dp(120))}
	put := func(indent int, w layout.Widget) {
		rec := op.Record(gtx.Ops)
		d := w(narrower(g, indent))
		call := rec.Stop()
		if y+d.Size.Y > bottom {
			y = bottom // no room: leave the rest out
			return
		}
		at(gtx, image.Pt(x+indent, y), func() { call.Add(gtx.Ops) })
		y += d.Size.Y + gtx.Dp(3)
	}
	sample := func(c color.NRGBA, w int, words string) {
		if y+gtx.Dp(20) < bottom {
			rect(gtx, c, image.Rect(x, y+gtx.Sp(9)-w/2, x+gtx.Dp(18), y+gtx.Sp(9)-w/2+w))
		}
		put(gtx.Dp(24), widgets.Text{Words: words, Size: 12, Lines: 3}.In(th))
	}
	if m.Suspect != "" {
		sample(th.Mark, gtx.Dp(3), m.Suspect)
	}
	sample(th.Healthy, gtx.Dp(2), "healthy")
	if slices.ContainsFunc(m.Curves, func(c model.Curve) bool { return c.Logged }) {
		sample(th.Measured, gtx.Dp(4), "recorded, as dots")
	}
	if m.Failed != "" {
		put(0, widgets.Text{Words: m.Failed, Size: 12, Color: th.Broken, Lines: 4}.In(th))
	}
	for _, v := range m.Values {
		put(0, widgets.Text{Words: upper(v.Title), Size: 12, Color: th.Soft, Lines: 2}.In(th))
		put(0, widgets.Text{Words: sayValue(f.units, v, m.Suspect != ""), Size: 12, Lines: 2}.In(th))
	}
}

func sayValue(u model.Units, v model.Value, suspect bool) string {
	words := "healthy " + u.Format(v.Healthy, v.Dimension)
	if suspect {
		words += ", with the fault " + u.Format(v.Suspect, v.Dimension)
	}
	if v.Measured != "" {
		words += ", measured " + v.Measured
	}
	return words
}

func narrower(gtx ctx, by int) ctx {
	gtx.Constraints.Max.X -= by
	return gtx
}

// crosshair reads every curve at the pointer.
func (p *plot) crosshair(gtx ctx, th *theme.Theme, f frame, m *model.Plot) {
	t := f.t0 + float64(p.pointer.X-f.rect.Min.X)/float64(f.rect.Dx())*(f.t1-f.t0)
	rect(gtx, th.Ink, image.Rect(p.pointer.X, f.rect.Min.Y, p.pointer.X+1, f.rect.Max.Y))
	words := f.units.Format(t, circuit.Time)
	for _, c := range m.Curves {
		v, ok := valueAt(c, t)
		if !ok {
			continue
		}
		who := c.Title
		switch {
		case c.Logged:
			who += ", recorded"
		case c.Healthy:
			who += ", healthy"
		}
		words += "\n" + who + ": " + f.units.Format(v, circuit.Pressure)
	}
	g := loose(gtx)
	m2 := op.Record(gtx.Ops)
	d := widgets.Text{Words: words, Size: 12}.Layout(g, th)
	call := m2.Stop()
	pad := gtx.Dp(6)
	where := image.Pt(p.pointer.X+pad, f.rect.Min.Y)
	if where.X+d.Size.X+2*pad > f.rect.Max.X {
		where.X = p.pointer.X - d.Size.X - 3*pad
	}
	at(gtx, where, func() {
		widgets.Box(gtx, d.Size.Add(image.Pt(2*pad, 2*pad)), th.Card, th.Edge, 1)
		at(gtx, image.Pt(pad, pad), func() { call.Add(gtx.Ops) })
	})
}

// valueAt reads a curve between its points.
func valueAt(c model.Curve, t float64) (float64, bool) {
	for i := 1; i < len(c.Time); i++ {
		if c.Time[i-1] <= t && t <= c.Time[i] && c.Time[i] > c.Time[i-1] {
			k := (t - c.Time[i-1]) / (c.Time[i] - c.Time[i-1])
			return c.Value[i-1] + k*(c.Value[i]-c.Value[i-1]), true
		}
	}
	return 0, false
}
