package symbol

// A Recorder is a surface that keeps what is drawn on it, for tests and for measuring.
type Recorder struct {
	Marks []Recorded
	group string
}

// Recorded is one call of a surface's Poly or Text.
type Recorded struct {
	Group  string // the id of the group that it is in
	Points []Point
	Closed bool
	Style  Style
	Text   string // with Points[0] its anchor
	Font   Font
}

// Begin notes the group.
func (r *Recorder) Begin(id, title string) { r.group = id }

// End leaves it.
func (r *Recorder) End() { r.group = "" }

// Poly keeps a polyline.
func (r *Recorder) Poly(points []Point, closed bool, style Style) {
	r.Marks = append(r.Marks, Recorded{Group: r.group, Points: append([]Point{}, points...), Closed: closed, Style: style})
}

// Text keeps a text.
func (r *Recorder) Text(at Point, text string, font Font) {
	r.Marks = append(r.Marks, Recorded{Group: r.group, Points: []Point{at}, Text: text, Font: font})
}

// Bounds of a recorded call, half its stroke included.
func (m Recorded) Bounds() Box {
	b := boxAround(m.Points)
	if m.Text != "" {
		w := m.Font.Width(m.Text)
		switch m.Font.Anchor {
		case Start:
			b.Max.X += w
		case Middle:
			b.Min.X, b.Max.X = b.Min.X-w/2, b.Max.X+w/2
		case End:
			b.Min.X -= w
		}
		b.Min.Y -= m.Font.Size * 0.72
		b.Max.Y += m.Font.Size * 0.21
		return b
	}
	if m.Style.Stroke.A > 0 {
		b = b.Grow(m.Style.Width / 2)
	}
	return b
}
