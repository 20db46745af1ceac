package tracing

import (
	"fmt"
	"image"
	"strings"

	"gioui.org/layout"
	"gioui.org/op"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// rank is one suspect, or a group under a heading that says why it is one.
func (c *canBePart) rank(a *Area, answer *model.Answer, r model.Rank, show []int) []layout.Widget {
	th := a.set.Theme
	if len(show) == 1 {
		x := &answer.Suspects[show[0]]
		return []layout.Widget{inset(func(gtx ctx) dims { return c.suspect(gtx, a, x, false) })}
	}
	rows := []layout.Widget{func(gtx ctx) dims {
		return layout.Inset{Right: theme.Step, Top: 2, Bottom: 4}.Layout(gtx, func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, widgets.Text{Words: whyTogether(r, len(show)), Size: theme.Small, Color: th.Soft}.In(th)),
				widgets.Space(theme.Step),
				layout.Rigid(widgets.Text{Words: model.Percent(r.Probability), Weight: theme.Strong, Color: th.Suspect}.In(th)))
		})
	}}
	for _, i := range show {
		x := &answer.Suspects[i]
		rows = append(rows, inset(func(gtx ctx) dims { return c.suspect(gtx, a, x, true) }))
	}
	return rows
}

// whyTogether heads a group of which so many are shown.
func whyTogether(r model.Rank, shown int) string {
	rest := len(r.Suspects) - shown
	why := fmt.Sprintf("One of these %d", shown)
	switch {
	case shown == 0:
		why = fmt.Sprintf("One of %d that are each unlikely", rest)
	case rest > 0:
		why += fmt.Sprintf(", or of %d less likely", rest)
	}
	why += "; nothing found so far tells them apart."
	if !r.Separable {
		why += " No listed test would: prove them by hand."
	}
	return why
}

func (c *canBePart) suspect(gtx ctx, a *Area, x *model.Suspect, grouped bool) dims {
	th := a.set.Theme
	k := c.controls(x.Key)
	chosen := a.session.Selected() == x
	left := 0
	if grouped {
		left = gtx.Dp(theme.Step)
		h := op.Record(gtx.Ops)
		g := gtx
		g.Constraints.Max.X -= left
		d := c.suspectCard(g, a, x, k, chosen)
		call := h.Stop()
		widgets.Fill(gtx, th.Mark, image.Pt(gtx.Dp(3), d.Size.Y))
		defer op.Offset(image.Pt(left, 0)).Push(gtx.Ops).Pop()
		call.Add(gtx.Ops)
		d.Size.X += left
		return d
	}
	return c.suspectCard(gtx, a, x, k, chosen)
}

func (c *canBePart) suspectCard(gtx ctx, a *Area, x *model.Suspect, k *suspectControls, chosen bool) dims {
	th := a.set.Theme
	fill, edge := th.Card, th.Rule
	if chosen {
		fill, edge = theme.Mix(th.Card, th.Select, 0.07), th.Select
	}
	return layout.Background{}.Layout(gtx,
		func(gtx ctx) dims {
			widgets.Box(gtx, gtx.Constraints.Min, fill, edge, 1)
			return dims{Size: gtx.Constraints.Min}
		},
		func(gtx ctx) dims {
			rows := []layout.FlexChild{layout.Rigid(func(gtx ctx) dims {
				return k.press.Layout(gtx, th, "Suspect: "+x.Title+", "+model.Percent(x.Probability), chosen, func(gtx ctx) dims {
					return layout.Inset{Left: 10, Right: 10, Top: 8, Bottom: 8}.Layout(gtx, func(gtx ctx) dims { return suspectHead(gtx, a, x, chosen) })
				})
			})}
			if chosen {
				rows = append(rows, layout.Rigid(func(gtx ctx) dims {
					return layout.Inset{Left: 10, Right: 10, Bottom: 10}.Layout(gtx, func(gtx ctx) dims { return c.whole(gtx, a, x, k) })
				}))
			}
			return layout.Flex{Axis: layout.Vertical}.Layout(gtx, rows...)
		})
}

