package widgets

import (
	"image"
	"image/color"

	"gioui.org/layout"
	"gioui.org/unit"

	"airpath/ui/theme"
)

// Bar shows a share from 0 to 1 as a filled length. The number always stands beside it, drawn by the caller.
func Bar(gtx layout.Context, th *theme.Theme, share float64, c color.NRGBA, height unit.Dp) layout.Dimensions {
	size := image.Pt(gtx.Constraints.Max.X, gtx.Dp(height))
	Fill(gtx, th.Sunk, size)
	share = min(max(share, 0), 1)
	if w := int(share*float64(size.X) + 0.5); w > 0 {
		Fill(gtx, c, image.Pt(w, size.Y))
	}
	return layout.Dimensions{Size: size}
}

// Tag is a small filled label: a state, a count, a verdict.
func Tag(gtx layout.Context, th *theme.Theme, words string, ground, front color.NRGBA) layout.Dimensions {
	return layout.Background{}.Layout(gtx,
		func(gtx layout.Context) layout.Dimensions {
			Box(gtx, gtx.Constraints.Min, ground, color.NRGBA{}, 0)
			return layout.Dimensions{Size: gtx.Constraints.Min}
		},
		func(gtx layout.Context) layout.Dimensions {
			return layout.Inset{Left: 7, Right: 7, Top: 2, Bottom: 2}.Layout(gtx,
				Text{Words: words, Size: theme.Small, Weight: theme.Strong, Color: front, Lines: 1}.In(th))
		})
}
