package symbol

import (
	"math"

	"airpath/circuit"
)

// What a window needs that shows the sheet in motion: it keeps pictures of what does not change, and draws by itself what
// does.

// A Pipe is an air line as it lies on the sheet.
type Pipe struct {
	Line    *circuit.Line
	Points  []Point // corners, with the hops over other lines drawn in
	Corners []Point // corners alone
	Pilot   bool    // carries only a command: drawn dashed
	Hops    []Hop
	Rooms   [2]string
}

// A Hop is where a line hops over others: between two distances along one of its legs.
type Hop struct {
	Leg      int
	From, To float64
}

// HopRadius is how high a hop is, and how far its foot lies before it begins, grid steps. Hops of level legs go up, those
// of upright legs to the right.
const HopRadius = bridgeRadius

// Pipes lists the air lines in file order. What they hold must not be changed.
func (sh *Sheet) Pipes() []Pipe {
	var out []Pipe
	for i := range sh.lines {
		r := &sh.lines[i]
		if r.line.Type.Medium() != circuit.Air {
			continue
		}
		out = append(out, Pipe{Line: r.line, Points: r.drawn, Corners: r.points, Pilot: r.pilot, Hops: r.hops(),
			Rooms: [2]string{sh.circuit.Room(r.line.From), sh.circuit.Room(r.line.To)}})
	}
	return out
}

// hops of a line; neighbours that would touch are one.
func (r *run) hops() []Hop {
	var out []Hop
	for _, b := range r.bridges {
		d := manhattan(r.points[b.leg], b.at)
		if n := len(out); n > 0 && out[n-1].Leg == b.leg && d-out[n-1].To <= 2.5*bridgeRadius {
			out[n-1].To = d
			continue
		}
		out = append(out, Hop{b.leg, d, d})
	}
	return out
}

// LineWidth of an air line at an absolute pressure (NaN: not known), in grid steps.
func LineWidth(look Look, pa float64, pilot bool) float64 { return airWidth(look, pa, pilot) }

// PilotDash is how pilot lines are dashed: on and off, in grid steps.
var PilotDash = []float64{1.1, 0.7}

// DrawPart draws one component with what surrounds it, as DrawLayer does for all, but for the digits of its ports.
func (sh *Sheet) DrawPart(s Surface, id string, look Look, marks Marks) {
	i, ok := sh.partAt[id]
	if !ok {
		return
	}
	v := sh.viewOf(s, look, marks)
	p := &sh.parts[i]
	s.Begin(p.comp.ID, partTitle(p.comp))
	v.halo(p)
	v.paint(p)
	s.End()
}

// DrawDigits draws the numbers of all ports, where they are written at this look.
func (sh *Sheet) DrawDigits(s Surface, look Look) {
	v := sh.viewOf(s, look, Marks{})
	for i := range sh.parts {
		if p := &sh.parts[i]; v.shown(p.box.Grow(1.5)) {
			s.Begin(p.comp.ID, partTitle(p.comp))
			v.digits(p)
			s.End()
		}
	}
}

// DrawFixedLines draws the lines that carry no air: wires and push-rods.
func (sh *Sheet) DrawFixedLines(s Surface, look Look, marks Marks) {
	v := sh.viewOf(s, look, marks)
	v.lines(func(l *circuit.Line) bool { return l.Type.Medium() != circuit.Air })
}

func (sh *Sheet) viewOf(s Surface, look Look, marks Marks) view {
	if look.Palette == nil {
		look.Palette = Light
	}
	if look.Scale <= 0 {
		look.Scale = 8
	}
	return view{sh: sh, s: s, look: look, marks: marks, path: pathSteps(marks.Path)}
}

// DrawNamesBeside draws the names that stand beside their symbols, not those inside.
func (sh *Sheet) DrawNamesBeside(s Surface, look Look) {
	v := sh.viewOf(s, look, Marks{})
	for _, l := range sh.placedLabels(v.look) {
		if sh.parts[l.part].drawing.Inside != (Box{}) {
			continue
		}
		x, top, font := v.lettering(&l)
		for i, text := range l.lines {
			s.Text(Point{X: x, Y: v.baseline(top, i, font)}, text, font)
		}
	}
}

// Vent is where a port opens to the air: the tip of its triangle, and the way the air goes.
func (sh *Sheet) Vent(component, port string) (Port, bool) {
	i, ok := sh.partAt[component]
	if !ok {
		return Port{}, false
	}
	p := &sh.parts[i]
	spec, ok := p.comp.Kind.Port(port)
	if !ok || !spec.Vent {
		return Port{}, false
	}
	return sh.PortAt(circuit.PortRef{Component: component, Port: port})
}

// MiddleOf a line is where a mark on it is put: the middle of its longest leg.
func (p Pipe) MiddleOf() (at Point, along Direction) {
	longest := -1.0
	for i := range len(p.Corners) - 1 {
		a, b := p.Corners[i], p.Corners[i+1]
		if d := math.Hypot(b.X-a.X, b.Y-a.Y); d > longest {
			longest = d
			at = Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
			along = directionOf(Point{X: b.X - a.X, Y: b.Y - a.Y})
		}
	}
	return at, along
}

// Tiers of a component's state for showing: states in the same tier look the same, so that a picture of one can stand for
// the other.
const (
	openTiers   = 6
	strokeTiers = 24
)

// OpenTier of a share that a passage stands open; shut is 0 and nothing else is.
func OpenTier(share float64) int {
	if share <= openEnough {
		return 0
	}
	return 1 + min(openTiers-1, int(share*openTiers))
}

// PressureTier of an absolute pressure: its step of the colour scale.
func PressureTier(pa float64) int {
	if math.IsNaN(pa) {
		return -1
	}
	return int(math.Round(fullness(pa) * (rampSteps - 1)))
}

// StrokeTier of a push-rod's share of its way, and of controls.
func StrokeTier(share float64) int { return int(math.Round(min(1, max(0, share)) * strokeTiers)) }

// A ValueSpot is where a dial's value is written, under its name.
type ValueSpot struct {
	ID   string
	At   Point // on the baseline
	Font Font
}

// ValueSpots are the dials' places for values at a look. DrawLayer writes the values that it knows there by itself.
func (sh *Sheet) ValueSpots(look Look) []ValueSpot {
	v := sh.viewOf(nil, look, Marks{})
	var out []ValueSpot
	for _, l := range sh.placedLabels(v.look) {
		if !l.value {
			continue
		}
		at, font := v.valueOf(&l)
		out = append(out, ValueSpot{sh.parts[l.part].comp.ID, at, font})
	}
	return out
}
