package tracing

import (
	"fmt"
	"strings"

	"gioui.org/io/key"
	"gioui.org/layout"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// pathView is the whole path so far: the complaint, every test and repair in order, what stood after each, and a way back into
// any of them.
type pathView struct {
	fresh   bool
	back    widgets.Button
	again   map[string]*widgets.Button // by what is opened
	undo    map[string]*widgets.Button // repairs, by id
	reoffer widgets.Button
	scroll  widgets.Scroll
}

// ShowPath opens the whole path so far in the column.
func (a *Area) ShowPath() {
	a.path = &pathView{fresh: true, again: map[string]*widgets.Button{}, undo: map[string]*widgets.Button{}}
	a.doing, a.mending, a.folded = nil, nil, 1
}

func buttonIn(m map[string]*widgets.Button, id string) *widgets.Button {
	b, ok := m[id]
	if !ok {
		b = &widgets.Button{}
		m[id] = b
	}
	return b
}

func (v *pathView) update(gtx ctx, a *Area) {
	if v.fresh {
		v.fresh = false
		gtx.Execute(key.FocusCmd{Tag: &v.back.Clickable})
	}
	if v.back.Clicked(gtx) {
		a.path = nil
		return
	}
	for i, c := range a.session.Story() {
		if buttonIn(v.again, fmt.Sprint(i)).Clicked(gtx) && c.Procedure != "" {
			a.putRight(c.Procedure)
			return
		}
		if c.Repair != "" && buttonIn(v.undo, c.Repair).Clicked(gtx) {
			a.session.TakeBackRepair(c.Repair)
			return
		}
	}
	if v.reoffer.Clicked(gtx) {
		a.session.Reoffer()
	}
}

func (v *pathView) layout(gtx ctx, a *Area) dims {
	th := a.set.Theme
	return layout.Flex{Axis: layout.Vertical}.Layout(gtx,
		layout.Rigid(func(gtx ctx) dims {
			return columnHead(gtx, th, &v.back, "Back to the suspects", "The whole path so far")
		}),
		layout.Flexed(1, func(gtx ctx) dims { return v.scroll.Layout(gtx, th, v.rows(a)) }))
}

// columnHead is the title of what fills the column, with the way back.
func columnHead(gtx ctx, th *theme.Theme, back *widgets.Button, label, title string) dims {
	return layout.Inset{Top: theme.Step, Bottom: theme.Half}.Layout(gtx, func(gtx ctx) dims {
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
			layout.Rigid(func(gtx ctx) dims {
				return back.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconLeft, Label: label, Rank: widgets.Quiet})
			}),
			widgets.Space(theme.Step),
			layout.Flexed(1, widgets.Text{Words: title, Size: theme.Large, Weight: theme.Strong, Lines: 2}.In(th)))
	})
}

func (v *pathView) rows(a *Area) []layout.Widget {
	th, s := a.set.Theme, a.session
	story := s.Story()
	if len(story) == 0 {
		return []layout.Widget{inset(widgets.Note(th, "Nothing has happened yet: no complaint, no test, no repair.").In(th))}
	}
	var rows []layout.Widget
	for i := range story {
		rows = append(rows, inset(func(gtx ctx) dims { return v.chapter(gtx, a, i, &story[i]) }))
	}
	if skipped, refused := s.Skipped(), s.Refused(); len(skipped)+len(refused) > 0 {
		rows = append(rows, inset(widgets.Note(th, leftOut(skipped, refused)).In(th)),
			inset(func(gtx ctx) dims { return v.reoffer.Layout(gtx, th, widgets.ButtonLook{Words: "Offer them again"}) }))
	}
	return rows
}

func (v *pathView) chapter(gtx ctx, a *Area, i int, c *model.Chapter) dims {
	th := a.set.Theme
	edge := th.Rule
	if c.Bad {
		edge = th.Broken
	}
	label := fmt.Sprintf("Chapter %d: %s: %s", i+1, c.Title, c.Result)
	return widgets.Labelled(gtx, label, "", func(gtx ctx) dims {
		return widgets.Card(gtx, th, th.Card, edge, func(gtx ctx) dims {
			gtx.Constraints.Min.X = gtx.Constraints.Max.X
			rows := []layout.FlexChild{
				layout.Rigid(func(gtx ctx) dims {
					children := []layout.FlexChild{
						layout.Rigid(func(gtx ctx) dims { return disc(gtx, th, i+1, th.Ink, th.Card) }),
						widgets.Space(theme.Step),
						layout.Flexed(1, widgets.Text{Words: c.Title, Weight: theme.Strong}.In(th)),
					}
					switch {
					case c.Procedure != "":
						children = append(children, layout.Rigid(func(gtx ctx) dims {
							return buttonIn(v.again, fmt.Sprint(i)).Layout(gtx, th, widgets.ButtonLook{Words: "Open again", Label: "Open again: " + c.Title, Rank: widgets.Quiet, Small: true})
						}))
					case c.Repair != "":
						children = append(children, layout.Rigid(func(gtx ctx) dims {
							return buttonIn(v.undo, c.Repair).Layout(gtx, th, widgets.ButtonLook{Words: "Was not done", Label: "Take this repair back, with what was found since", Rank: widgets.Quiet, Small: true})
						}))
					}
					return layout.Flex{Alignment: layout.Middle}.Layout(gtx, children...)
				}),
			}
			if c.Result != "" {
				rows = append(rows, layout.Rigid(widgets.Words(upper(c.Result)).In(th)))
			}
			if c.Note != "" {
				rows = append(rows, layout.Rigid(widgets.Note(th, upper(c.Note)).In(th)))
			}
			if c.Case != nil {
				words := "Working out what stood then …"
				if l := a.session.Weigh(c.Key, c.Case); l != nil {
					words = "Then stood: " + sayLeaders(l)
				}
				rows = append(rows, widgets.Space(theme.Half), layout.Rigid(widgets.Text{Words: words, Size: theme.Small, Color: th.Suspect}.In(th)))
			}
			return layout.Flex{Axis: layout.Vertical}.Layout(gtx, rows...)
		})
	})
}

// sayLeaders puts what a case comes to into one line.
func sayLeaders(l *model.Leaders) string {
	if l.Failed != "" {
		return "could not be worked out: " + l.Failed
	}
	var parts []string
	for _, x := range l.First {
		if len(parts) == 0 || x.Probability >= 0.05 {
			parts = append(parts, x.Title+" "+model.Percent(x.Probability))
		}
	}
	if rest := l.Standing - len(parts); rest > 0 {
		parts = append(parts, fmt.Sprintf("%d more", rest))
	}
	if l.NoFault >= 0.05 {
		parts = append(parts, "nothing wrong "+model.Percent(l.NoFault))
	}
	if l.Else >= 0.05 {
		parts = append(parts, "something else "+model.Percent(l.Else))
	}
	if len(parts) == 0 {
		return "nothing"
	}
	return strings.Join(parts, "; ")
}
