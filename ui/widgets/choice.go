package widgets

import (
	"image"
	"image/color"
	"slices"

	"gioui.org/io/pointer"
	"gioui.org/io/semantic"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/text"
	"gioui.org/widget"

	"airpath/ui/theme"
)

// A Choice is one out of a few, side by side, all in sight.
type Choice struct {
	cells  []widget.Clickable
	widths []int
	labels []string // what each option is called, as long as of is the label and options are what they were
	of     string
	words  []string
}

// names are the options' labels, made anew only where something in them is new.
func (c *Choice) names(label string, options []string) []string {
	if c.of != label || !slices.Equal(c.words, options) {
		c.of, c.words, c.labels = label, slices.Clone(options), c.labels[:0]
		for _, o := range options {
			c.labels = append(c.labels, label+": "+o)
		}
	}
	return c.labels
}

// Update reports the option that was pressed since the last frame.
func (c *Choice) Update(gtx layout.Context) (int, bool) {
	for i := range c.cells {
		if c.cells[i].Clicked(gtx) {
			return i, true
		}
	}
	return 0, false
}

// Layout draws the options with the chosen one marked; chosen may be -1. The label says what is chosen: "units".
func (c *Choice) Layout(gtx layout.Context, th *theme.Theme, label string, options []string, chosen int) layout.Dimensions {
	for len(c.cells) < len(options) {
		c.cells = append(c.cells, widget.Clickable{})
	}
	c.cells = c.cells[:len(options)]
	touch, pad := gtx.Dp(theme.Touch), gtx.Dp(10)
	if len(c.widths) != len(options) {
		c.widths = make([]int, len(options))
	}
	widths, total, names := c.widths, 0, c.names(label, options)
	for i, o := range options {
		widths[i] = max(touch, measure(gtx, th, o, theme.Body, theme.Strong).X+2*pad)
		total += widths[i]
	}
	share := 1.0
	if total > gtx.Constraints.Max.X && total > 0 {
		share = float64(gtx.Constraints.Max.X) / float64(total)
	}
	x, height := 0, touch
	sum := 0
	for i := range widths {
		widths[i] = int(float64(widths[i]) * share)
		sum += widths[i]
	}
	m := op.Record(gtx.Ops)
	for i, o := range options {
		g := gtx
		g.Constraints = layout.Exact(image.Pt(widths[i], touch))
		off := op.Offset(image.Pt(x, 0)).Push(gtx.Ops)
		c.cell(g, th, &c.cells[i], names[i], o, i == chosen)
		off.Pop()
		x += widths[i]
	}
	cells := m.Stop()
	Box(gtx, image.Pt(sum, height), th.Card, th.Edge, 1)
	cells.Add(gtx.Ops)
	return layout.Dimensions{Size: image.Pt(sum, height)}
}

func (c *Choice) cell(gtx layout.Context, th *theme.Theme, click *widget.Clickable, label, words string, chosen bool) {
	size := gtx.Constraints.Max
	named(gtx, name{class: semantic.RadioButton, label: label, state: true, down: chosen}, func(gtx layout.Context) layout.Dimensions {
		return click.Layout(gtx, func(gtx layout.Context) layout.Dimensions {
			pointer.CursorPointer.Add(gtx.Ops)
			c, weight := th.Soft, theme.Normal
			var ground color.NRGBA
			switch {
			case chosen:
				ground, c, weight = theme.Mix(th.Card, th.Select, 0.18), th.Ink, theme.Strong
			case click.Hovered():
				ground = theme.Mix(th.Card, th.Ink, 0.07)
			}
			if ground.A > 0 {
				edge := color.NRGBA{}
				if chosen {
					edge = th.Select
				}
				Box(gtx, size, ground, edge, 1)
			}
			if gtx.Focused(click) {
				Ring(gtx, th, size)
			}
			gtx.Constraints = layout.Constraints{Max: size}
			layout.Center.Layout(exact(gtx, size), Text{Words: words, Color: c, Weight: weight, Lines: 1, Align: text.Middle}.In(th))
			return layout.Dimensions{Size: size}
		})
	})
}

func exact(gtx layout.Context, size image.Point) layout.Context {
	gtx.Constraints = layout.Exact(size)
	return gtx
}
