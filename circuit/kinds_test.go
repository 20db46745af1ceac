package circuit

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	hyphened   = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	underlined = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)
	isoDigits  = regexp.MustCompile(`^[0-4][0-9]*$`)
)

// TestEveryKind is the contract that each kind must meet. A new kind is tested by being added.
func TestEveryKind(t *testing.T) {
	require.NotEmpty(t, Kinds())
	seen := map[string]bool{}
	for _, k := range Kinds() {
		t.Run(k.Name, func(t *testing.T) {
			assert.False(t, seen[k.Name], "names are unique")
			seen[k.Name] = true
			assert.Regexp(t, hyphened, k.Name)
			assert.NotEmpty(t, k.Title)
			assert.True(t, strings.HasSuffix(k.About, "."), "About is sentences")
			assert.NotEmpty(t, k.Ports)
			portsMeetContract(t, k)
			roomsMeetContract(t, k)
			passagesMeetContract(t, k)
			paramsMeetContract(t, k)
			for i, c := range k.Controls {
				assert.NotEmpty(t, c.About, c.Name)
				assert.Regexp(t, underlined, c.Name)
				assert.Greater(t, c.Max, 0.0, c.Name)
				assert.True(t, c.Rest >= 0 && c.Rest <= c.Max, c.Name)
				assert.False(t, slices.ContainsFunc(k.Controls[:i], func(o ControlSpec) bool { return o.Name == c.Name }), "controls are unique")
				assert.True(t, slices.ContainsFunc(k.Passages, func(p PassageSpec) bool { return p.Control == c.Name }), "control %s works something", c.Name)
			}
			found, err := KindNamed(k.Name)
			require.NoError(t, err)
			assert.Same(t, k, found)
		})
	}
	assert.True(t, slices.IsSortedFunc(Kinds(), func(a, b *Kind) int { return strings.Compare(a.Name, b.Name) }))
	_, err := KindNamed("relay-vale")
	assert.EqualError(t, err, `no kind "relay-vale"; did you mean "relay-valve"?`)
}

func portsMeetContract(t *testing.T, k *Kind) {
	for i, p := range k.Ports {
		assert.NotEmpty(t, p.About, p.Name)
		assert.Regexp(t, `^[a-z0-9]+$`, p.Name)
		assert.False(t, slices.ContainsFunc(k.Ports[:i], func(o PortSpec) bool { return o.Name == p.Name }), "ports are unique: %s", p.Name)
		assert.Equal(t, p.Vent, p.Room == Atmosphere, "a vent, and nothing else, opens to the atmosphere: %s", p.Name)
		switch p.Medium {
		case Air:
			if !p.Vent {
				_, ok := k.Room(p.Room)
				assert.True(t, ok, "port %s opens into a room", p.Name)
			}
			// ISO 6786 digits, which tell the role; a fitting without a direction has letters.
			if isoDigits.MatchString(p.Name) {
				assert.NotEqual(t, NoRole, p.Role(), p.Name)
				assert.False(t, p.Role() == Intake && !p.Vent, "an intake is open: %s", p.Name)
			} else {
				assert.Equal(t, NoRole, p.Role(), p.Name)
				assert.Len(t, p.Name, 1)
			}
		case Motion, Current:
			assert.Empty(t, p.Room, "only air has rooms: %s", p.Name)
			assert.Equal(t, NoRole, p.Role())
			assert.False(t, p.Vent)
		default:
			t.Errorf("port %s has the medium %q", p.Name, p.Medium)
		}
		got, ok := k.Port(p.Name)
		assert.True(t, ok)
		assert.Equal(t, p, got)
	}
	_, ok := k.Port("no such port")
	assert.False(t, ok)
}

func roomsMeetContract(t *testing.T, k *Kind) {
	reached := map[string]bool{Atmosphere: true}
	for _, p := range k.Ports {
		reached[p.Room] = true
	}
	for range k.Passages {
		for _, p := range k.Passages {
			if !p.Worn && (reached[p.From] || reached[p.To]) {
				reached[p.From], reached[p.To] = true, true
			}
		}
	}
	for i, r := range k.Rooms {
		assert.NotEmpty(t, r.About, r.Name)
		assert.Regexp(t, `^[a-z0-9]+$`, r.Name)
		assert.NotEqual(t, Atmosphere, r.Name)
		assert.False(t, slices.ContainsFunc(k.Rooms[:i], func(o RoomSpec) bool { return o.Name == r.Name }), "rooms are unique: %s", r.Name)
		assert.True(t, reached[r.Name], "air gets to room %s", r.Name)
		assert.Equal(t, r.Reservoir, r.Volume != "", "a reservoir, and nothing else, names its volume: %s", r.Name)
		if r.Reservoir {
			p, ok := k.Param(r.Volume)
			require.True(t, ok)
			assert.Equal(t, Volume, p.Dimension)
		}
	}
}

