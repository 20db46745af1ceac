package symbol

import "airpath/circuit"

// digits write the ISO 6786 number of each air port beside it, just outside the border on the port's right.
func (p *pen) digits() {
	size := min(p.look.text(smallType), 1.25)
	for _, spec := range p.comp.Kind.Ports {
		place, ok := p.ports[spec.Name]
		if !ok || spec.Medium != circuit.Air || p.drawing.Minor {
			continue
		}
		at := p.at(place.At)
		o := p.drawing.turnedSide(place.Out, p.comp.Turn)
		font := Font{Size: size, Color: p.faint, Anchor: Start}
		switch o {
		case Right:
			at = Point{X: at.X + 0.25, Y: at.Y - 0.35}
		case Left:
			at = Point{X: at.X - 0.25, Y: at.Y - 0.35}
			font.Anchor = End
		case Up:
			at = Point{X: at.X + 0.35, Y: at.Y - 0.3}
		case Down:
			at = Point{X: at.X + 0.35, Y: at.Y + 0.2 + size*0.72}
		}
		p.surface.Text(at, spec.Name, font)
	}
}
