package widgets

import (
	"fmt"
	"image"
	"time"

	"gioui.org/layout"
	"gioui.org/op"

	"airpath/ui/theme"
)

// A Stopwatch takes a time. It shows whole tenths: nobody stops by hand more sharply than that.
type Stopwatch struct {
	start  Button
	clear  Button
	since  time.Time // zero while it stands
	before time.Duration
}

// Running tells whether it runs.
func (w *Stopwatch) Running() bool { return !w.since.IsZero() }

// Shows is what it shows at a moment.
func (w *Stopwatch) Shows(now time.Time) time.Duration {
	if w.since.IsZero() {
		return w.before
	}
	return w.before + now.Sub(w.since)
}

// Press starts it from zero, or stops it.
func (w *Stopwatch) Press(now time.Time) {
	if w.Running() {
		w.before, w.since = w.Shows(now), time.Time{}
		return
	}
	w.before, w.since = 0, now
}

// Update reports that it was stopped by its button.
func (w *Stopwatch) Update(gtx layout.Context) (stopped bool) {
	for w.start.Clicked(gtx) {
		w.Press(gtx.Now)
		stopped = !w.Running()
	}
	if w.clear.Clicked(gtx) {
		w.before, w.since = 0, time.Time{}
	}
	return stopped
}

// SayTime writes a duration as a stopwatch shows it: "1:02.4".
func SayTime(d time.Duration) string {
	tenths := int(d.Round(100*time.Millisecond) / (100 * time.Millisecond))
	return fmt.Sprintf("%d:%02d.%d", tenths/600, tenths/10%60, tenths%10)
}

// Layout draws the time and its buttons across the width, and while it runs asks for a frame a tenth of a second on.
func (w *Stopwatch) Layout(gtx layout.Context, th *theme.Theme) layout.Dimensions {
	words := "Start"
	if w.Running() {
		words = "Stop"
		gtx.Execute(op.InvalidateCmd{At: gtx.Now.Add(100 * time.Millisecond)})
	}
	shown := SayTime(w.Shows(gtx.Now))
	return Labelled(gtx, "Stopwatch", shown, func(gtx layout.Context) layout.Dimensions {
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
			layout.Flexed(1, Text{Words: shown, Size: theme.Huge, Weight: theme.Strong, Lines: 1}.In(th)),
			layout.Rigid(func(gtx layout.Context) layout.Dimensions {
				if w.Running() || w.before == 0 {
					return layout.Dimensions{}
				}
				gtx.Constraints.Min = image.Point{}
				return w.clear.Layout(gtx, th, ButtonLook{Words: "Zero", Label: "Set the stopwatch to zero", Rank: Quiet})
			}),
			Space(theme.Step),
			layout.Rigid(func(gtx layout.Context) layout.Dimensions {
				gtx.Constraints.Min.X = gtx.Dp(110)
				gtx.Constraints.Max.X = max(gtx.Constraints.Min.X, min(gtx.Constraints.Max.X, gtx.Dp(110)))
				return w.start.Layout(gtx, th, ButtonLook{Words: words, Label: words + " the stopwatch", Down: w.Running(), Wide: true})
			}))
	})
}