func suspectHead(gtx ctx, a *Area, x *model.Suspect, chosen bool) dims {
	th := a.set.Theme
	lines, titleLines := 1, 2
	if chosen {
		lines, titleLines = 0, 0
	}
	return widgets.Column(gtx,
		layout.Rigid(func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Baseline}.Layout(gtx,
				layout.Flexed(1, widgets.Text{Words: upper(x.Title), Weight: theme.Strong, Lines: titleLines}.In(th)),
				widgets.Space(theme.Step),
				layout.Rigid(widgets.Text{Words: model.Percent(x.Probability), Weight: theme.Strong, Color: th.Suspect, Lines: 1}.In(th)))
		}),
		widgets.Space(4),
		layout.Rigid(func(gtx ctx) dims { return widgets.Bar(gtx, th, x.Probability, th.Mark, 6) }),
		widgets.Space(4),
		layout.Rigid(widgets.Text{Words: upper(x.Because), Size: theme.Small, Color: th.Soft, Lines: lines}.In(th)),
		layout.Rigid(func(gtx ctx) dims {
			size := a.canBe.controls(x.Key).severity(x, a.set.units())
			if size == "" {
				return dims{}
			}
			return widgets.Text{Words: size, Size: theme.Small, Color: th.Soft, Lines: lines}.Layout(gtx, th)
		}))
}

// severity is kept: it is written in every frame.
func (k *suspectControls) severity(x *model.Suspect, u model.Units) string {
	if k.sized != x || k.sizedIn != u {
		k.sized, k.sizedIn, k.size = x, u, upper(severity(x, u))
	}
	return k.size
}

// severity says how bad the fault would be, with its interval.
func severity(x *model.Suspect, u model.Units) string {
	if x.Means == "" || x.Mid != x.Mid {
		return ""
	}
	return fmt.Sprintf("%s: about %s (%s)", x.Means, u.Format(x.Mid, x.Dimension), u.Span(x.Low, x.High, x.Dimension))
}

// whole is what a chosen suspect says besides: the path in words, how to prove it, what the repair is.
func (c *canBePart) whole(gtx ctx, a *Area, x *model.Suspect, k *suspectControls) dims {
	th := a.set.Theme
	var rows []layout.FlexChild
	add := func(w layout.Widget) { rows = append(rows, layout.Rigid(w), widgets.Space(6)) }
	if len(x.Path) > 0 {
		add(widgets.Text{Words: "The path, lit on the sheet", Size: theme.Small, Weight: theme.Strong}.In(th))
		for i, step := range x.Path {
			add(func(gtx ctx) dims { return numbered(gtx, th, i+1, step.Words) })
		}
	}
	if x.Confirm != "" {
		add(labelled(th, "Prove it by hand", x.Confirm))
	}
	if x.Repair != "" {
		repair := x.Repair
		if x.RepairMinutes > 0 {
			repair += " About " + model.Minutes(x.RepairMinutes) + "."
		}
		add(labelled(th, "Repair", repair))
	}
	if words := a.sayEvidence(x.For, x.Against); words != "" {
		add(labelled(th, "What speaks for it, and against", words))
	}
	if len(x.Cautions) > 0 {
		add(func(gtx ctx) dims { return widgets.Notice(gtx, th, widgets.Danger, strings.Join(x.Cautions, " ")) })
	}
	if a.lesson == nil {
		add(func(gtx ctx) dims {
			return k.mend.Layout(gtx, th, widgets.ButtonLook{Words: "It was this: enter the repair", Icon: widgets.IconTick})
		})
	}
	if !a.set.Prefs.Curves {
		add(func(gtx ctx) dims {
			return k.curves.Layout(gtx, th, widgets.ButtonLook{Words: "Show the curves", Icon: widgets.IconCurve})
		})
	}
	return layout.Flex{Axis: layout.Vertical}.Layout(gtx, rows...)
}

func labelled(th *theme.Theme, title, words string) layout.Widget {
	return func(gtx ctx) dims {
		return widgets.Column(gtx,
			layout.Rigid(widgets.Text{Words: title, Size: theme.Small, Weight: theme.Strong}.In(th)),
			layout.Rigid(widgets.Text{Words: words, Size: theme.Small}.In(th)))
	}
}

// numbered is one step with its number in a disc, as on the sheet.
func numbered(gtx ctx, th *theme.Theme, n int, words string) dims {
	return layout.Flex{Alignment: layout.Start}.Layout(gtx,
		layout.Rigid(func(gtx ctx) dims { return disc(gtx, th, n, th.Sheet.PathEdge, th.Sheet.PathText) }),
		widgets.Space(theme.Step),
		layout.Flexed(1, widgets.Text{Words: words, Size: theme.Small}.In(th)))
}

// choose lights a suspect's path, or puts it out again.
func (a *Area) choose(x *model.Suspect) {
	if a.session.Selected() == x {
		a.session.Select("")
		return
	}
	a.session.Select(x.Key)
	a.sheet.showPath(x)
}
