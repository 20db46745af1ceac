package tracing

import (
	"fmt"
	"image"
	"strings"

	"gioui.org/layout"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// together is what the pairs of an answer come to: one fault, and beside it another one, of which there may be several to choose from.
type together struct {
	first       *model.Suspect
	others      []*model.Suspect // likeliest first
	probability float64          // of all these pairs
}

// mostOthers are named.
const mostOthers = 3

// togetherOf gathers the pairs that have their surest fault in common.
func togetherOf(answer *model.Answer) together {
	var t together
	if len(answer.Pairs) == 0 {
		return t
	}
	suspect := func(key string) *model.Suspect {
		for i := range answer.Suspects {
			if answer.Suspects[i].Key == key {
				return &answer.Suspects[i]
			}
		}
		return nil
	}
	first := answer.Pairs[0].Keys[0]
	t.first = suspect(first)
	for _, p := range answer.Pairs {
		other := p.Keys[1]
		switch first {
		case p.Keys[0]:
		case p.Keys[1]:
			other = p.Keys[0]
		default:
			continue
		}
		if x := suspect(other); x != nil {
			t.others = append(t.others, x)
			t.probability += p.Probability
		}
	}
	return t
}

// leads tells that two faults at once are likelier than anything else.
func (t together) leads() bool { return t.first != nil && len(t.others) > 0 && t.probability > 0.5 }

// together is the card that says that no single fault gives all that was found, and which of the two gives what.
func (c *canBePart) together(gtx ctx, a *Area, t together) dims {
	th := a.set.Theme
	return layout.Background{}.Layout(gtx,
		func(gtx ctx) dims {
			widgets.Box(gtx, gtx.Constraints.Min, theme.Mix(th.Card, th.Mark, 0.10), th.Mark, 2)
			return dims{Size: gtx.Constraints.Min}
		},
		func(gtx ctx) dims {
			rows := []layout.FlexChild{layout.Rigid(func(gtx ctx) dims {
				return layout.Inset{Left: 10, Right: 10, Top: 8, Bottom: 2}.Layout(gtx, func(gtx ctx) dims {
					return widgets.Column(gtx,
						layout.Rigid(func(gtx ctx) dims {
							return layout.Flex{Alignment: layout.Baseline}.Layout(gtx,
								layout.Flexed(1, widgets.Text{Words: "Two faults at once", Weight: theme.Strong}.In(th)),
								layout.Rigid(widgets.Text{Words: model.Percent(t.probability), Weight: theme.Strong, Color: th.Suspect}.In(th)))
						}),
						layout.Rigid(widgets.Text{Words: "No single fault gives all that was found.", Size: theme.Small}.In(th)))
				})
			}), layout.Rigid(func(gtx ctx) dims { return c.one(gtx, a, t.first, "One", "") })}
			for i, x := range t.others[:min(len(t.others), mostOthers)] {
				lead, rest := "And", ""
				if i > 0 {
					lead = "or"
				}
				if i == mostOthers-1 && len(t.others) > mostOthers {
					rest = fmt.Sprintf("; or %d others, less likely", len(t.others)-mostOthers)
				}
				rows = append(rows, layout.Rigid(func(gtx ctx) dims { return c.one(gtx, a, x, lead, rest) }))
			}
			rows = append(rows, layout.Rigid(func(gtx ctx) dims {
				return layout.Inset{Left: 10, Right: 10, Top: 2, Bottom: 8}.Layout(gtx, widgets.Note(th, "Mend the surer one, enter the repair, and do the tests again: what is left shows the other.").In(th))
			}))
			return layout.Flex{Axis: layout.Vertical}.Layout(gtx, rows...)
		})
}

// one of two faults, and what was found because of it; pressing it lights its path.
func (c *canBePart) one(gtx ctx, a *Area, x *model.Suspect, lead, rest string) dims {
	th := a.set.Theme
	chosen := a.session.Selected() == x
	given := ""
	if lead != "or" {
		given = gives(a, x)
	}
	return c.controls(x.Key).paired.Layout(gtx, th, "One of two faults: "+x.Title, chosen, func(gtx ctx) dims {
		edge := layout.Inset{Left: 8, Right: 8, Top: 4, Bottom: 4}
		if given == "" {
			edge.Top, edge.Bottom = 12, 12 // large enough to hit
		}
		ground := func(gtx ctx) dims {
			if chosen {
				widgets.Fill(gtx, theme.Mix(th.Card, th.Select, 0.14), gtx.Constraints.Min)
			}
			return dims{Size: gtx.Constraints.Min}
		}
		inside := func(gtx ctx) dims {
			return layout.Flex{}.Layout(gtx,
				layout.Rigid(func(gtx ctx) dims {
					gtx.Constraints.Min = image.Pt(gtx.Dp(36), 0)
					return widgets.Text{Words: lead, Size: theme.Small, Color: th.Soft}.Layout(gtx, th)
				}),
				layout.Flexed(1, func(gtx ctx) dims {
					rows := []layout.FlexChild{layout.Rigid(widgets.Text{Words: upper(x.Title) + rest, Size: theme.Small, Weight: theme.Strong}.In(th))}
					if given != "" {
						rows = append(rows, layout.Rigid(widgets.Text{Words: given, Size: theme.Small, Color: th.Soft}.In(th)))
					}
					return widgets.Column(gtx, rows...)
				}))
		}
		return layout.Inset{Left: 2, Right: 2}.Layout(gtx, func(gtx ctx) dims {
			return layout.Background{}.Layout(gtx, ground, func(gtx ctx) dims { return edge.Layout(gtx, inside) })
		})
	})
}

// mostGiven findings are named of what a fault gives.
const mostGiven = 2

// gives says which findings speak for a fault, the strongest first.
func gives(a *Area, x *model.Suspect) string {
	var given []string
	for _, id := range x.For {
		for _, f := range a.session.Case().Findings {
			if f.ID == id && len(given) < mostGiven {
				given = append(given, model.Small(a.session.Say(f)))
			}
		}
	}
	if len(given) == 0 {
		return ""
	}
	return "Gives " + strings.Join(given, "; ")
}

// mostPairs are named.
const mostPairs = 3

// pairRows are two faults at once, where that explains the findings but does not lead; where nothing known fits, whatever their share.
func pairRows(th *theme.Theme, answer *model.Answer) []layout.Widget {
	var rows []layout.Widget
	if answer.Unknown && len(answer.Pairs) > 0 {
		rows = append(rows, inset(func(gtx ctx) dims {
			return widgets.Notice(gtx, th, widgets.Hint, "No single fault in the catalogue gives all that was found. Read again what does not fit, and look whether it is two at once.")
		}))
	}
	for i, p := range answer.Pairs {
		if i == mostPairs || p.Probability < leastShow && !answer.Unknown {
			break
		}
		rows = append(rows, small(th, "Two at once: "+p.Titles[0]+", and "+p.Titles[1], p.Probability))
	}
	return rows
}
