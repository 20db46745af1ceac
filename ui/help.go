package ui

import (
	"gioui.org/io/key"
	"gioui.org/layout"

	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// helpPanel lists the keys, and says in a few words how the window is meant.
type helpPanel struct {
	open   bool
	ready  bool // the keyboard is in the panel
	close  widgets.Button
	hints  widgets.Button
	scroll widgets.Scroll
}

func (h *helpPanel) update(gtx ctx, s *shell) {
	if h.open && !h.ready {
		gtx.Execute(key.FocusCmd{Tag: &h.close.Clickable})
	}
	h.ready = h.open
	if h.close.Clicked(gtx) {
		h.open = false
	}
	if h.hints.Clicked(gtx) {
		s.prefs.HintsSeen, h.open = false, false
		s.savePrefs()
	}
}

func (h *helpPanel) layout(gtx ctx, s *shell) dims {
	th := s.theme
	rows := []layout.Widget{
		func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, widgets.Text{Words: "How to go about it", Size: theme.Large, Weight: theme.Strong}.In(th)),
				layout.Rigid(func(gtx ctx) dims {
					return h.close.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconClose, Label: "Close the help", Rank: widgets.Quiet})
				}))
		},
		widgets.Words("Mark what is wrong: click the gauge, valve or line on the sheet where you found it, or do a test and enter what you read. The column says what it can be and why; choose a suspect and its path lights up. Then do the test it names: it tells most for the least work.").In(th),
		func(gtx ctx) dims {
			return layout.Inset{Top: theme.Step, Bottom: theme.Step}.Layout(gtx, func(gtx ctx) dims {
				return widgets.Notice(gtx, th, widgets.Danger, "Airpath does not certify a vehicle. Local regulations, the vehicle maker's data and a licensed technician decide. The same work can be done as commands, in text: airpath --help.")
			})
		},
	}
	for _, c := range shortcutTable {
		if c.does == "" || !s.holds(c.in) {
			continue
		}
		rows = append(rows, func(gtx ctx) dims {
			return layout.Inset{Top: 3, Bottom: 3}.Layout(gtx, func(gtx ctx) dims {
				return layout.Flex{Alignment: layout.Baseline}.Layout(gtx,
					layout.Rigid(func(gtx ctx) dims {
						gtx.Constraints.Min.X = gtx.Dp(190)
						return widgets.Text{Words: c.keys, Weight: theme.Strong}.Layout(gtx, th)
					}),
					layout.Flexed(1, widgets.Words(c.does).In(th)))
			})
		})
	}
	rows = append(rows, func(gtx ctx) dims {
		return h.hints.Layout(gtx, th, widgets.ButtonLook{Words: "Show the first hints again"})
	})
	return h.scroll.Layout(gtx, th, rows)
}
