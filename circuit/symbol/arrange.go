package symbol

import "math"

// An Arrangement is where the numbers and flags of a sheet stand at one look, and which names give way to a flag: no name and no flag
// ever lie on one another. Where there is no room, a flag is without its words first, then a name goes, and at last of the flag only its
// foot is left. Closer, all of them come back.
type Arrangement struct {
	steps []step
	pills []pillAt
	flags []pennant
	gone  []bool // by label: a flag stands there
}

// A pillAt is a suspect's percentage.
type pillAt struct {
	mid  Point
	text string
}

// A pennant is the flag of a pin where it stands.
type pennant struct {
	pin  *Pin
	foot Point
	box  Box
	bare bool // without its words
	dot  bool // its foot alone
}

// Arrange the numbers and flags for a look. Whoever draws pieces of one picture does it once, and hands it on in the marks.
func (sh *Sheet) Arrange(look Look, marks Marks) *Arrangement {
	marks.Arranged = nil
	v := sh.viewOf(nil, look, marks)
	return v.arranged()
}

func (v *view) arranged() *Arrangement {
	if v.marks.Arranged == nil {
		sp := v.newSpace()
		a := &Arrangement{gone: make([]bool, len(sp.labels))}
		a.steps = v.placeSteps(sp)
		a.pills = v.placePercentages(sp)
		for k, l := range sp.labels { // numbers have found what room there is: a name that is covered even so could not be read
			for _, t := range sp.taken {
				a.gone[k] = a.gone[k] || overlap(t, l.Grow(-v.look.dp(numbersReach))) > 0
			}
		}
		v.placeFlags(a, sp)
		v.marks.Arranged = a
	}
	return v.marks.Arranged
}

// numbersReach is how far a number may reach into the margin of a name, dp.
const numbersReach = 1.5

// placeFlags one after the other, in the order of the findings.
func (v *view) placeFlags(a *Arrangement, sp *space) {
	if len(v.marks.Pins) == 0 {
		return
	}
	taken := sp.all()
	for i := range v.marks.Pins {
		pin := &v.marks.Pins[i]
		feet := v.sh.feet(pin.Place)
		if len(feet) == 0 {
			continue
		}
		f := v.placeFlag(a, sp, pin, feet, taken)
		if !f.dot {
			taken = append(taken, f.box)
			for k, l := range sp.labels {
				a.gone[k] = a.gone[k] || f.covers(l)
			}
		}
		a.flags = append(a.flags, f)
	}
}

func (v *view) placeFlag(a *Arrangement, sp *space, pin *Pin, feet []Point, taken []Box) pennant {
	sheet := v.sh.bounds.Grow(0.01)
	clear := func(f *pennant, names bool) bool {
		if !sheet.Contains(f.box.Min) || !sheet.Contains(f.box.Max) {
			return false
		}
		for i := range a.flags {
			if o := &a.flags[i]; !o.dot && (overlap(o.box, f.box) > 0 || f.covers(o.box) || o.covers(f.box)) {
				return false
			}
		}
		for k, l := range sp.labels {
			if names && !a.gone[k] && f.covers(l) {
				return false
			}
		}
		return true
	}
	for _, names := range []bool{true, false} {
		for _, bare := range []bool{false, true} {
			if bare && pin.Text == "" {
				continue
			}
			f := pennant{pin: pin, bare: bare}
			w, h := v.flagSize(pin, bare)
			f.foot, f.box = v.flagPlace(feet, w, h, taken, usualRings, nil)
			if clear(&f, names) {
				return f
			}
			f.foot, f.box = v.flagPlace(feet, w, h, taken, mostRings, func(foot Point, box Box) bool {
				return clear(&pennant{foot: foot, box: box}, names)
			})
			if !math.IsNaN(f.foot.X) {
				return f
			}
		}
	}
	return pennant{pin: pin, foot: feet[0], dot: true, box: Box{feet[0], feet[0]}.Grow(v.look.dp(dotRadius))}
}

// covers tells whether a flag or its stem lies on a name.
func (f *pennant) covers(name Box) bool {
	return overlap(f.box, name) > 0 || crosses(f.foot, nearest(f.box, f.foot), name)
}

// crosses tells whether the way from a to b leads through a box, by the way's shares at which it enters and leaves each pair of sides.
func crosses(a, b Point, box Box) bool {
	from, to := 0.0, 1.0
	for _, s := range [2][4]float64{{a.X, b.X - a.X, box.Min.X, box.Max.X}, {a.Y, b.Y - a.Y, box.Min.Y, box.Max.Y}} {
		at, d, lo, hi := s[0], s[1], s[2], s[3]
		if d == 0 {
			if at <= lo || at >= hi {
				return false
			}
			continue
		}
		in, out := (lo-at)/d, (hi-at)/d
		if in > out {
			in, out = out, in
		}
		from, to = max(from, in), min(to, out)
	}
	return from < to
}
