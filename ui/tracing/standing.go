package tracing

import (
	"gioui.org/layout"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// standing is what is believed of the part.
func (s *spot) standing(a *Area) []layout.Widget {
	th := a.set.Theme
	if len(a.session.Case().Findings) == 0 {
		return nil // nothing is believed before anything is marked
	}
	st := a.session.Standing(s.target)
	var rows []layout.Widget
	for i, x := range st.Suspects {
		if i == 3 || x.Probability < leastShow {
			if i == 0 {
				rows = append(rows, inset(widgets.Note(th, "Unlikely to be at fault: "+model.Percent(st.Probability)+".").In(th)))
			}
			break
		}
		p, ok := s.suspects[x.Key]
		if !ok {
			p = &widgets.Press{}
			s.suspects[x.Key] = p
		}
		rows = append(rows, inset(func(gtx ctx) dims {
			return p.Layout(gtx, th, "Light the path: "+x.Title, false, func(gtx ctx) dims {
				return widgets.Card(gtx, th, th.Card, th.Edge, func(gtx ctx) dims {
					gtx.Constraints.Min.X = gtx.Constraints.Max.X
					return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
						layout.Flexed(1, widgets.Text{Words: "Light the path: " + x.Mode, Color: th.Accent, Lines: 2}.In(th)),
						widgets.Space(theme.Step),
						layout.Rigid(widgets.Text{Words: model.Percent(x.Probability), Weight: theme.Strong, Color: th.Suspect}.In(th)))
				})
			})
		}))
	}
	if len(st.Suspects) == 0 && len(st.Cleared) > 0 {
		rows = append(rows, inset(func(gtx ctx) dims {
			return layout.Flex{}.Layout(gtx,
				layout.Rigid(func(gtx ctx) dims { return widgets.IconTick.Layout(gtx, th.Cleared, 18) }),
				widgets.Space(6),
				layout.Flexed(1, widgets.Text{Words: "Cleared by: " + st.Cleared[0].Because, Size: theme.Small, Color: th.Cleared}.In(th)))
		}))
	}
	return rows
}
