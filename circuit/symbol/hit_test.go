package symbol

import (
	"testing"

	"airpath/circuit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEverythingCanBeHit(t *testing.T) {
	sh := NewSheet(gritter(t))
	const tolerance = 1
	for _, p := range sh.parts {
		got := sh.Hit(p.box.Center(), tolerance)
		assert.Equal(t, p.comp.ID, got.ID)
		want := OnComponent
		if p.drawing.Dial {
			want = OnGauge
		}
		assert.Equal(t, want, got.Kind, p.comp.ID)
		for _, spec := range p.comp.Kind.Ports {
			if !spec.Vent {
				continue
			}
			on := p.onSheet(p.ports[spec.Name])
			o := on.Out.Step()
			got := sh.Hit(Point{X: on.At.X - o.X*0.5, Y: on.At.Y - o.Y*0.5}, tolerance)
			assert.Equal(t, Target{Kind: OnVent, ID: p.comp.ID, Port: spec.Name, Place: p.comp.ID + "." + spec.Name}, got)
		}
	}
	for _, r := range sh.lines {
		got := sh.Hit(middleOf(r.points), tolerance)
		assert.Equal(t, Target{Kind: OnLine, ID: r.line.ID, Place: r.line.ID}, got, "%s at %v", r.line.ID, middleOf(r.points))
	}
}

func TestToleranceIsKept(t *testing.T) {
	sh := NewSheet(gritter(t))
	box, ok := sh.BoxOf("park_control")
	require.True(t, ok)
	beside := Point{X: box.Min.X - 1, Y: box.Center().Y}
	assert.Equal(t, Target{}, sh.Hit(beside, 0.5))
	assert.Equal(t, "park_control", sh.Hit(beside, 1.5).ID)
	assert.Equal(t, Target{}, sh.Hit(Point{X: -50, Y: -50}, 1.5))
	assert.Equal(t, "park_control", Hit(sh.Circuit(), box.Center(), 1).ID)
}

// The place on a line beside a symbol is the line's, although the symbol is within the tolerance too.
func TestALineGoesBeforeASymbolNearBy(t *testing.T) {
	sh := NewSheet(gritter(t))
	points, ok := sh.RouteOf("front_right_hose")
	require.True(t, ok)
	near := Point{X: points[0].X, Y: points[0].Y - 0.8}
	assert.Equal(t, "front_right_hose", sh.Hit(near, 1.5).ID)
}

func TestPinsHaveAFoot(t *testing.T) {
	sh := NewSheet(gritter(t))
	for _, p := range sh.parts {
		at, ok := sh.Anchor(p.comp.ID)
		require.True(t, ok)
		assert.True(t, p.box.Contains(at))
		for _, spec := range p.comp.Kind.Ports {
			at, ok := sh.Anchor(circuit.PortRef{Component: p.comp.ID, Port: spec.Name}.String())
			require.True(t, ok, "%s.%s", p.comp.ID, spec.Name)
			assert.True(t, p.box.Contains(at))
		}
	}
	for _, r := range sh.lines {
		at, ok := sh.Anchor(r.line.ID)
		require.True(t, ok)
		assert.Zero(t, distance(at, r.points))
	}
	for _, nowhere := range []string{"", "ghost", "ghost.3", "tank.99", ".", "tank."} {
		_, ok := sh.Anchor(nowhere)
		assert.False(t, ok, nowhere)
	}
}
