package ui

import (
	"errors"
	"fmt"
	"image"

	"gioui.org/layout"
	"gioui.org/op"

	"airpath/circuit"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// trouble is a file that can't be opened: what is wrong with it, where, what would be right, and how to go on.
type trouble struct {
	path string
	err  error

	again   widgets.Button
	other   widgets.Button
	example widgets.Button
	back    widgets.Button
	scroll  widgets.Scroll
}

func (t *trouble) update(gtx ctx, s *shell) {
	switch {
	case t.again.Clicked(gtx):
		s.open(t.path)
	case t.other.Clicked(gtx):
		s.opener.show()
	case t.example.Clicked(gtx):
		s.openExample()
	case t.back.Clicked(gtx):
		s.trouble = nil
	}
}

func (t *trouble) layout(gtx ctx, s *shell) dims {
	th := s.theme
	size := gtx.Constraints.Max
	const most = 760 // dp
	beside := max(0, size.X-2*gtx.Dp(theme.Gap)-gtx.Dp(most)) / 2
	defer op.Offset(image.Pt(beside, 0)).Push(gtx.Ops).Pop()
	layout.Inset{Top: theme.Gap, Left: theme.Gap, Right: theme.Gap, Bottom: theme.Gap}.Layout(gtx, func(gtx ctx) dims {
		gtx.Constraints.Max.X = min(gtx.Constraints.Max.X, gtx.Dp(most))
		gtx.Constraints.Min = gtx.Constraints.Min.Mul(0)
		return t.scroll.Layout(gtx, th, t.rows(s))
	})
	return dims{Size: size}
}

func (t *trouble) rows(s *shell) []layout.Widget {
	th := s.theme
	spaced := func(w layout.Widget) layout.Widget {
		return func(gtx ctx) dims { return layout.Inset{Bottom: theme.Step}.Layout(gtx, w) }
	}
	rows := []layout.Widget{
		spaced(widgets.Text{Words: "This file can't be opened", Size: theme.Large, Weight: theme.Strong}.In(th)),
		spaced(widgets.Words(t.path).In(th)),
		spaced(widgets.Note(th, "The file itself was not touched. What you had on the bench before is kept.").In(th)),
		spaced(func(gtx ctx) dims { return t.buttons(gtx, s) }),
	}
	var problems circuit.Problems
	if errors.As(t.err, &problems) {
		problems = problems.Errors()
		rows = append(rows, spaced(widgets.Title(count(len(problems), "thing is", "things are")+" wrong with it:").In(th)))
		for _, p := range problems {
			rows = append(rows, spaced(func(gtx ctx) dims { return problem(gtx, th, p) }))
		}
	} else {
		rows = append(rows, spaced(func(gtx ctx) dims { return widgets.Notice(gtx, th, widgets.Trouble, t.err.Error()) }))
	}
	return rows
}

// buttons are the ways to go on.
func (t *trouble) buttons(gtx ctx, s *shell) dims {
	th := s.theme
	button := func(b *widgets.Button, words string, rank widgets.Rank) []layout.FlexChild {
		return []layout.FlexChild{layout.Rigid(func(gtx ctx) dims {
			return b.Layout(gtx, th, widgets.ButtonLook{Words: words, Rank: rank})
		}), widgets.Space(theme.Step)}
	}
	children := button(&t.again, "Read it again", widgets.Primary)
	children = append(children, button(&t.other, "Open another", widgets.Plain)...)
	if s.session == nil {
		children = append(children, button(&t.example, "Open the example", widgets.Plain)...)
	} else {
		children = append(children, button(&t.back, "Back to the bench", widgets.Plain)...)
	}
	return layout.Flex{}.Layout(gtx, children...)
}

func problem(gtx ctx, th *theme.Theme, p circuit.Problem) dims {
	where := p.Where
	if p.Line > 0 {
		where = fmt.Sprintf("line %d, column %d  %s", p.Line, p.Column, p.Where)
	}
	return widgets.Labelled(gtx, "Problem: "+p.Error(), "", func(gtx ctx) dims {
		return widgets.Card(gtx, th, th.Card, th.Rule, func(gtx ctx) dims {
			gtx.Constraints.Min.X = gtx.Constraints.Max.X
			rows := []layout.FlexChild{
				layout.Rigid(widgets.Note(th, where).In(th)),
				layout.Rigid(widgets.Title(p.What).In(th)),
			}
			if p.Right != "" {
				rows = append(rows, layout.Rigid(widgets.Words(p.Right).In(th)))
			}
			return layout.Flex{Axis: layout.Vertical}.Layout(gtx, rows...)
		})
	})
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
