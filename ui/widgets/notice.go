package widgets

import (
	"image/color"

	"gioui.org/layout"

	"airpath/ui/theme"
)

// A Tone is what a notice is about.
type Tone int

const (
	Hint Tone = iota
	Danger
	Trouble
)

// Notice is a strip of words with a sign before it, so that its tone is not told by colour alone.
func Notice(gtx layout.Context, th *theme.Theme, tone Tone, words string) layout.Dimensions {
	ground, front, icon := theme.Mix(th.Panel, th.Select, 0.12), th.Ink, IconHelp
	edge := color.NRGBA{}
	switch tone {
	case Danger:
		ground, front, icon = th.Caution, th.OnCaution, IconWarning
	case Trouble:
		ground, front, icon, edge = theme.Mix(th.Panel, th.Broken, 0.14), th.Ink, IconWarning, th.Broken
	}
	return Card(gtx, th, ground, edge, func(gtx layout.Context) layout.Dimensions {
		return layout.Flex{Alignment: layout.Start}.Layout(gtx,
			layout.Rigid(func(gtx layout.Context) layout.Dimensions { return icon.Layout(gtx, front, 20) }),
			Space(theme.Step),
			layout.Flexed(1, Text{Words: words, Size: theme.Small, Color: front}.In(th)))
	})
}
