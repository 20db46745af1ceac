package ui

import (
	"gioui.org/layout"

	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// A notice is a strip below the bar, with at most one thing to do about it. The zero value is no notice. One with nothing
// to do goes away by itself at the next deed.
type notice struct {
	words string
	do    string // what the button says; empty for none
	deed  func(*shell)
}

func (s *shell) updateNotice(gtx ctx) {
	if s.noteA.Clicked(gtx) && s.notice.deed != nil {
		deed := s.notice.deed
		s.notice = notice{}
		deed(s)
	}
	if s.noteB.Clicked(gtx) {
		s.notice = notice{}
	}
}

func (s *shell) layoutNotice(gtx ctx) dims {
	if s.notice.words == "" {
		return dims{}
	}
	th := s.theme
	return layout.Inset{Left: theme.Step, Right: theme.Step, Bottom: theme.Half}.Layout(gtx, func(gtx ctx) dims {
		return widgets.Card(gtx, th, theme.Mix(th.Panel, th.Select, 0.10), theme.Mix(th.Panel, th.Select, 0.5), func(gtx ctx) dims {
			children := []layout.FlexChild{layout.Flexed(1, widgets.Words(s.notice.words).In(th))}
			if s.notice.do != "" {
				children = append(children, layout.Rigid(func(gtx ctx) dims {
					return s.noteA.Layout(gtx, th, widgets.ButtonLook{Words: s.notice.do})
				}), widgets.Space(theme.Step))
			}
			children = append(children, layout.Rigid(func(gtx ctx) dims {
				return s.noteB.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconClose, Label: "Put this note away", Rank: widgets.Quiet})
			}))
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx, children...)
		})
	})
}
