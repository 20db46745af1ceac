package tracing

import (
	"fmt"
	"strings"

	"gioui.org/layout"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// mostModes of a part are shown before asking for all.
const mostModes = 3

// standing is what is believed of the part, and on asking why: what speaks for each of its faults, what against, and what cleared
// the others.
func (s *spot) standing(a *Area) []layout.Widget {
	th := a.set.Theme
	if len(a.session.Case().Findings) == 0 {
		return nil // nothing is believed before anything is marked
	}
	answer, current := a.session.Answer()
	if answer == nil {
		return nil
	}
	st := a.session.Standing(s.target)
	var rows []layout.Widget
	for i, x := range st.Suspects {
		if !s.why && (i == mostModes || x.Probability < leastShow) {
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
		if s.why {
			rows = append(rows, inset(widgets.Text{Words: upper(x.Because), Size: theme.Small}.In(th)))
		}
	}
	words, tick := sayStanding(st)
	rows = append(rows, inset(func(gtx ctx) dims {
		children := []layout.FlexChild{layout.Flexed(1, widgets.Text{Words: words, Size: theme.Small, Color: th.Soft}.In(th))}
		if tick {
			children = append([]layout.FlexChild{layout.Rigid(func(gtx ctx) dims { return widgets.IconTick.Layout(gtx, th.Cleared, 18) }), widgets.Space(6)}, children...)
		}
		label := "Why not this part?"
		switch {
		case s.why:
			label = "Enough"
		case st.Probability >= 0.1:
			label = "Why this part?"
		}
		children = append(children, layout.Rigid(func(gtx ctx) dims {
			return s.asked.Layout(gtx, th, widgets.ButtonLook{Words: label, Label: label + " " + a.session.PlaceName(s.target), Rank: widgets.Quiet, Small: true})
		}))
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx, children...)
	}))
	if !s.why {
		return rows
	}
	if !current && !a.session.Working().Early {
		rows = append(rows, inset(widgets.Note(th, "This belongs to earlier findings; the newest are still being weighed.").In(th)))
	}
	for _, c := range st.Cleared {
		rows = append(rows, inset(func(gtx ctx) dims {
			return widgets.Column(gtx,
				layout.Rigid(widgets.Text{Words: upper(c.Mode) + ": cleared", Size: theme.Small, Weight: theme.Strong, Color: th.Cleared}.In(th)),
				layout.Rigid(widgets.Text{Words: upper(c.Because), Size: theme.Small}.In(th)))
		}))
	}
	if len(st.Suspects)+len(st.Cleared) == 0 {
		rows = append(rows, inset(widgets.Note(th, "Nothing of this part is in the catalogue of faults that the listed tests can show. Look at it by hand where the lit path crosses it.").In(th)))
	}
	return rows
}

// sayStanding sums up what is believed of a part.
func sayStanding(st model.Standing) (words string, cleared bool) {
	switch {
	case len(st.Suspects) == 0 && len(st.Cleared) > 0:
		return "Cleared: " + st.Cleared[0].Because, true
	case len(st.Suspects) == 0:
		return "Not under suspicion.", false
	case st.Probability < leastShow:
		return "Unlikely to be at fault: " + model.Percent(st.Probability) + ".", false
	case len(st.Cleared) > 0:
		return fmt.Sprintf("In all %s. %d other ways to fail are cleared.", model.Percent(st.Probability), len(st.Cleared)), false
	}
	return "In all " + model.Percent(st.Probability) + ".", false
}

// sayEvidence lists the findings that speak for something and against it.
func (a *Area) sayEvidence(pro, contra []string) string {
	name := func(ids []string) string {
		var out []string
		for _, id := range ids {
			for _, f := range a.session.Case().Findings {
				if f.ID == id && len(out) < 4 {
					out = append(out, a.session.Say(f))
				}
			}
		}
		return strings.Join(out, "; ")
	}
	var parts []string
	if words := name(pro); words != "" {
		parts = append(parts, "For: "+words+".")
	}
	if words := name(contra); words != "" {
		parts = append(parts, "Against: "+words+".")
	}
	return strings.Join(parts, " ")
}
