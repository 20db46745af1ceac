package tracing

import (
	"fmt"

	"gioui.org/layout"

	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// formTools are the number pad for measured readings and a quick "all the others are quiet" for rounds of listening.
func (d *doing) formTools(gtx ctx, a *Area) dims {
	th := a.set.Theme
	measured, listening := 0, 0
	for _, e := range d.entries {
		if e.yesNo() {
			listening++
		} else {
			measured++
		}
	}
	var children []layout.FlexChild
	if listening > 1 {
		children = append(children, layout.Rigid(func(gtx ctx) dims {
			return d.quiet.Layout(gtx, th, widgets.ButtonLook{Words: "No at all others", Label: "Answer no at all other places", Rank: widgets.Quiet, Small: true})
		}))
	}
	if measured > 0 {
		words := "Number pad"
		if d.padFor != nil {
			words = "Put the pad away"
		}
		children = append(children, layout.Rigid(func(gtx ctx) dims {
			return d.pads.Layout(gtx, th, widgets.ButtonLook{Words: words, Rank: widgets.Quiet, Small: true})
		}))
	}
	return layout.Flex{}.Layout(gtx, children...)
}

func (d *doing) cautions(gtx ctx, a *Area) dims {
	th := a.set.Theme
	p := d.procedure
	if len(p.Cautions) == 0 {
		return dims{}
	}
	if d.safe {
		return d.read.Layout(gtx, th, widgets.ButtonLook{Words: fmt.Sprintf("Safety: %d points, seen to. Show again", len(p.Cautions)), Icon: widgets.IconTick, Rank: widgets.Quiet, Small: true})
	}
	return widgets.Card(gtx, th, th.Caution, th.Caution, func(gtx ctx) dims {
		rows := []layout.FlexChild{layout.Rigid(func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Rigid(func(gtx ctx) dims { return widgets.IconWarning.Layout(gtx, th.OnCaution, 22) }),
				widgets.Space(theme.Step),
				layout.Rigid(widgets.Text{Words: "Safety first", Weight: theme.Strong, Color: th.OnCaution}.In(th)))
		}), widgets.Space(theme.Half)}
		for _, c := range p.Cautions {
			rows = append(rows, layout.Rigid(func(gtx ctx) dims {
				return layout.Flex{}.Layout(gtx,
					layout.Rigid(func(gtx ctx) dims {
						gtx.Constraints.Min.X = gtx.Dp(14)
						return widgets.Text{Words: "·", Weight: theme.Strong, Color: th.OnCaution, Size: theme.Small}.Layout(gtx, th)
					}),
					layout.Flexed(1, widgets.Text{Words: c, Color: th.OnCaution, Size: theme.Small}.In(th)))
			}), widgets.Space(3))
		}
		rows = append(rows, widgets.Space(theme.Half), layout.Rigid(func(gtx ctx) dims {
			return d.read.Layout(gtx, th, widgets.ButtonLook{Words: "All this is seen to"})
		}))
		return layout.Flex{Axis: layout.Vertical}.Layout(gtx, rows...)
	})
}
