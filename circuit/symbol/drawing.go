package symbol

import (
	"maps"
	"slices"

	"airpath/circuit"
)

// A Drawing is how one kind looks: a box in grid steps, where the ports are on its border, and what is painted inside.
type Drawing struct {
	Width, Height float64 // unturned; even, so that ports stay on the grid whichever way the symbol is turned

	// Ports gives for each port the places on the border where its line may be fastened, the usual one first. Where there
	// are several (a tee, the terminals of a lamp) the sheet takes the one that suits the line.
	Ports map[string][]Port

	// Rest tells which passages stand open in a part without air, with every control at rest.
	Rest map[string]float64

	// Handed drawings come in pairs, as brakes do at the two ends of an axle: turned once they are the mirror image of
	// turned three times, turned twice of unturned.
	Handed bool

	// Dial tells that a pressure can be read off it.
	Dial bool

	// Inside is where the name is written, where there is room for it, when the symbol speaks for itself without; zero
	// means that the name goes beside it.
	Inside Box

	// Minor parts, such as tees, are named only where there is much room.
	Minor bool

	Paint func(*pen)
}

// A Port of a drawing: its point on the border and the side of the box that it is on.
type Port struct {
	At  Point
	Out Direction
}

// Direction along the grid.
type Direction int

const (
	Right Direction = iota
	Down
	Left
	Up
)

// Step is the direction as a vector of length 1.
func (d Direction) Step() Point {
	return [4]Point{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}}[d&3]
}

func (d Direction) horizontal() bool { return d == Right || d == Left }

// directionOf a vector, by its longer side.
func directionOf(v Point) Direction {
	if abs(v.X) >= abs(v.Y) {
		if v.X >= 0 {
			return Right
		}
		return Left
	}
	if v.Y >= 0 {
		return Down
	}
	return Up
}

var drawings = joinTables(supplyDrawings, storageDrawings, reservoirDrawings, controlDrawings, proportionDrawings, brakeDrawings,
	trailerDrawings, auxiliaryDrawings, sensingDrawings, plumbingDrawings)

func joinTables(tables ...map[string]Drawing) map[string]Drawing {
	all := map[string]Drawing{}
	for _, t := range tables {
		maps.Copy(all, t)
	}
	return all
}

// Of returns the drawing of a kind.
func Of(kind string) (Drawing, bool) {
	d, ok := drawings[kind]
	return d, ok
}

// drawingOf a component. A kind that has no drawing yet gets a plain box with its ports around it, so that a circuit can
// be shown while the kind is being made; the contract test does not let that pass.
func drawingOf(c *circuit.Component) Drawing {
	if d, ok := drawings[c.Kind.Name]; ok {
		return d
	}
	return plainBox(c.Kind)
}

func plainBox(k *circuit.Kind) Drawing {
	n := float64(len(k.Ports))
	d := Drawing{Width: max(6, 2*n+2), Height: 6, Ports: map[string][]Port{}}
	for i, p := range k.Ports {
		d.Ports[p.Name] = []Port{{Point{X: 2 + 2*float64(i), Y: 6}, Down}}
	}
	d.Paint = func(p *pen) { p.body(Point{X: 0.5, Y: 0.5}, Point{X: d.Width - 0.5, Y: 5}) }
	return d
}

// turned maps a point of the unturned drawing into the turned box.
func (d Drawing) turned(p Point, turn int) Point {
	switch turn & 3 {
	case 1:
		if d.Handed {
			return Point{X: p.Y, Y: p.X}
		}
		return Point{X: d.Height - p.Y, Y: p.X}
	case 2:
		if d.Handed {
			return Point{X: d.Width - p.X, Y: p.Y}
		}
		return Point{X: d.Width - p.X, Y: d.Height - p.Y}
	case 3:
		return Point{X: p.Y, Y: d.Width - p.X}
	}
	return p
}

// turnedSide maps a side of the unturned box into the turned one.
func (d Drawing) turnedSide(o Direction, turn int) Direction {
	from, to := d.turned(Point{}, turn), d.turned(o.Step(), turn)
	return directionOf(Point{X: to.X - from.X, Y: to.Y - from.Y})
}

// size of the turned box.
func (d Drawing) size(turn int) (w, h float64) {
	if turn&1 == 1 {
		return d.Height, d.Width
	}
	return d.Width, d.Height
}

// BoxOf is the place that a component takes on the sheet: its drawing, turned, with its middle at the component's At.
func BoxOf(c *circuit.Component) Box {
	w, h := drawingOf(c).size(c.Turn)
	return Box{Point{X: c.At.X - w/2, Y: c.At.Y - h/2}, Point{X: c.At.X + w/2, Y: c.At.Y + h/2}}
}

// PortsOf lists where a port of a component may be fastened, on the sheet.
func PortsOf(c *circuit.Component, port string) []Port {
	d := drawingOf(c)
	box := BoxOf(c)
	places := slices.Clone(d.Ports[port])
	for i, p := range places {
		at := d.turned(p.At, c.Turn)
		places[i] = Port{Point{X: box.Min.X + at.X, Y: box.Min.Y + at.Y}, d.turnedSide(p.Out, c.Turn)}
	}
	return places
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}
