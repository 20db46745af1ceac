package tracing

import (
	"image"

	"gioui.org/io/event"
	"gioui.org/io/pointer"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"

	"airpath/circuit/airflow/procedure"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// curveStrip is the strip below the sheet: what the gauges would show in one test, on the healthy vehicle and with the
// chosen suspect's fault. It is a bar to press until it is drawn up.
type curveStrip struct {
	found   *procedure.Procedure // that the findings suggest, at a revision of the case
	foundAt int
	bar     widgets.Button
	before  widgets.Button
	after   widgets.Button
	fit     widgets.Button
	in      widgets.Button
	out     widgets.Button
	shown   string // procedure whose curves are wanted; "" follows the case
	plot    plot
	up      bool // drawn up, as the preferences say
}

func (c *curveStrip) update(gtx ctx, a *Area) {
	c.up = a.set.Prefs.Curves
	if c.bar.Clicked(gtx) {
		a.set.Prefs.Curves = !a.set.Prefs.Curves
		c.up = a.set.Prefs.Curves
		a.set.Saved()
	}
	if c.fit.Clicked(gtx) {
		a.FitSheet()
	}
	if c.in.Clicked(gtx) {
		a.Zoom(1.25)
	}
	if c.out.Clicked(gtx) {
		a.Zoom(1 / 1.25)
	}
	if c.before.Clicked(gtx) {
		c.turn(a, -1)
	}
	if c.after.Clicked(gtx) {
		c.turn(a, 1)
	}
	for {
		ev, ok := gtx.Event(pointer.Filter{Target: &c.plot, Kinds: pointer.Move | pointer.Leave | pointer.Press})
		if !ok {
			break
		}
		if e, ok := ev.(pointer.Event); ok {
			c.plot.over = e.Kind != pointer.Leave
			c.plot.pointer = e.Position.Round()
		}
	}
	if p := c.procedure(a); a.set.Prefs.Curves && p != nil {
		a.session.WantCurves(c.suspect(a), p)
	}
}

// suspect is whose curves are shown: the chosen one, or the likeliest.
func (c *curveStrip) suspect(a *Area) *model.Suspect {
	if x := a.session.Selected(); x != nil {
		return x
	}
	if answer, _ := a.session.Answer(); answer != nil && len(answer.Suspects) > 0 && len(a.session.Case().Findings) > 0 {
		return &answer.Suspects[0]
	}
	return nil
}

// procedure whose curves are shown: the one turned to, that of the first finding with a number, or the first of all.
func (c *curveStrip) procedure(a *Area) *procedure.Procedure {
	all := a.session.Procedures()
	var found *procedure.Procedure
	for _, p := range all {
		if p.ID == c.shown {
			return p
		}
	}
	if c.found != nil && c.foundAt == a.session.Revision() {
		return c.found
	}
	for _, f := range a.session.Case().Findings {
		if p, r := a.session.Reading(f); p != nil && r.Form == procedure.Measured && found == nil {
			found = p
		}
	}
	if found == nil && len(all) > 0 {
		found = all[0]
	}
	c.found, c.foundAt = found, a.session.Revision()
	return found
}

func (c *curveStrip) turn(a *Area, by int) {
	all := a.session.Procedures()
	now := c.procedure(a)
	for i, p := range all {
		if p == now {
			c.shown = all[((i+by)%len(all)+len(all))%len(all)].ID
			return
		}
	}
}

// height of the strip in the room that sheet and strip share.
func (c *curveStrip) height(gtx ctx, size image.Point) int {
	bar := gtx.Dp(theme.Touch)
	if size.Y < 4*bar {
		return 0
	}
	if !c.up {
		return bar
	}
	return bar + min(gtx.Dp(230), size.Y*4/10)
}

func (c *curveStrip) layout(gtx ctx, a *Area) dims {
	th, size := a.set.Theme, gtx.Constraints.Max
	if size.Y == 0 {
		return dims{}
	}
	defer clip.Rect{Max: size}.Push(gtx.Ops).Pop()
	paint.Fill(gtx.Ops, th.Panel)
	widgets.Fill(gtx, th.Rule, image.Pt(size.X, gtx.Dp(1)))
	bar := gtx.Dp(theme.Touch)
	c.layoutBar(within(gtx, image.Pt(size.X, bar)), a)
	if size.Y <= bar {
		return dims{Size: size}
	}
	defer op.Offset(image.Pt(0, bar)).Push(gtx.Ops).Pop()
	area := image.Pt(size.X, size.Y-bar)
	defer clip.Rect{Max: area}.Push(gtx.Ops).Pop()
	event.Op(gtx.Ops, &c.plot)
	made, busy := a.session.Curves()
	c.plot.layout(within(gtx, area), th, a.set.units(), made, busy)
	return dims{Size: size}
}

func (c *curveStrip) layoutBar(gtx ctx, a *Area) dims {
	th := a.set.Theme
	look := widgets.ButtonLook{Words: "Curves", Icon: widgets.IconUp, Label: "Draw the curves up", Rank: widgets.Quiet}
	if c.up {
		look.Icon, look.Label = widgets.IconDown, "Put the curves away"
	}
	about := ""
	if p := c.procedure(a); p != nil {
		about = p.Title
		if x := c.suspect(a); x != nil {
			about += ": " + x.Title + ", against the healthy vehicle"
		} else {
			about += ": the healthy vehicle"
		}
	}
	children := []layout.FlexChild{
		layout.Rigid(func(gtx ctx) dims { gtx.Constraints.Min = image.Point{}; return c.bar.Layout(gtx, th, look) }),
		layout.Flexed(1, func(gtx ctx) dims {
			gtx.Constraints.Min.Y = 0
			return widgets.Text{Words: about, Size: theme.Small, Color: th.Soft, Lines: 1}.Layout(gtx, th)
		}),
	}
	button := func(b *widgets.Button, icon widgets.Icon, label string) {
		children = append(children, layout.Rigid(func(gtx ctx) dims {
			gtx.Constraints.Min = image.Point{}
			return b.Layout(gtx, th, widgets.ButtonLook{Icon: icon, Label: label, Rank: widgets.Quiet, Above: true})
		}))
	}
	if c.up {
		button(&c.before, widgets.IconLeft, "Curves of the test before")
		button(&c.after, widgets.IconRight, "Curves of the next test")
		children = append(children, widgets.Space(theme.Gap))
	}
	button(&c.out, widgets.IconMinus, "Zoom out")
	button(&c.in, widgets.IconPlus, "Zoom in")
	button(&c.fit, widgets.IconFit, "Fit the whole sheet")
	return layout.Flex{Alignment: layout.Middle}.Layout(gtx, children...)
}
