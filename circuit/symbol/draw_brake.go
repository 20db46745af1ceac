package symbol

import "math"

// Kinds at the wheels. They come in mirrored pairs.
var brakeDrawings = map[string]Drawing{
	"service-chamber": {
		Width: 10, Height: 8, Handed: true,
		Ports: map[string][]Port{"1": leftSide(4), "rod": rightSide(4, 10)},
		Paint: func(p *pen) { paintServiceSide(p, 1) },
	},
	"spring-brake-chamber": {
		Width: 14, Height: 8, Handed: true,
		Ports: map[string][]Port{"11": top(7), "12": bottom(4, 8), "rod": rightSide(4, 14)},
		Paint: paintSpringBrake,
	},
	"slack-adjuster": {
		Width: 6, Height: 6, Handed: true,
		Ports: map[string][]Port{"rod": leftSide(1), "cam": bottom(3, 6)},
		Paint: paintSlack,
	},
	"drum-brake": {
		Width: 8, Height: 8, Handed: true,
		Ports: map[string][]Port{"cam": leftSide(4)},
		Paint: paintDrumBrake,
	},
}

// A single-acting cylinder with a diaphragm: air on the left pushes the rod to the right. x is where the housing begins.
func paintServiceSide(p *pen, x float64) {
	end := x + 7
	travel := 2.6 * min(1, max(0, p.state.Stroke))
	plate := x + 2.6 + travel
	p.shape(Point{X: x, Y: 1.2}, Point{X: x + 0.8, Y: 0.5}, Point{X: x + 3.2, Y: 0.5}, Point{X: end, Y: 2.2},
		Point{X: end, Y: 5.8}, Point{X: x + 3.2, Y: 7.5}, Point{X: x + 0.8, Y: 7.5}, Point{X: x, Y: 6.8})
	if c := p.air("service"); c != p.body_ {
		p.fill(c, Point{X: x + 0.15, Y: 1.3}, Point{X: x + 0.9, Y: 0.65}, Point{X: x + 2, Y: 0.65}, Point{X: plate, Y: 2.2},
			Point{X: plate, Y: 5.8}, Point{X: x + 2, Y: 7.35}, Point{X: x + 0.9, Y: 7.35}, Point{X: x + 0.15, Y: 6.7})
	}
	// The return spring, then the rod over it, the plate and the diaphragm clamped at the flange.
	p.spring(Point{X: plate, Y: 2.9}, Point{X: end, Y: 2.9}, 3, 0.42, thin)
	p.spring(Point{X: plate, Y: 5.1}, Point{X: end, Y: 5.1}, 3, 0.42, thin)
	p.link(Point{X: plate, Y: 4}, Point{X: p.drawing.Width, Y: 4}, 0.7)
	p.stroke(heavy, Point{X: plate, Y: 2.1}, Point{X: plate, Y: 5.9})
	p.stroke(medium, Point{X: x + 2, Y: 0.6}, Point{X: plate, Y: 2.2})
	p.stroke(medium, Point{X: x + 2, Y: 7.4}, Point{X: plate, Y: 5.8})
	if x <= 1 {
		p.duct("service", Point{X: 0, Y: 4}, Point{X: x, Y: 4})
	}
}

