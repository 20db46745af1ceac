package flow

import (
	"image"

	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/unit"

	"airpath/ui/theme"
	"airpath/ui/widgets"
)

func pointY(y int) image.Point     { return image.Pt(0, y) }
func pointXY(x, y int) image.Point { return image.Pt(x, y) }

// Rows of the panel, each with its room below.

func spaced(below unit.Dp, w layout.Widget) layout.Widget {
	in := layout.Inset{Bottom: below, Right: theme.Half}
	return func(gtx ctx) dims { return in.Layout(gtx, w) }
}

func (a *Area) row(t widgets.Text, below unit.Dp) layout.Widget {
	th := a.set.Theme
	return spaced(below, func(gtx ctx) dims { return t.Layout(gtx, th) })
}

func (a *Area) head(words string) layout.Widget {
	return a.row(widgets.Text{Words: words, Size: theme.Large, Weight: theme.Strong}, theme.Half)
}

func (a *Area) title(words string) layout.Widget {
	return a.row(widgets.Title(words), theme.Half)
}

func (a *Area) words(words string) layout.Widget { return a.row(widgets.Words(words), theme.Step) }

func (a *Area) note(words string) layout.Widget {
	return a.row(widgets.Note(a.set.Theme, words), theme.Step)
}

// headed is a head with a button at its right.
func (a *Area) headed(words string, b *widgets.Button, k widgets.ButtonLook) layout.Widget {
	th := a.set.Theme
	return spaced(0, func(gtx ctx) dims {
		side := gtx.Dp(theme.Touch)
		g := gtx
		g.Constraints = layout.Constraints{Max: image.Pt(gtx.Constraints.Max.X-side, gtx.Constraints.Max.Y)}
		d := widgets.Text{Words: words, Size: theme.Large, Weight: theme.Strong}.Layout(g, th)
		at(gtx, image.Pt(gtx.Constraints.Max.X-side, (min(d.Size.Y, side)-side)/2+gtx.Dp(2)), func() {
			g := gtx
			g.Constraints = layout.Constraints{Max: image.Pt(side, side)}
			b.Layout(g, th, k)
		})
		return dims{Size: image.Pt(gtx.Constraints.Max.X, max(d.Size.Y, gtx.Dp(30)))}
	})
}

// choose is a row that is pressed: words at the left, a value at the right, a line in small type below.
func (a *Area) choose(p *widgets.Press, label, words, value, below string, chosen bool) layout.Widget {
	th := a.set.Theme
	return spaced(2, func(gtx ctx) dims {
		return p.Layout(gtx, th, label, chosen, func(gtx ctx) dims {
			size := image.Pt(gtx.Constraints.Max.X, gtx.Dp(theme.Touch))
			fill := th.Panel
			switch {
			case chosen:
				fill = theme.Mix(th.Card, th.Select, 0.14)
			case p.Hovered():
				fill = theme.Mix(th.Panel, th.Ink, 0.07)
			}
			if fill != th.Panel {
				widgets.Rect(gtx, fill, image.Rectangle{Max: size})
			}
			widgets.Rect(gtx, th.Rule, image.Rect(0, size.Y-1, size.X, size.Y))
			room := size.X
			if value != "" {
				g := gtx
				g.Constraints = layout.Constraints{Max: size}
				w := 0
				at(gtx, image.Pt(0, gtx.Dp(11)), func() {
					g.Constraints.Min.X = size.X - gtx.Dp(theme.Half)
					g.Constraints.Max.X = g.Constraints.Min.X
					widgets.Text{Words: value, Weight: theme.Strong, Align: end, Lines: 1}.Layout(g, th)
				})
				w = gtx.Sp(62)
				room -= w
			}
			y, lines := gtx.Dp(3), 1
			if below == "" {
				lines = 2
			}
			g := gtx
			g.Constraints = layout.Constraints{Max: image.Pt(room-gtx.Dp(theme.Half), 2*size.Y)}
			m := op.Record(gtx.Ops)
			d := widgets.Text{Words: words, Lines: lines}.Layout(g, th)
			text := m.Stop()
			if below == "" {
				y = max(0, (size.Y-d.Size.Y)/2)
			}
			at(gtx, image.Pt(gtx.Dp(theme.Half), y), func() {
				text.Add(gtx.Ops)
				if below != "" {
					at(gtx, image.Pt(0, d.Size.Y-gtx.Dp(1)), func() {
						widgets.Text{Words: below, Size: theme.Small, Color: th.Soft, Lines: 1}.Layout(g, th)
					})
				}
			})
			return dims{Size: size}
		})
	})
}

// button is a button across the panel.
func (a *Area) button(b *widgets.Button, k widgets.ButtonLook, below unit.Dp) layout.Widget {
	th := a.set.Theme
	return spaced(below, func(gtx ctx) dims {
		gtx.Constraints.Min = image.Point{}
		return b.Layout(gtx, th, k)
	})
}

// slide is a slider with its name and value over it.
func (a *Area) slide(s *widgets.Slider, name, value string, look func() widgets.SliderLook) layout.Widget {
	th := a.set.Theme
	return spaced(theme.Step, func(gtx ctx) dims {
		g := gtx
		g.Constraints = layout.Constraints{Max: image.Pt(gtx.Constraints.Max.X-gtx.Sp(66), gtx.Constraints.Max.Y)}
		d := widgets.Text{Words: name, Size: theme.Small, Color: th.Soft, Lines: 2}.Layout(g, th)
		g.Constraints.Max.X = gtx.Constraints.Max.X
		g.Constraints.Min.X = gtx.Constraints.Max.X
		widgets.Text{Words: value, Size: theme.Small, Weight: theme.Strong, Align: end, Lines: 1}.Layout(g, th)
		at(gtx, image.Pt(0, d.Size.Y), func() {
			g := gtx
			g.Constraints = layout.Exact(image.Pt(gtx.Constraints.Max.X, gtx.Dp(theme.Touch)))
			s.Layout(g, th, look())
		})
		return dims{Size: image.Pt(gtx.Constraints.Max.X, d.Size.Y+gtx.Dp(theme.Touch))}
	})
}
