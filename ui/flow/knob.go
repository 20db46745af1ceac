package flow

import (
	"image"

	"gioui.org/text"

	"gioui.org/layout"

	"airpath/circuit"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

const (
	middle = text.Middle
	end    = text.End
)

const atmosphere = circuit.AtmospherePressure

// layoutDash draws a control as it stands on the dash: a slider for what stands anywhere, a knob for what stands only at its
// ends.
func (c *control) layoutDash(gtx ctx, a *Area) dims {
	if c.spec.Gradual {
		return c.layoutGradual(gtx, a, a.dash.wide(gtx, gradualWide))
	}
	return c.layoutKnob(gtx, a, a.dash.wide(gtx, knobWide))
}

func (c *control) layoutGradual(gtx ctx, a *Area, width int) dims {
	th := a.set.Theme
	share := c.share(a)
	inner := width - gtx.Dp(theme.Gap)
	caption(gtx, th, upper(c.title), inner)
	at(gtx, image.Pt(0, gtx.Sp(20)), func() {
		g := gtx
		g.Constraints = layout.Exact(image.Pt(inner, gtx.Dp(theme.Touch)))
		c.slider.Layout(g, th, widgets.SliderLook{Label: c.title + " " + c.spec.Name, Value: c.says(share), Share: share})
	})
	y := gtx.Sp(20) + gtx.Dp(theme.Touch)
	at(gtx, image.Pt(gtx.Dp(11), y+gtx.Dp(10)), func() {
		g := gtx
		g.Constraints = layout.Constraints{Max: image.Pt(inner-gtx.Dp(11), gtx.Sp(24))}
		if c.spec.Sprung {
			g.Constraints.Max.X = inner / 2
		}
		widgets.Text{Words: c.says(share), Size: theme.Small, Weight: theme.Strong, Lines: 1}.Layout(g, th)
	})
	if c.spec.Sprung && share > 0 {
		at(gtx, image.Pt(inner/2, y), func() {
			g := gtx
			g.Constraints = layout.Constraints{Max: image.Pt(inner/2, gtx.Dp(theme.Touch))}
			c.letGo.Layout(g, th, widgets.ButtonLook{Words: "Let go", Label: "Let go of the " + c.title, Small: true})
		})
	}
	return dims{Size: image.Pt(width, gtx.Constraints.Max.Y)}
}

// layoutKnob draws a knob: pressed in it is flat and filled, pulled out it stands off its plate.
func (c *control) layoutKnob(gtx ctx, a *Area, width int) dims {
	th := a.set.Theme
	share := c.share(a)
	inner := width - gtx.Dp(theme.Step)
	g := gtx
	g.Constraints = layout.Exact(image.Pt(inner, gtx.Constraints.Max.Y))
	c.press.Layout(g, th, c.title+" "+c.spec.Name+": "+c.says(share), share > 0.5, func(gtx ctx) dims {
		caption(gtx, th, upper(c.part.Name), inner) // what it does to it stands below
		side := gtx.Dp(52)
		at(gtx, image.Pt((inner-side)/2, gtx.Sp(20)+gtx.Dp(4)), func() {
			plate, shadow := image.Rect(0, 0, side, side), gtx.Dp(8)
			edge := th.Edge
			if c.press.Hovered() {
				edge = th.Ink
			}
			widgets.Rect(gtx, edge, plate)
			widgets.Rect(gtx, th.Sunk, plate.Inset(max(1, gtx.Dp(1))))
			button := plate.Inset(gtx.Dp(9))
			if share < 0.5 { // out: it stands off, towards the hand
				widgets.Rect(gtx, th.Edge, button)
				widgets.Rect(gtx, th.Ink, button.Sub(image.Pt(0, shadow)).Inset(-gtx.Dp(2)))
				widgets.Rect(gtx, th.Card, button.Sub(image.Pt(0, shadow)))
			} else {
				widgets.Rect(gtx, th.Ink, button)
				widgets.Rect(gtx, th.Select, button.Inset(gtx.Dp(2)))
			}
		})
		at(gtx, image.Pt(0, gtx.Sp(20)+side+gtx.Dp(7)), func() {
			g := gtx
			g.Constraints = layout.Constraints{Min: image.Pt(inner, 0), Max: image.Pt(inner, gtx.Sp(44))}
			words := c.says(share)
			if a.frame.Now.Tripped[c.index] {
				words += ", popped by itself"
			}
			widgets.Text{Words: words, Size: 12, Weight: theme.Strong, Align: middle, Lines: 2}.Layout(g, th)
		})
		return dims{Size: image.Pt(inner, gtx.Constraints.Max.Y)}
	})
	return dims{Size: image.Pt(width, gtx.Constraints.Max.Y)}
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return string(s[0]&^0x20) + s[1:]
}