// A service side with a second housing behind it, full of a heavy spring that air holds back.
func paintSpringBrake(p *pen) {
	const wall = 5.5
	p.shape(Point{X: 0.5, Y: 1.5}, Point{X: 1.3, Y: 0.5}, Point{X: wall, Y: 0.5}, Point{X: wall, Y: 7.5}, Point{X: 1.3, Y: 7.5}, Point{X: 0.5, Y: 6.5})
	held := 0.0
	if pa := p.pressure("spring"); !math.IsNaN(pa) {
		held = min(1, max(0, (fullness(pa)-0.25)/0.25))
	}
	piston := 4.4 - 1.9*held
	if c := p.air("spring"); c != p.body_ {
		p.fill(c, corners(Point{X: piston, Y: 0.65}, Point{X: wall, Y: 7.35})...)
	}
	p.spring(Point{X: 0.6, Y: 4}, Point{X: piston, Y: 4}, 3, 2.5, thick)
	p.stroke(heavy, Point{X: piston, Y: 0.7}, Point{X: piston, Y: 7.3})
	p.link(Point{X: piston, Y: 4}, Point{X: wall + 1.4, Y: 4}, 0.6)
	p.duct("spring", Point{X: 4, Y: 8}, Point{X: 4, Y: 7.5})
	p.duct("service", Point{X: 7, Y: 0}, Point{X: 7, Y: 0.6})
	paintServiceSide(p, wall)
}

// The lever between rod and cam: a clevis, an arm, and the cam on its shaft.
func paintSlack(p *pen) {
	swing := 0.3 * min(1, max(0, p.state.Stroke))
	cam := Point{X: 2.6, Y: 4.4}
	sin, cos := math.Sincos(-0.18 + swing)
	clevis := Point{X: cam.X + 3.4*sin, Y: cam.Y - 3.4*cos}
	p.link(Point{X: 0, Y: 1}, Point{X: clevis.X, Y: 1}, 0.6)
	side := Point{X: cos, Y: sin}
	p.shape(
		Point{X: clevis.X - side.X*0.55, Y: clevis.Y - side.Y*0.55}, Point{X: clevis.X + side.X*0.55, Y: clevis.Y + side.Y*0.55},
		Point{X: cam.X + side.X*1, Y: cam.Y + side.Y*1}, Point{X: cam.X - side.X*1, Y: cam.Y - side.Y*1})
	p.stroke(medium, Point{X: 3, Y: 4.4}, Point{X: 3, Y: 6}) // the camshaft, to the brake
	p.circle(cam, 1.45)
	// The cam itself turns with the arm and spreads the shoes.
	lobe := ellipse(Point{}, 1, 0.45, 0, 2*math.Pi)
	sin, cos = math.Sincos(0.5 + 1.6*swing)
	for i, v := range lobe {
		lobe[i] = Point{X: cam.X + v.X*cos - v.Y*sin, Y: cam.Y + v.X*sin + v.Y*cos}
	}
	p.solid(lobe...)
	p.disc(p.ink, clevis, 0.32)
}

// The drum with its two shoes, hinged on the right and spread by the cam on the left.
func paintDrumBrake(p *pen) {
	mid := Point{X: 4, Y: 4}
	p.circle(mid, 3.7)
	p.stroke(thin, closedArc(mid, 3.25)...)
	spread := 0.16 * min(1, max(0, p.state.Stroke))
	for _, side := range []float64{-1, 1} {
		shoe := func(r float64) []Point {
			out := arc(mid, r, side*0.14*math.Pi, side*0.86*math.Pi)
			for i := range out {
				// It turns about its anchor: the further from there, the further out.
				out[i].Y += side * spread * (7.2 - out[i].X) / 3.2
			}
			return out
		}
		outer, inner := shoe(3.0), shoe(2.45)
		for i := len(inner) - 1; i >= 0; i-- {
			outer = append(outer, inner[i])
		}
		p.solid(outer...)
	}
	p.disc(p.ink, Point{X: 6.6, Y: 4}, 0.4)
	p.link(Point{X: 0, Y: 4}, Point{X: 1.6, Y: 4}, 0.5)
	lobe := ellipse(Point{}, 0.85, 0.4, 0, 2*math.Pi)
	sin, cos := math.Sincos(1.1 + 1.2*spread)
	for i, v := range lobe {
		lobe[i] = Point{X: 1.9 + v.X*cos - v.Y*sin, Y: 4 + v.X*sin + v.Y*cos}
	}
	p.solid(lobe...)
}

func closedArc(center Point, r float64) []Point { return arc(center, r, 0, 2*math.Pi) }
