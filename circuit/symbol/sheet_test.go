package symbol

import (
	"fmt"
	"testing"

	"airpath/circuit"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func gritter(t testing.TB) *circuit.Circuit {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	return c
}

// library is every vehicle that ships, laid out.
func library(t *testing.T) map[string]*Sheet {
	all := map[string]*Sheet{}
	for _, name := range circuits.Names() {
		c, err := circuits.Load(name)
		require.NoError(t, err)
		all[name] = NewSheet(c)
	}
	return all
}

// windowLook is the look of a sheet that fills its part of a window of 1280 × 800: from three fifths to two thirds of the
// width, and the height less the bars.
func windowLook(sh *Sheet, width float64) Look {
	b := sh.Bounds()
	return Look{Palette: Light, Scale: min(width/b.Width(), 690/b.Height())}
}

func TestEverythingIsOnTheSheet(t *testing.T) {
	for name, sh := range library(t) {
		size := sh.Circuit().Sheet
		paper := Box{Max: Point{X: size.Width, Y: size.Height}}
		assert.Len(t, sh.parts, len(sh.Circuit().Components), name)
		assert.Len(t, sh.lines, len(sh.Circuit().Lines), name)
		assert.Equal(t, paper, sh.Bounds(), "%s: something lies off the sheet", name)
	}
}

func TestSymbolsKeepApart(t *testing.T) {
	for name, sh := range library(t) {
		for i, a := range sh.parts {
			for _, b := range sh.parts[i+1:] {
				assert.False(t, a.box.Overlaps(b.box), "%s: %s and %s overlap", name, a.comp.ID, b.comp.ID)
			}
		}
	}
}

func TestLinesRunAlongTheGridBetweenTheirPorts(t *testing.T) {
	for name, sh := range library(t) {
		for _, r := range sh.lines {
			checkRun(t, sh, &r, name)
		}
	}
}

func checkRun(t *testing.T, sh *Sheet, r *run, where string) {
	t.Helper()
	id := fmt.Sprintf("%s: line %s", where, r.line.ID)
	from, ok := sh.PortAt(r.line.From)
	require.True(t, ok, id)
	to, ok := sh.PortAt(r.line.To)
	require.True(t, ok, id)
	require.GreaterOrEqual(t, len(r.points), 2, id)
	assert.Equal(t, from.At, r.points[0], id)
	assert.Equal(t, to.At, r.points[len(r.points)-1], id)
	for i := range len(r.points) - 1 {
		a, b := r.points[i], r.points[i+1]
		assert.True(t, (a.X == b.X) != (a.Y == b.Y), "%s: leg %v to %v is neither level nor upright", id, a, b)
	}
	// It leaves and arrives the way its ports look.
	first := directionOf(Point{X: r.points[1].X - r.points[0].X, Y: r.points[1].Y - r.points[0].Y})
	n := len(r.points)
	last := directionOf(Point{X: r.points[n-2].X - r.points[n-1].X, Y: r.points[n-2].Y - r.points[n-1].Y})
	assert.Equal(t, from.Out, first, "%s leaves %s sideways", id, r.line.From)
	assert.Equal(t, to.Out, last, "%s arrives at %s sideways", id, r.line.To)
}

func TestNoLineRunsThroughASymbol(t *testing.T) {
	for name, sh := range library(t) {
		for _, r := range sh.lines {
			for i := range len(r.points) - 1 {
				for _, p := range sh.parts {
					inner := p.box.Grow(-0.01)
					assert.Zero(t, lengthInside(r.points[i], r.points[i+1], inner), "%s: line %s runs through %s", name, r.line.ID, p.comp.ID)
				}
			}
		}
	}
}

// Two lines side by side keep a gap; on top of one another they could not be told apart.
func TestNoLineRunsOnAnother(t *testing.T) {
	for name, sh := range library(t) {
		for i := range sh.lines {
			for j := i + 1; j < len(sh.lines); j++ {
				a, b := &sh.lines[i], &sh.lines[j]
				assert.Zero(t, shared(a.points, b.points), "%s: lines %s and %s run on top of one another", name, a.line.ID, b.line.ID)
			}
		}
	}
}

// shared is the length that two polylines run within a grid step of one another, along one another.
func shared(a, b []Point) float64 {
	sum := 0.0
	for i := range len(a) - 1 {
		for j := range len(b) - 1 {
			p, q, r, s := a[i], a[i+1], b[j], b[j+1]
			if p.Y == q.Y && r.Y == s.Y && abs(p.Y-r.Y) < 1 {
				sum += max(0, min(max(p.X, q.X), max(r.X, s.X))-max(min(p.X, q.X), min(r.X, s.X)))
			}
			if p.X == q.X && r.X == s.X && abs(p.X-r.X) < 1 {
				sum += max(0, min(max(p.Y, q.Y), max(r.Y, s.Y))-max(min(p.Y, q.Y), min(r.Y, s.Y)))
			}
		}
	}
	return sum
}

// The gritter's plan has no more crossings than its geometry forces, about one for each line that passes an axle.
func TestGritterHasFewCrossings(t *testing.T) {
	sh := NewSheet(gritter(t))
	n := 0
	for _, r := range sh.lines {
		n += len(r.bridges)
	}
	assert.LessOrEqual(t, n, 20)
}

func TestNamesAreReadableInAWindow(t *testing.T) {
	for name, sh := range library(t) {
		for width := 768.0; width <= 853; width += 17 {
			t.Run(fmt.Sprintf("%s %v wide", name, width), func(t *testing.T) { checkNames(t, sh, windowLook(sh, width)) })
		}
	}
}

func checkNames(t *testing.T, sh *Sheet, look Look) {
	name := sh.Circuit().Name
	labels := sh.placedLabels(look)
	require.NotEmpty(t, labels, name)
	for i, a := range labels {
		id := sh.parts[a.part].comp.ID
		assert.True(t, sh.bounds.Contains(a.box.Min) && sh.bounds.Contains(a.box.Max), "%s: the name of %s runs off the sheet", name, id)
		for _, b := range labels[i+1:] {
			assert.False(t, a.box.Overlaps(b.box), "%s: the names of %s and %s overlap", name, id, sh.parts[b.part].comp.ID)
		}
		for j, p := range sh.parts {
			assert.False(t, j != a.part && a.box.Overlaps(p.box), "%s: the name of %s covers %s", name, id, p.comp.ID)
		}
		for _, r := range sh.lines {
			for k := range len(r.points) - 1 {
				assert.Zero(t, lengthInside(r.points[k], r.points[k+1], a.box), "%s: the name of %s lies on line %s", name, id, r.line.ID)
			}
		}
	}
}

// Larger type, for eyes or screens that need it, leaves names out sooner than it lets them run into one another.
func TestLargeNamesKeepApart(t *testing.T) {
	for name, sh := range library(t) {
		for _, look := range []Look{{Scale: 5.7, TextScale: 1.6}, {Scale: 9, TextScale: 1.3}, {Scale: 9, TextScale: 2}, {Scale: 16, TextScale: 2}, {Scale: 7, TextScale: 0.8}} {
			look.Palette = Light
			labels := sh.placedLabels(look)
			for i, a := range labels {
				for _, b := range labels[i+1:] {
					assert.False(t, a.box.Overlaps(b.box), "%s, type %v at %v: the names of %s and %s overlap", name, look.TextScale, look.Scale, sh.parts[a.part].comp.ID, sh.parts[b.part].comp.ID)
				}
			}
		}
	}
}

// At any zoom names keep off one another and off the symbols; far out they may have to touch a line.
func TestNamesKeepApartAtAnyZoom(t *testing.T) {
	for name, sh := range library(t) {
		for scale := 4.6; scale < 40; scale *= 1.2 {
			labels := sh.placedLabels(Look{Palette: Light, Scale: scale})
			for i, a := range labels {
				id := sh.parts[a.part].comp.ID
				for _, b := range labels[i+1:] {
					assert.False(t, a.box.Overlaps(b.box), "%s at %.1f: the names of %s and %s overlap", name, scale, id, sh.parts[b.part].comp.ID)
				}
				for j, p := range sh.parts {
					assert.False(t, j != a.part && a.box.Overlaps(p.box), "%s at %.1f: the name of %s covers %s", name, scale, id, p.comp.ID)
				}
			}
		}
	}
}

// Every part but tees, test connections and what names itself has its name in the window. A combination is twice as long as a
// truck: seen whole it has room for more than half of them.
func TestEveryPartIsNamedInAWindow(t *testing.T) {
	for name, sh := range library(t) {
		named := map[int]bool{}
		for _, l := range sh.placedLabels(windowLook(sh, 792)) {
			named[l.part] = true
		}
		all, without := 0, []string(nil)
		for i, p := range sh.parts {
			if p.drawing.Minor || p.drawing.Inside != (Box{}) {
				continue
			}
			if all++; !named[i] {
				without = append(without, p.comp.ID)
			}
		}
		if name == "tractor_trailer" {
			assert.Less(t, 2*len(without), all, "%s: without a name: %v", name, without)
		} else {
			assert.Empty(t, without, name)
		}
	}
}

// Text drawn at any scale stays within the box that was kept free for it.
func TestTextStaysInItsPlace(t *testing.T) {
	sh := NewSheet(gritter(t))
	for _, scale := range []float64{4.7, 5.3, 5.77, 6.4, 7.1, 8, 9.4, 12, 17} {
		look := Look{Palette: Light, Scale: scale}
		var r Recorder
		sh.DrawLayer(&r, LabelLayer, look, Marks{State: map[string]State{"gauge_primary": {Needle: gaugePressure(118)}}})
		boxes := sh.placedLabels(look)
		for _, m := range r.Marks {
			b := m.Bounds()
			inside := false
			for _, l := range boxes {
				g := l.box.Grow(0.02)
				inside = inside || g.Contains(b.Min) && g.Contains(b.Max)
			}
			assert.True(t, inside, "%q at scale %v", m.Text, scale)
		}
	}
}

// The same circuit gives the same sheet, whatever was drawn before.
func TestLayoutIsDeterministic(t *testing.T) {
	a, b := NewSheet(gritter(t)), NewSheet(gritter(t))
	b.placedLabels(Look{Scale: 13})
	b.placedLabels(Look{Scale: 5})
	for _, scale := range []float64{5, 8, 13} {
		assert.Equal(t, a.placedLabels(Look{Scale: scale}), b.placedLabels(Look{Scale: scale}))
	}
	for i := range a.lines {
		assert.Equal(t, a.lines[i].points, b.lines[i].points)
		assert.Equal(t, a.lines[i].bridges, b.lines[i].bridges)
	}
	look := Look{Palette: Light, Scale: 6}
	assert.Equal(t, SVG(gritter(t), look, Marks{}), SVG(gritter(t), look, Marks{}))
}

func TestControlLinesAreDashed(t *testing.T) {
	sh := NewSheet(gritter(t))
	pilots := map[string]bool{}
	for _, r := range sh.lines {
		if r.pilot {
			pilots[r.line.ID] = true
		}
	}
	assert.Equal(t, map[string]bool{
		"unloader_line": true, "compressor_unloader_line": true, "purge_control_line": true, "rear_control": true, "relay_control": true,
	}, pilots)

	var r Recorder
	sh.DrawLayer(&r, LineLayer, Look{Palette: Light, Scale: 6}, Marks{})
	dashes := map[string]bool{}
	for _, m := range r.Marks {
		if len(m.Style.Dash) > 0 {
			dashes[m.Group] = true
		}
	}
	assert.Equal(t, pilots, dashes)
}

// Where two lines cross exactly one of them hops, and nowhere else.
func TestEveryCrossingHasOneBridge(t *testing.T) {
	sh := NewSheet(gritter(t))
	count := map[Point]int{}
	for _, r := range sh.lines {
		for _, b := range r.bridges {
			count[b.at]++
		}
	}
	crossings := map[Point]bool{}
	for i := range sh.lines {
		for j := range sh.lines {
			for a := range len(sh.lines[i].points) - 1 {
				for b := range len(sh.lines[j].points) - 1 {
					p, q := sh.lines[i].points[a], sh.lines[i].points[a+1]
					r, s := sh.lines[j].points[b], sh.lines[j].points[b+1]
					if i != j && p.Y == q.Y && r.X == s.X && strictly(p.X, r.X, q.X) && strictly(r.Y, p.Y, s.Y) {
						crossings[Point{X: r.X, Y: p.Y}] = true
					}
				}
			}
		}
	}
	assert.Len(t, count, len(crossings))
	for at, n := range count {
		assert.Equal(t, 1, n, "at %v", at)
		assert.True(t, crossings[at], "at %v nothing crosses", at)
	}
}
