package flow

import (
	"image"
	"time"

	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"

	"airpath/circuit"
	"airpath/ui/canvas"
	"airpath/ui/engine"
	"airpath/ui/model"
	"airpath/ui/sound"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

type (
	ctx  = layout.Context
	dims = layout.Dimensions
)

// A Vehicle is what is worked: a real one on its own goroutine, or one that stands still for pictures and tests.
type Vehicle interface {
	Frame() *engine.Frame // the latest; nil while it is made ready
	Do(func(*engine.Worked))
	Close()
}

// An Area is the Flow work area on one vehicle.
type Area struct {
	circuit *circuit.Circuit
	vehicle Vehicle
	set     Setting
	frame   *engine.Frame
	now     time.Time

	sheet  canvas.Sheet
	scene  canvas.Scene
	motion *canvas.Motion
	show   canvas.Show

	controls []*control
	dash     dash
	times    timeStrip
	panel    panel
	colours  colourScale
	above    int  // height of what is over the sheet, px
	folded   bool // on a small screen: the panel lies over the sheet
	fold     widgets.Button

	Speaker sound.Speaker // of what blows
}

// A Setting is what the whole window has decided.
type Setting struct {
	Theme *theme.Theme
	Prefs *model.Preferences // changed here where the area owns the preference
	Saved func()             // preferences changed
}

// New makes the area for a vehicle.
func New(c *circuit.Circuit, v Vehicle) *Area {
	a := &Area{circuit: c, vehicle: v, controls: controlsOf(c)}
	a.scene.Circuit = c
	return a
}

// Close ends the vehicle.
func (a *Area) Close() { a.vehicle.Close() }

// narrow is the width in dp below which the panel folds over the sheet.
const narrow = 820

// Layout draws the area and handles what happened to its controls.
func (a *Area) Layout(gtx ctx, set Setting) dims {
	a.set, a.now = set, gtx.Now
	a.frame = a.vehicle.Frame()
	size := gtx.Constraints.Max
	if a.frame == nil || a.frame.Network == nil {
		a.layoutWaiting(gtx)
		return dims{Size: size}
	}
	a.attach()
	a.update(gtx)
	a.panel.refresh(gtx, a)
	bottom := min(a.dash.height(gtx, a), size.Y/2)
	strip := min(a.times.height(gtx, a), (size.Y-bottom)/2)
	top := size.Y - bottom - strip
	column := 0
	small := size.X < gtx.Dp(narrow)
	if !small {
		column = min(gtx.Dp(340), size.X*36/100)
	}
	main := image.Pt(size.X-column, top)
	if small && a.folded {
		a.panel.layout(within(gtx, main), a)
	} else {
		a.layoutSheet(within(gtx, main))
	}
	off := op.Offset(image.Pt(0, top)).Push(gtx.Ops)
	a.times.layout(within(gtx, image.Pt(size.X, strip)), a)
	off.Pop()
	off = op.Offset(image.Pt(0, top+strip)).Push(gtx.Ops)
	a.dash.layout(within(gtx, image.Pt(size.X, bottom)), a, small)
	off.Pop()
	if column > 0 {
		off = op.Offset(image.Pt(main.X, 0)).Push(gtx.Ops)
		a.panel.layout(within(gtx, image.Pt(column, top)), a)
		off.Pop()
	}
	if set.Prefs.Sound && a.frame.Playing && a.motion != nil {
		exhaust, leak := a.motion.Blowing(a.frame.Now)
		a.Speaker.Play(sound.Air{Exhaust: exhaust, Leak: leak})
	}
	if a.motion.Behind() {
		gtx.Execute(op.InvalidateCmd{})
	}
	return dims{Size: size}
}

// attach makes what hangs on the compiled vehicle, once it is there.
func (a *Area) attach() {
	n := a.frame.Network
	if a.dash.index != nil {
		return
	}
	x := n.Index()
	for _, c := range a.controls {
		c.index = x.Control[c.name]
	}
	a.dash.init(a, x)
	a.panel.attach(a)
}

func (a *Area) update(gtx ctx) {
	for _, c := range a.controls {
		c.update(gtx, a)
	}
	a.dash.update(gtx, a)
	a.times.update(gtx, a)
	a.panel.update(gtx, a)
	if a.fold.Clicked(gtx) {
		a.folded = !a.folded
	}
}

// do something to the vehicle.
func (a *Area) do(deed func(*engine.Worked)) { a.vehicle.Do(deed) }

func (a *Area) layoutSheet(gtx ctx) dims {
	news := gtx.Sp(22)
	if gtx.Constraints.Max.Y < 6*news {
		news = 0
	}
	whole := gtx
	gtx.Constraints = layout.Exact(image.Pt(gtx.Constraints.Max.X, gtx.Constraints.Max.Y-news))
	for _, picked := range a.sheet.Update(gtx, &a.scene) {
		a.panel.pick(a, model.ComponentOf(picked))
		gtx.Execute(op.InvalidateCmd{}) // the panel's words have been made before this
	}
	if drawn := a.sheet.Drawn(); a.motion == nil && drawn != nil {
		a.motion = canvas.NewMotion(a.frame.Network, drawn)
	}
	a.show = canvas.Show{
		Glance: a.frame.Now, Path: a.panel.lit(a), Numbered: a.panel.page == partPage, Selected: a.panel.part, Moving: a.frame.Playing,
		Unit: string(a.set.Prefs.Units), TextScale: float64(a.set.Prefs.TextScale),
	}
	a.above = news
	at(gtx, image.Pt(0, news), func() { a.sheet.LayoutMotion(gtx, a.set.Theme, &a.scene, a.motion, &a.show) })
	if news > 0 {
		a.layoutNews(whole, news)
	}
	return dims{Size: whole.Constraints.Max}
}

// layoutNews says in a sentence or two what the air is doing now, over the sheet.
func (a *Area) layoutNews(gtx ctx, height int) {
	th := a.set.Theme
	widgets.Rect(gtx, th.Paper, image.Rect(0, 0, gtx.Constraints.Max.X, height))
	scale := 0
	if gtx.Constraints.Max.X > gtx.Dp(700) {
		scale = a.colours.layout(gtx, th, string(a.set.Prefs.Units))
	}
	words, c := a.panel.news, th.Ink
	if a.frame.Trouble != "" {
		words, c = a.frame.Trouble, th.Broken
	}
	if words == "" {
		return
	}
	gtx.Constraints = layout.Constraints{Max: image.Pt(gtx.Constraints.Max.X-2*gtx.Dp(theme.Gap)-scale, gtx.Sp(60))}
	at(gtx, image.Pt(gtx.Dp(theme.Gap), gtx.Dp(theme.Half)), func() {
		m := op.Record(gtx.Ops)
		d := widgets.Text{Words: words, Size: theme.Small, Weight: theme.Strong, Color: c, Lines: 2}.Layout(gtx, th)
		text := m.Stop()
		if d.Size.Y > height { // a second line lies over the sheet, which keeps its place
			widgets.Rect(gtx, th.Paper, image.Rectangle{Max: d.Size})
		}
		text.Add(gtx.Ops)
	})
}

// layoutWaiting is shown while the vehicle is made ready, and where it can't be.
func (a *Area) layoutWaiting(gtx ctx) {
	th := a.set.Theme
	paint.Fill(gtx.Ops, th.Paper)
	words := widgets.Text{Words: "Charging the vehicle …", Size: theme.Large, Color: th.Soft}
	if a.frame != nil {
		words = widgets.Text{Words: a.frame.Trouble, Color: th.Broken}
	}
	layout.Center.Layout(gtx, func(gtx ctx) dims {
		gtx.Constraints.Max.X = min(gtx.Constraints.Max.X, gtx.Dp(560))
		gtx.Constraints.Min = image.Point{}
		return words.Layout(gtx, th)
	})
}

// within gives a part of the window exactly this size.
func within(gtx ctx, size image.Point) ctx {
	size.X, size.Y = max(size.X, 0), max(size.Y, 0)
	gtx.Constraints = layout.Exact(size)
	return gtx
}

// at runs a widget shifted by whole pixels.
func at(gtx ctx, p image.Point, w func()) {
	defer op.Offset(p).Push(gtx.Ops).Pop()
	w()
}

// ground fills a part of the window and keeps what is drawn inside it.
func ground(gtx ctx, th *theme.Theme) clip.Stack {
	size := gtx.Constraints.Max
	area := clip.Rect{Max: size}.Push(gtx.Ops)
	paint.Fill(gtx.Ops, th.Panel)
	return area
}
