package symbol

import (
	"fmt"
	"testing"

	"airpath/circuit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// unrouted is the gritter without a corner in any line, so that the router has to find all of them.
func unrouted(t testing.TB) *circuit.Circuit {
	c := gritter(t)
	for _, l := range c.Lines {
		l.Route = nil
	}
	return c
}

// What the router finds by itself on a full vehicle keeps the same rules as what was laid by hand.
func TestTheRouterAvoidsSymbols(t *testing.T) {
	sh := NewSheet(unrouted(t))
	for i := range sh.lines {
		r := &sh.lines[i]
		checkRun(t, sh, r, "unrouted gritter")
		for j := range len(r.points) - 1 {
			for _, p := range sh.parts {
				assert.Zero(t, lengthInside(r.points[j], r.points[j+1], p.box.Grow(-0.01)), "line %s runs through %s", r.line.ID, p.comp.ID)
			}
		}
		for j := i + 1; j < len(sh.lines); j++ {
			assert.Zero(t, shared(r.points, sh.lines[j].points), "lines %s and %s run on top of one another", r.line.ID, sh.lines[j].line.ID)
		}
	}
}

func checkKind(t require.TestingT, name string) *circuit.Kind {
	k, err := circuit.KindNamed(name)
	require.NoError(t, err)
	return k
}

// Two check valves anywhere, in any turn, with a third in between: a way is found that keeps out of all of them.
func TestTheRouterFindsAWay(t *testing.T) {
	k := checkKind(t, "check-valve")
	rapid.Check(t, func(t *rapid.T) {
		c := &circuit.Circuit{Sheet: circuit.Sheet{Width: 60, Height: 60}}
		for i := range 3 {
			column := []float64{8, 44, 26}[i] // apart from one another: between symbols that touch there is no way
			at := Point{X: column + float64(rapid.IntRange(0, 8).Draw(t, "x")), Y: float64(rapid.IntRange(8, 52).Draw(t, "y"))}
			comp := specimen(k, at, rapid.IntRange(0, 3).Draw(t, "turn"))
			comp.ID = fmt.Sprintf("v%d", i)
			c.Components = append(c.Components, comp)
		}
		c.Lines = []*circuit.Line{{ID: "a", Type: circuit.Tube, From: circuit.PortRef{Component: "v0", Port: "2"}, To: circuit.PortRef{Component: "v1", Port: "1"}}}
		sh := NewSheet(c)
		points := sh.lines[0].points
		for j := range len(points) - 1 {
			if (points[j].X == points[j+1].X) == (points[j].Y == points[j+1].Y) {
				t.Fatalf("leg %v to %v is neither level nor upright", points[j], points[j+1])
			}
			for _, p := range sh.parts {
				if lengthInside(points[j], points[j+1], p.box.Grow(-0.01)) > 0 {
					t.Fatalf("%v runs through %s at %v", points, p.comp.ID, p.box)
				}
			}
		}
	})
}

func TestCornersAreJoinedAlongTheGrid(t *testing.T) {
	right := func(x, y float64) Port { return Port{Point{X: x, Y: y}, Right} }
	left := func(x, y float64) Port { return Port{Point{X: x, Y: y}, Left} }
	up := func(x, y float64) Port { return Port{Point{X: x, Y: y}, Up} }
	for _, tt := range []struct {
		name    string
		from    Port
		corners []Point
		to      Port
		want    []Point
	}{
		{"straight", right(0, 0), nil, left(9, 0), []Point{{X: 0, Y: 0}, {X: 9, Y: 0}}},
		{"corners in line", right(0, 0), []Point{{X: 4, Y: 0}, {X: 4, Y: 6}}, left(9, 6), []Point{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 6}, {X: 9, Y: 6}}},
		{"one corner, elbow at the start", right(0, 0), []Point{{X: 4, Y: 6}}, left(9, 6), []Point{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 6}, {X: 9, Y: 6}}},
		{"elbow at the end arrives the way the port looks", right(0, 0), nil, up(9, 6), []Point{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 6}}},
		{"repeated corner", right(0, 0), []Point{{X: 4, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 6}}, left(9, 6), []Point{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 6}, {X: 9, Y: 6}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, throughCorners(tt.from, tt.corners, tt.to))
		})
	}
}

