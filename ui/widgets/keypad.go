package widgets

import (
	"image"

	"gioui.org/layout"
	"gioui.org/op"

	"airpath/ui/theme"
)

// A Keypad enters a number with a gloved finger.
type Keypad struct {
	keys [12]Button
}

var keypadKeys = [12]string{"7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "⌫"}

// Update types what was pressed into the field.
func (k *Keypad) Update(gtx layout.Context, into *Field) (pressed bool) {
	for i := range k.keys {
		for k.keys[i].Clicked(gtx) {
			pressed = true
			if keypadKeys[i] == "⌫" {
				into.Delete(-1)
			} else {
				into.Insert(keypadKeys[i])
			}
		}
	}
	return pressed
}

// Layout draws the keys in three columns across the width.
func (k *Keypad) Layout(gtx layout.Context, th *theme.Theme) layout.Dimensions {
	gap := gtx.Dp(6)
	cell := image.Pt((gtx.Constraints.Max.X-2*gap)/3, gtx.Dp(48))
	for i := range k.keys {
		look := ButtonLook{Words: keypadKeys[i], Label: "key " + keypadKeys[i]}
		if keypadKeys[i] == "⌫" {
			look = ButtonLook{Icon: IconBack, Label: "key erase"}
		}
		g := gtx
		g.Constraints = layout.Exact(cell)
		look.Wide = true
		off := op.Offset(image.Pt((i%3)*(cell.X+gap), (i/3)*(cell.Y+gap))).Push(gtx.Ops)
		k.keys[i].Layout(g, th, look)
		off.Pop()
	}
	return layout.Dimensions{Size: image.Pt(gtx.Constraints.Max.X, 4*cell.Y+3*gap)}
}

// IconBack rubs out the last digit.
var IconBack = Icon{line(9, 6, 20, 6, 20, 18, 9, 18, 3, 12, 9, 6), line(11, 9.5, 16, 14.5), line(16, 9.5, 11, 14.5)}
