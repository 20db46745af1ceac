package symbol

// plates name what is under the pointer, what is chosen and what is asked for, as far as the sheet does not name it: lines, and parts
// that had no room for their name.
func (v *view) plates() {
	for i := range v.sh.lines {
		v.plate(v.sh.lines[i].line.ID)
	}
	for i := range v.sh.parts {
		v.plate(v.sh.parts[i].comp.ID)
	}
}

func (v *view) plate(id string) {
	chosen := id == v.marks.Selected
	if !chosen && id != v.marks.Hover && !v.marks.Names[id] {
		return
	}
	text, mid, ok := v.nameplate(id)
	if !ok {
		return
	}
	edge := v.look.Palette.Trace
	if chosen {
		edge = v.look.Palette.Select
	}
	v.pill(mid, text, false, v.look.Palette.Body, edge, v.look.Palette.Ink)
}

// nameplate is what stands on the plate of a line or part, and where its middle is.
func (v *view) nameplate(id string) (text string, mid Point, ok bool) {
	if i, line := v.sh.lineAt[id]; line {
		r := &v.sh.lines[i]
		mid = middleOf(r.points)
		mid.Y += v.look.dp(16)
		return lineTitle(r.line), v.onSheet(mid, lineTitle(r.line)), true
	}
	i, part := v.sh.partAt[id]
	if !part || v.named(i) {
		return "", Point{}, false
	}
	p := &v.sh.parts[i]
	mid = Point{X: p.box.Center().X, Y: p.box.Max.Y + v.look.text(12)}
	return partTitle(p.comp), v.onSheet(mid, partTitle(p.comp)), true
}

// named tells whether the sheet names a part by itself.
func (v *view) named(part int) bool {
	for i, l := range v.sh.placedLabels(v.look) {
		if l.part == part && l.letter == 0 {
			return !v.arranged().gone[i]
		}
	}
	return false
}

// onSheet moves a plate's middle so that all of it is on the sheet.
func (v *view) onSheet(mid Point, text string) Point {
	b, all := v.pillBox(mid, text, false), v.sh.Bounds()
	if b.Width() < all.Width() {
		mid.X += max(0, all.Min.X-b.Min.X) - max(0, b.Max.X-all.Max.X)
	}
	mid.Y -= max(0, b.Max.Y-all.Max.Y)
	return mid
}

// DrawNameplates draws the plates alone.
func (sh *Sheet) DrawNameplates(s Surface, look Look, marks Marks) {
	v := sh.viewOf(s, look, marks)
	v.plates()
}

// Nameplate is the place that the name of a line or part takes while the pointer is on it; false where the sheet names it anyway.
func (sh *Sheet) Nameplate(id string, look Look, marks Marks) (Box, bool) {
	v := sh.viewOf(nil, look, marks)
	text, mid, ok := v.nameplate(id)
	if !ok {
		return Box{}, false
	}
	return v.pillBox(mid, text, false), true
}

// Lettered are the names of the parts that have a letter on the sheet where their names had no room, in the order of the letters.
func (sh *Sheet) Lettered(look Look) []string {
	look.Letters = true
	var names []string
	for _, l := range sh.placedLabels(look) {
		if l.letter > 0 {
			names = append(names, sh.parts[l.part].comp.Name)
		}
	}
	return names
}

// Letter of the nth part without a name, counted from 1: A to Z, AA, AB ...
func Letter(n int) string {
	if n > 26 {
		return Letter((n-1)/26) + Letter((n-1)%26+1)
	}
	return string(rune('A' + n - 1))
}