func TestBridgesHopOverTheLineBelow(t *testing.T) {
	r := run{points: []Point{{X: 0, Y: 5}, {X: 20, Y: 5}}, bridges: []bridge{{0, Point{X: 6, Y: 5}}, {0, Point{X: 7, Y: 5}}, {0, Point{X: 14, Y: 5}}}}
	points := r.bridged()
	top, ends := 5.0, 0
	for i, p := range points {
		top = min(top, p.Y)
		if i > 0 && i < len(points)-1 && p.Y == 5 {
			ends++
		}
		if i > 0 {
			assert.GreaterOrEqual(t, p.X, points[i-1].X, "never back")
		}
	}
	assert.Equal(t, 5-bridgeRadius, top)
	assert.Equal(t, 4, ends, "neighbours share one hop: two hops, each with a start and an end")

	upright := run{points: []Point{{X: 3, Y: 0}, {X: 3, Y: 10}}, bridges: []bridge{{0, Point{X: 3, Y: 5}}}}
	assert.Contains(t, upright.bridged(), Point{X: 3 + bridgeRadius, Y: 5})
}

// A tee takes its lines on the sides that they come from.
func TestTeesAreFastenedWhereTheirLinesGo(t *testing.T) {
	sh := NewSheet(gritter(t))
	for ref, want := range map[string]Direction{"tee_discharge.a": Up, "tee_discharge.b": Right, "tee_discharge.c": Down, "tee_control.a": Left, "tee_control.b": Right, "tee_control.c": Up} {
		r, _ := portRef(ref)
		port, ok := sh.PortAt(r)
		require.True(t, ok)
		assert.Equal(t, want, port.Out, ref)
	}
}

// Symbols off the grid still get lines along it.
func TestPortsOffTheGrid(t *testing.T) {
	k := checkKind(t, "check-valve")
	c := &circuit.Circuit{Sheet: circuit.Sheet{Width: 60, Height: 60}}
	for i, at := range []Point{{X: 10.3, Y: 12.7}, {X: 40.6, Y: 33.2}} {
		comp := specimen(k, at, 0)
		comp.ID = fmt.Sprintf("v%d", i)
		c.Components = append(c.Components, comp)
	}
	c.Lines = []*circuit.Line{{ID: "a", Type: circuit.Tube, From: circuit.PortRef{Component: "v0", Port: "2"}, To: circuit.PortRef{Component: "v1", Port: "1"}}}
	sh := NewSheet(c)
	points := sh.lines[0].points
	from, _ := sh.PortAt(c.Lines[0].From)
	to, _ := sh.PortAt(c.Lines[0].To)
	assert.Equal(t, from.At, points[0])
	assert.Equal(t, to.At, points[len(points)-1])
	for i := range len(points) - 1 {
		assert.True(t, (points[i].X == points[i+1].X) != (points[i].Y == points[i+1].Y), "leg %v to %v", points[i], points[i+1])
	}
}

func TestAnEmptySheetIsPaper(t *testing.T) {
	c := &circuit.Circuit{}
	assert.Positive(t, NewSheet(c).Bounds().Width())
	img := Image(c, 40, 30, Look{}, Marks{})
	assert.Equal(t, Light.Paper.R, img.RGBAAt(20, 15).R)
	assert.Equal(t, Target{}, Hit(c, Point{X: 1, Y: 1}, 1))
}

// A line that names what is not there is left out; the rest is drawn.
func TestDanglingLinesAreLeftOut(t *testing.T) {
	k := checkKind(t, "check-valve")
	c := &circuit.Circuit{Components: []*circuit.Component{specimen(k, Point{X: 10, Y: 10}, 0)}}
	c.Lines = []*circuit.Line{
		{ID: "nowhere", Type: circuit.Tube, From: circuit.PortRef{Component: "check-valve", Port: "2"}, To: circuit.PortRef{Component: "ghost", Port: "1"}},
		{ID: "no port", Type: circuit.Tube, From: circuit.PortRef{Component: "check-valve", Port: "9"}, To: circuit.PortRef{Component: "check-valve", Port: "1"}},
	}
	sh := NewSheet(c)
	assert.Empty(t, sh.lines)
	var r Recorder
	sh.Draw(&r, Look{Palette: Light, Scale: 8}, Marks{Suspect: map[string]float64{"nowhere": 0.5}, Path: []string{"ghost"}, Pins: []Pin{{Place: "ghost.3"}}})
	assert.NotEmpty(t, r.Marks)
}
