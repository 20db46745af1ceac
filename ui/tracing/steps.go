package tracing

import (
	"fmt"
	"image"

	"gioui.org/layout"

	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// stepList is a procedure's steps: the one to do now is large, those behind it are ticked.
type stepList struct {
	now   int
	words []string
	ready int // so many bring the vehicle to the starting state
	press []widgets.Press
}

func (l *stepList) update(gtx ctx) {
	for i := range l.press {
		if l.press[i].Clicked(gtx) {
			if i == l.now {
				i++ // done: on to the next
			}
			l.now = i
		}
	}
}

// rows of the list, with where the vehicle is to be brought first.
func (l *stepList) rows(a *Area, start string) []layout.Widget {
	th := a.set.Theme
	l.press = append(l.press, make([]widgets.Press, max(0, len(l.words)-len(l.press)))...)
	small := func(words string) layout.Widget {
		return inset(widgets.Text{Words: words, Size: theme.Small, Weight: theme.Strong, Color: th.Soft}.In(th))
	}
	var rows []layout.Widget
	for i := range l.words {
		switch {
		case i == 0 && l.ready > 0 && start != "":
			rows = append(rows, small("Bring it there: "+start))
		case i == l.ready && i > 0:
			rows = append(rows, small("Then"))
		}
		rows = append(rows, inset(func(gtx ctx) dims { return l.step(gtx, th, i) }))
	}
	if l.now >= len(l.words) && len(l.words) > 0 {
		rows = append(rows, inset(widgets.Note(th, "All steps are done. Enter what you read.").In(th)))
	}
	return rows
}

func (l *stepList) step(gtx ctx, th *theme.Theme, i int) dims {
	label := fmt.Sprintf("Step %d: %s", i+1, l.words[i])
	text := widgets.Text{Words: l.words[i], Color: th.Ink}
	fill, edge := th.Panel, th.Panel
	switch {
	case i == l.now:
		text.Size, fill, edge = theme.Large, th.Card, th.Accent
	case i < l.now:
		text.Color = th.Soft
	}
	return l.press[i].Layout(gtx, th, label, i == l.now, func(gtx ctx) dims {
		return layout.Background{}.Layout(gtx,
			func(gtx ctx) dims {
				if i == l.now {
					widgets.Box(gtx, gtx.Constraints.Min, fill, edge, 2)
				}
				return dims{Size: gtx.Constraints.Min}
			},
			func(gtx ctx) dims {
				gtx.Constraints.Min.X = gtx.Constraints.Max.X
				return layout.Inset{Left: 8, Right: 8, Top: 10, Bottom: 10}.Layout(gtx, func(gtx ctx) dims {
					return layout.Flex{Alignment: layout.Start}.Layout(gtx,
						layout.Rigid(func(gtx ctx) dims {
							room := image.Pt(gtx.Dp(30), gtx.Sp(22))
							g := gtx
							g.Constraints = layout.Constraints{Max: room}
							if i < l.now {
								widgets.IconTick.Layout(g, th.Met, 18)
							} else {
								widgets.Text{Words: fmt.Sprint(i + 1), Size: text.Size, Weight: theme.Strong, Color: text.Color, Lines: 1}.Layout(g, th)
							}
							return dims{Size: room}
						}),
						layout.Flexed(1, text.In(th)))
				})
			})
	})
}
