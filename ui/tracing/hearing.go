package tracing

import (
	"strings"

	"gioui.org/layout"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// hearing shows, below the complaint, what it is taken to mean, and while it is typed what can be said.
type hearing struct {
	press map[string]*widgets.Press
	typed string // what the suggestions are for
	list  []string
	said  string // what heard is for
	heard model.Hearing
	shown bool // suggestions are in sight
}

// mostSuggested is how many sayings are offered.
const mostSuggested = 5

func (h *hearing) update(gtx ctx, a *Area, field *widgets.Field) {
	for _, saying := range h.list {
		if p := h.press[saying]; p != nil && p.Clicked(gtx) {
			text := model.Complete(field.Text(), saying)
			field.SetText(text)
			a.session.SetComplaint(text)
			h.shown = false
			return
		}
	}
	if field.Focused(gtx) {
		h.shown = h.shown || field.Text() != a.session.Case().Complaint || field.Text() == ""
	} else if h.shown && !h.focused(gtx) {
		h.shown = false
	}
	if !h.shown {
		return
	}
	if h.list == nil || h.typed != field.Text() {
		h.typed, h.list = field.Text(), model.Suggest(field.Text(), mostSuggested)
	}
}

// focused tells whether the keyboard is on a suggestion.
func (h *hearing) focused(gtx ctx) bool {
	for _, saying := range h.list {
		if p := h.press[saying]; p != nil && (gtx.Focused(&p.Clickable) || p.Hovered()) {
			return true
		}
	}
	return false
}

func (h *hearing) rows(a *Area, field *widgets.Field) []layout.Widget {
	th := a.set.Theme
	var rows []layout.Widget
	if h.shown {
		for _, saying := range h.list {
			if h.press == nil {
				h.press = map[string]*widgets.Press{}
			}
			p, ok := h.press[saying]
			if !ok {
				p = &widgets.Press{}
				h.press[saying] = p
			}
			rows = append(rows, inset(func(gtx ctx) dims {
				return p.Layout(gtx, th, "Say: "+saying, false, func(gtx ctx) dims {
					return widgets.Card(gtx, th, th.Card, th.Rule, func(gtx ctx) dims {
						gtx.Constraints.Min.X = gtx.Constraints.Max.X
						return widgets.Text{Words: upper(saying), Lines: 1}.Layout(gtx, th)
					})
				})
			}))
		}
		return rows
	}
	said := a.session.Case().Complaint
	if h.said != said {
		h.said, h.heard = said, model.Hear(said)
	}
	var words []string
	for _, x := range h.heard.Heard {
		words = append(words, x.Means)
	}
	if len(words) > 0 {
		rows = append(rows, inset(widgets.Text{Size: theme.Small, Color: th.Soft, Lines: 2, Words: "Taken to mean: " + strings.Join(words, "; ")}.In(th)))
	}
	if len(h.heard.Unheard) > 0 {
		rows = append(rows, inset(widgets.Text{Words: strings.Join(h.heard.Unheard, ". "), Size: theme.Small, Color: th.Soft}.In(th)))
	}
	return rows
}
