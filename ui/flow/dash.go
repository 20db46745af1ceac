package flow

import (
	"fmt"
	"image"

	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/unit"

	"airpath/circuit/airflow"
	"airpath/ui/engine"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// dash is the strip with what a driver has before him: needles and lamps, ignition and engine, pedal and knobs.
type dash struct {
	index *airflow.Index
	dials []*dial
	lamps []lampShown
	key   int
	speed int

	ignition widgets.Choice
	throttle widgets.Slider
	row      layout.List
	cells    []layout.Widget
	share    float32 // of their full widths that the cells have
}

// Full widths of what stands on the dash, dp, and the least share of them that can still be read and hit.
const (
	dialWide    = 112
	lampsWide   = 158
	engineWide  = 240
	gradualWide = 200
	knobWide    = 138
	leastShare  = 0.8
)

// squeeze the cells where they would not all be in sight; what does not fit even so is scrolled to.
func (d *dash) squeeze(gtx ctx, a *Area, width int) {
	full := lampsWide
	if len(a.frame.Network.Pumps()) > 0 {
		full += engineWide
	}
	for _, c := range a.controls {
		switch {
		case c.cab && c.spec.Gradual:
			full += gradualWide
		case c.cab:
			full += knobWide
		}
	}
	room := width - len(d.dials)*gtx.Dp(dialWide)
	d.share = min(1, max(leastShare, float32(room)/float32(max(1, gtx.Dp(unit.Dp(full))))))
}

func (d *dash) wide(gtx ctx, full unit.Dp) int { return int(float32(gtx.Dp(full)) * d.share) }

type lampShown struct {
	name  string
	index int
}

// The ignition's stages.
var stages = []string{"Off", "Key", "Idle", "Rated"}

func (d *dash) init(a *Area, x *airflow.Index) {
	d.index = x
	n := a.frame.Network
	for i, id := range n.Gauges() {
		part := a.circuit.Component(id)
		d.dials = append(d.dials, newDial(part, i))
	}
	for i, id := range n.Sinks() {
		d.lamps = append(d.lamps, lampShown{a.circuit.Component(id).Name, i})
	}
	d.key, d.speed = x.Control[airflow.Key], x.Control[airflow.Engine]
}

// stage that the ignition stands at, as near as it comes.
func (d *dash) stage(a *Area) int {
	g := a.frame.Now
	c := a.circuit.Engine
	switch v := g.Control[d.speed]; {
	case v <= 0 && g.Control[d.key] < 0.5:
		return 0
	case v <= 0:
		return 1
	case v < (c.Idle.SI+c.Rated.SI)/2:
		return 2
	}
	return 3
}

func (d *dash) update(gtx ctx, a *Area) {
	if i, ok := d.ignition.Update(gtx); ok {
		a.ignite(i)
	}
	most := a.circuit.Engine.Rated.SI
	if most <= 0 {
		return
	}
	if v, ok := d.throttle.Update(gtx, a.frame.Now.Control[d.speed]/most, 0.05); ok {
		a.runEngine(v * most)
	}
}

// ignite turns the ignition to one of its stages.
func (a *Area) ignite(stage int) {
	key, speed := 1.0, 0.0
	switch stage {
	case 0:
		key = 0
	case 2:
		speed = a.circuit.Engine.Idle.SI
	case 3:
		speed = a.circuit.Engine.Rated.SI
	}
	words, now := []string{"engine off", "key on", "engine idling", "engine at rated speed"}[stage], a.now
	a.do(func(w *engine.Worked) {
		w.SetAll([]engine.Move{{Control: airflow.Key, Value: key}, {Control: airflow.Engine, Value: speed, Over: 0.5}}, now, words)
	})
}

// runEngine at a speed, rev/s. It will not run slower than it idles.
func (a *Area) runEngine(speed float64) {
	idle := a.circuit.Engine.Idle.SI
	if speed < idle/2 {
		speed = 0
	} else {
		speed = max(speed, idle)
	}
	words, now := "engine at "+sayTurns(speed), a.now
	a.do(func(w *engine.Worked) {
		moves := []engine.Move{{Control: airflow.Engine, Value: speed, Over: 0.2}}
		if speed > 0 {
			moves = append([]engine.Move{{Control: airflow.Key, Value: 1}}, moves...)
		}
		w.SetAll(moves, now, words)
	})
}

func sayTurns(speed float64) string { return fmt.Sprintf("%.0f rpm", speed*60) }

func (d *dash) height(gtx ctx, a *Area) int { return gtx.Dp(108) + gtx.Sp(20) }

func (d *dash) layout(gtx ctx, a *Area, small bool) dims {
	th, size := a.set.Theme, gtx.Constraints.Max
	defer ground(gtx, th).Pop()
	widgets.Rect(gtx, th.Rule, image.Rect(0, 0, size.X, 1))
	d.cells = d.cells[:0]
	d.squeeze(gtx, a, size.X-gtx.Dp(theme.Gap))
	for _, x := range d.dials {
		d.cells = append(d.cells, func(gtx ctx) dims { return x.layout(gtx, a) })
	}
	d.cells = append(d.cells, func(gtx ctx) dims { return d.layoutLamps(gtx, a) }, func(gtx ctx) dims { return d.layoutEngine(gtx, a) })
	for _, c := range a.controls {
		if c.cab {
			d.cells = append(d.cells, func(gtx ctx) dims { return c.layoutDash(gtx, a) })
		}
	}
	if small {
		d.cells = append(d.cells, func(gtx ctx) dims {
			return a.fold.Layout(gtx, th, widgets.ButtonLook{Words: "Sheet or panel", Small: true})
		})
	}
	defer op.Offset(image.Pt(gtx.Dp(theme.Step), gtx.Dp(theme.Half))).Push(gtx.Ops).Pop()
	gtx.Constraints = layout.Constraints{Max: image.Pt(size.X-gtx.Dp(theme.Gap), size.Y-gtx.Dp(theme.Step))}
	return d.row.Layout(gtx, len(d.cells), func(gtx ctx, i int) dims { return d.cells[i](gtx) })
}

// caption is the name over something on the dash.
func caption(gtx ctx, th *theme.Theme, words string, width int) dims {
	g := gtx
	g.Constraints = layout.Constraints{Max: image.Pt(width, gtx.Sp(40))}
	return widgets.Text{Words: words, Size: theme.Small, Color: th.Soft, Lines: 1}.Layout(g, th)
}

func (d *dash) layoutLamps(gtx ctx, a *Area) dims {
	th, width := a.set.Theme, d.wide(gtx, lampsWide)
	y := gtx.Dp(2)
	for _, l := range d.lamps {
		lit := a.frame.Now.Lit[l.index]
		at(gtx, image.Pt(0, y), func() { lampCell(gtx, th, l.name, lit, width) })
		y += gtx.Sp(28)
	}
	return dims{Size: image.Pt(width, gtx.Constraints.Max.Y)}
}

// lampCell is a lamp or buzzer: a filled field with its name when it is on, an empty one when it is not.
func lampCell(gtx ctx, th *theme.Theme, name string, lit bool, width int) {
	state := "off"
	front := th.Soft
	box := image.Rect(0, gtx.Sp(3), gtx.Sp(14), gtx.Sp(17))
	if lit {
		state, front = "ON", th.Ink
	}
	g := gtx
	g.Constraints = layout.Exact(image.Pt(width-gtx.Dp(6), gtx.Sp(24)))
	widgets.Labelled(g, name+": "+state, "", func(gtx ctx) dims {
		edge, fill := th.Edge, th.Sunk
		if lit {
			edge, fill = th.Ink, th.Sheet.Lamp
		}
		widgets.Rect(gtx, edge, box)
		widgets.Rect(gtx, fill, box.Inset(max(1, gtx.Dp(2))))
		weight := theme.Normal
		if lit {
			weight = theme.Strong
		}
		at(gtx, image.Pt(gtx.Sp(20), gtx.Sp(1)), func() {
			gtx.Constraints = layout.Constraints{Max: image.Pt(width-gtx.Sp(24), gtx.Sp(40))}
			widgets.Text{Words: name, Size: 12, Color: front, Weight: weight, Lines: 1}.Layout(gtx, th)
		})
		return dims{Size: g.Constraints.Max}
	})
}

func (d *dash) layoutEngine(gtx ctx, a *Area) dims {
	th, width := a.set.Theme, d.wide(gtx, engineWide)
	most := a.circuit.Engine.Rated.SI
	if most <= 0 {
		return dims{}
	}
	speed := a.frame.Now.Control[d.speed]
	at(gtx, image.Pt(0, 0), func() { caption(gtx, th, "Ignition and engine, "+sayTurns(speed), width) })
	y := gtx.Sp(20)
	at(gtx, image.Pt(0, y), func() {
		g := gtx
		g.Constraints = layout.Constraints{Max: image.Pt(width-gtx.Dp(theme.Gap), gtx.Dp(theme.Touch))}
		d.ignition.Layout(g, th, "ignition", stages, d.stage(a))
	})
	y += gtx.Dp(theme.Touch)
	at(gtx, image.Pt(0, y), func() {
		g := gtx
		g.Constraints = layout.Exact(image.Pt(width-gtx.Dp(theme.Gap), gtx.Dp(theme.Touch)))
		d.throttle.Layout(g, th, widgets.SliderLook{Label: "engine speed", Value: sayTurns(speed), Share: speed / max(most, 1e-9), Stops: []float64{a.circuit.Engine.Idle.SI / max(most, 1e-9)}})
	})
	return dims{Size: image.Pt(width, gtx.Constraints.Max.Y)}
}