func passagesMeetContract(t *testing.T, k *Kind) {
	isRoom := func(name string) bool { _, ok := k.Room(name); return ok }
	for i, p := range k.Passages {
		assert.NotEmpty(t, p.About, p.Name)
		assert.Regexp(t, `^[a-z][a-z0-9 -]*$`, p.Name, "it is part of longer names")
		assert.NotEqual(t, Bore, p.Name, "that is a line's")
		assert.False(t, slices.ContainsFunc(k.Passages[:i], func(o PassageSpec) bool { return o.Name == p.Name }), "passages are unique: %s", p.Name)
		assert.NotEqual(t, p.From, p.To, p.Name)
		assert.True(t, isRoom(p.From) || p.From == Atmosphere, "%s comes from a room", p.Name)
		assert.True(t, isRoom(p.To) || p.To == Atmosphere, "%s goes to a room", p.Name)
		for _, pilot := range p.Pilot {
			assert.True(t, isRoom(pilot), "%s is worked by a room", p.Name)
		}
		if p.Worn {
			assert.Empty(t, p.Pilot, "nothing works a hole: %s", p.Name)
			if c := slices.IndexFunc(k.Controls, func(c ControlSpec) bool { return c.Name == p.Control }); c >= 0 {
				assert.Zero(t, k.Controls[c].Rest, "done wrong by hand, not by itself: %s", p.Name)
			}
		}
		if p.Control != "" {
			assert.True(t, slices.ContainsFunc(k.Controls, func(c ControlSpec) bool { return c.Name == p.Control }), "%s is worked by a control", p.Name)
		}
		got, ok := k.Passage(p.Name)
		assert.True(t, ok)
		assert.Equal(t, p, got)
	}
}

func paramsMeetContract(t *testing.T, k *Kind) {
	ownKeys := []string{"id", "kind", "name", "place", "at", "turn", "note"}
	for i, p := range k.Params {
		assert.NotEmpty(t, p.About, p.Name)
		assert.Regexp(t, underlined, p.Name)
		assert.NotContains(t, ownKeys, p.Name, "that is a key of every component")
		assert.False(t, slices.ContainsFunc(k.Params[:i], func(o ParamSpec) bool { return o.Name == p.Name }), "parameters are unique: %s", p.Name)
		low, err := ParseQuantity(p.Min, p.Dimension)
		require.NoError(t, err, "%s has a lower bound", p.Name)
		high, err := ParseQuantity(p.Max, p.Dimension)
		require.NoError(t, err, "%s has an upper bound", p.Name)
		assert.Less(t, low.SI, high.SI, p.Name)
		if p.Default != "" {
			q, err := ParseQuantity(p.Default, p.Dimension)
			require.NoError(t, err, p.Name)
			what, _ := outOfBounds(p.Name, q, p.Min, p.Max)
			assert.Empty(t, what, "the kind's own value is within bounds")
			assert.NotEmpty(t, p.Source, "%s says where its value comes from", p.Name)
		}
		if p.Below != "" {
			o, ok := k.Param(p.Below)
			require.True(t, ok, p.Name)
			assert.Equal(t, p.Dimension, o.Dimension)
			if p.Default != "" && o.Default != "" {
				assert.Less(t, MustQuantity(p.Default, p.Dimension).SI, MustQuantity(o.Default, o.Dimension).SI, p.Name)
			}
		}
	}
}

func TestValueOfAnUnknownParameter(t *testing.T) {
	k, err := KindNamed("tee")
	require.NoError(t, err)
	c := &Component{ID: "t", Kind: k}
	assert.InEpsilon(t, 1e-5, c.Value("volume"), 1e-12)
	assert.Panics(t, func() { c.Value("colour") }, "an error of the program, not of a file")
	assert.Panics(t, func() { MustQuantity("ten", Volume) })
}
