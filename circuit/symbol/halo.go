package symbol

import "image/color"

// casings are the bands under lines: what is lit, chosen, or suspected.
func (v *view) casings() {
	pal := v.look.Palette
	for i := range v.sh.lines {
		r := &v.sh.lines[i]
		if !v.shown(boxAround(r.points).Grow(2)) {
			continue
		}
		id := r.line.ID
		band := func(c color.NRGBA, steps, least float64) {
			v.s.Poly(r.points, false, Style{Stroke: c, Width: v.look.stroke(steps, least)})
		}
		_, lit := v.path[id]
		p, suspect := v.marks.Suspect[id]
		if !lit && !suspect && id != v.marks.Selected && id != v.marks.Hover {
			continue
		}
		v.s.Begin(id, r.line.Name)
		if id == v.marks.Hover {
			band(mix(pal.Paper, pal.Select, 0.22), 1.6, 10)
		}
		if id == v.marks.Selected {
			band(pal.Select, 1.1, 7)
		}
		switch {
		case lit:
			band(pal.PathEdge, 1.15, 7)
			band(pal.PathBand, 0.85, 5)
		case suspect && !v.marks.Cleared[id]:
			// One band, wider than the line by as much on both sides as an outline would be: two lines beside it would
			// look like a mechanical link.
			line := airWidth(v.look, v.linePressure(r.line), r.pilot)
			band(pal.Suspect, line+1.1*suspectWidth(p), 3.6+4*p)
		}
		v.s.End()
	}
}

// suspectWidth is the weight of a warm outline in grid steps; it grows evenly with probability.
func suspectWidth(p float64) float64 { return 0.14 + 0.5*min(1, max(0, p)) }

// halo is what surrounds a symbol: the lit path, selection, suspicion.
func (v *view) halo(p *part) {
	pal, id := v.look.Palette, p.comp.ID
	frame := func(grow float64, c color.NRGBA, w float64) {
		b := p.box.Grow(grow)
		v.s.Poly(corners(b.Min, b.Max), true, Style{Stroke: c, Width: w})
	}
	if id == v.marks.Hover {
		b := p.box.Grow(0.5)
		v.s.Poly(corners(b.Min, b.Max), true, Style{Fill: mix(pal.Paper, pal.Select, 0.16)})
	}
	if _, lit := v.path[id]; lit {
		b := p.box.Grow(0.35)
		v.s.Poly(corners(b.Min, b.Max), true, Style{Fill: mix(pal.Paper, pal.PathBand, 0.55), Stroke: pal.PathEdge, Width: v.look.stroke(thin, 1)})
	}
	if q, ok := v.marks.Suspect[id]; ok && !v.marks.Cleared[id] {
		w := max(suspectWidth(q), v.look.dp(1.2+3.2*q))
		frame(0.25+w/2, pal.Suspect, w)
	}
	if id == v.marks.Selected {
		// Four corners, so that the selection differs from suspicion in shape too.
		b := p.box.Grow(1.15)
		arm := min(2.2, 0.32*min(b.Width(), b.Height()))
		w := v.look.stroke(0.32, 2.2)
		for _, c := range []struct{ at, x, y Point }{
			{b.Min, Point{X: arm}, Point{Y: arm}},
			{Point{X: b.Max.X, Y: b.Min.Y}, Point{X: -arm}, Point{Y: arm}},
			{b.Max, Point{X: -arm}, Point{Y: -arm}},
			{Point{X: b.Min.X, Y: b.Max.Y}, Point{X: arm}, Point{Y: -arm}},
		} {
			v.s.Poly([]Point{
				{X: c.at.X + c.x.X, Y: c.at.Y}, c.at, {X: c.at.X, Y: c.at.Y + c.y.Y},
			}, false, Style{Stroke: pal.Select, Width: w})
		}
	}
}
