package symbol

import (
	"fmt"
	"testing"

	"airpath/circuit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The contract that every kind's drawing keeps.
func TestEveryKindHasADrawing(t *testing.T) {
	for _, k := range circuit.Kinds() {
		t.Run(k.Name, func(t *testing.T) {
			d, ok := Of(k.Name)
			require.True(t, ok, "kind %s has no drawing; add it to one of the tables in circuit/symbol/draw_*.go", k.Name)
			require.NotNil(t, d.Paint)
			assert.Zero(t, int(d.Width)%2, "an even width keeps turned ports on the grid")
			assert.Zero(t, int(d.Height)%2, "an even height keeps turned ports on the grid")
			assert.NotEmpty(t, poses[k.Name], "no poses: say in plate_test.go which states are worth looking at")

			seen := map[Point]string{}
			for _, spec := range k.Ports {
				places := d.Ports[spec.Name]
				require.NotEmpty(t, places, "port %s is not drawn", spec.Name)
				for _, p := range places {
					assert.True(t, onSide(p, d.Width, d.Height), "port %s: %v is not on side %v of the border", spec.Name, p.At, p.Out)
				}
				if spec.Vent {
					assert.Len(t, places, 1, "a vent has one place")
				}
				if len(places) == 1 {
					assert.Empty(t, seen[places[0].At], "port %s lies on another port", spec.Name)
					seen[places[0].At] = spec.Name
				}
			}
			for name := range d.Ports {
				_, ok := k.Port(name)
				assert.True(t, ok, "the drawing has a port %s that the kind lacks", name)
			}
			for name := range d.Rest {
				_, ok := k.Passage(name)
				assert.True(t, ok, "the drawing rests with a passage %q that the kind lacks", name)
			}
		})
	}
}

func onSide(p Port, w, h float64) bool {
	inX, inY := p.At.X >= 0 && p.At.X <= w, p.At.Y >= 0 && p.At.Y <= h
	switch p.Out {
	case Right:
		return p.At.X == w && inY
	case Left:
		return p.At.X == 0 && inY
	case Up:
		return p.At.Y == 0 && inX
	}
	return p.At.Y == h && inX
}

func TestStrokesStayWithinTheBox(t *testing.T) {
	for _, k := range circuit.Kinds() {
		for _, p := range poses[k.Name] {
			for turn := range 4 {
				t.Run(fmt.Sprintf("%s %s turned %d", k.Name, p.name, turn), func(t *testing.T) {
					c := specimen(k, Point{X: 40, Y: 40}, turn)
					var r Recorder
					DrawSymbol(&r, c, Look{Palette: Light, Scale: 12, Detail: Bare}, p.state)
					require.NotEmpty(t, r.Marks)
					inside, inked := BoxOf(c).Grow(1e-9), BoxOf(c).Grow(0.25) // half of a heavy stroke
					for _, m := range r.Marks {
						b, ink := boxAround(m.Points), m.Bounds()
						assert.True(t, inside.Contains(b.Min) && inside.Contains(b.Max), "%v sticks out of %v", b, inside)
						assert.True(t, inked.Contains(ink.Min) && inked.Contains(ink.Max), "%v sticks out of %v", ink, inked)
					}
				})
			}
		}
	}
}

// Two kinds that look alike, or two states of one, would teach nothing.
func TestKindsAndStatesCanBeToldApart(t *testing.T) {
	seen := map[string]string{}
	for _, k := range circuit.Kinds() {
		for _, p := range poses[k.Name] {
			var r Recorder
			c := specimen(k, Point{X: 40, Y: 40}, 0)
			c.Name = ""
			DrawSymbol(&r, c, Look{Palette: Light, Scale: 12, Detail: Bare}, p.state)
			for i := range r.Marks {
				r.Marks[i].Group = ""
			}
			picture := fmt.Sprint(r.Marks)
			name := k.Name + " " + p.name
			assert.Empty(t, seen[picture], "%s looks like it", name)
			seen[picture] = name
		}
	}
}

func TestSymbolsHaveNotChanged(t *testing.T) {
	for _, k := range circuit.Kinds() {
		t.Run(k.Name, func(t *testing.T) {
			look := Look{Palette: Light, Scale: 12, Detail: Full}
			box := drawPoses(&Recorder{}, k, look, Point{})
			s := NewSVG(box.Grow(1), Light.Paper, k.Title)
			drawPoses(s, k, look, Point{})
			golden(t, "symbol-"+k.Name+".svg", s.Bytes())
		})
	}
}

func TestTurningKeepsPortsOnTheBorder(t *testing.T) {
	kinds := circuit.Kinds()
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(kinds).Draw(t, "kind")
		at := Point{X: float64(rapid.IntRange(0, 200).Draw(t, "x")), Y: float64(rapid.IntRange(0, 200).Draw(t, "y"))}
		c := specimen(k, at, rapid.IntRange(0, 3).Draw(t, "turn"))
		box := BoxOf(c)
		for _, spec := range k.Ports {
			for _, p := range PortsOf(c, spec.Name) {
				local := Port{Point{X: p.At.X - box.Min.X, Y: p.At.Y - box.Min.Y}, p.Out}
				if !onSide(local, box.Width(), box.Height()) {
					t.Fatalf("%s.%s at %v looks %v, box %v", k.Name, spec.Name, p.At, p.Out, box)
				}
				if p.At.X != float64(int(p.At.X)) || p.At.Y != float64(int(p.At.Y)) {
					t.Fatalf("%s.%s at %v is off the grid", k.Name, spec.Name, p.At)
				}
			}
		}
	})
}

func TestHandedDrawingsAreMirrored(t *testing.T) {
	for _, k := range circuit.Kinds() {
		d, _ := Of(k.Name)
		if !d.Handed {
			continue
		}
		for _, p := range []Point{{X: 1, Y: 2}, {X: 0, Y: 0}, {X: 3, Y: 1}} {
			up, down := d.turned(p, 3), d.turned(p, 1)
			assert.Equal(t, up.X, down.X, "across the axle nothing moves")
			assert.Equal(t, d.Width, up.Y+down.Y, "along it everything is mirrored")
			fore, aft := d.turned(p, 0), d.turned(p, 2)
			assert.Equal(t, fore.Y, aft.Y)
			assert.Equal(t, d.Width, fore.X+aft.X)
		}
	}
}

func TestTurningGoesClockwise(t *testing.T) {
	d := Drawing{Width: 4, Height: 2}
	assert.Equal(t, Point{X: 2, Y: 0}, d.turned(Point{}, 1), "the upper left corner comes to the upper right")
	assert.Equal(t, Point{X: 4, Y: 2}, d.turned(Point{}, 2))
	assert.Equal(t, Point{X: 0, Y: 4}, d.turned(Point{}, 3))
	assert.Equal(t, Down, d.turnedSide(Right, 1))
	assert.Equal(t, Up, d.turnedSide(Right, 3))
}

// A kind that is being made can be shown before it is drawn.
func TestAKindWithoutADrawingIsAPlainBox(t *testing.T) {
	k := &circuit.Kind{Name: "novelty", Title: "novelty", Ports: []circuit.PortSpec{{Name: "1", Medium: circuit.Air, Room: "1"}, {Name: "2", Medium: circuit.Air, Room: "2"}}}
	var r Recorder
	DrawSymbol(&r, specimen(k, Point{X: 10, Y: 10}, 1), Look{}, State{})
	assert.NotEmpty(t, r.Marks)
	assert.Len(t, PortsOf(specimen(k, Point{X: 10, Y: 10}, 0), "2"), 1)
}
