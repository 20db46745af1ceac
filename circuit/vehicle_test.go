package circuit

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// laden is what the small circuit lacks: a vehicle with one braked axle.
const laden = `
[vehicle]
mass = "16 t"       # with salt
tyre_radius = "49 cm"

[[vehicle.axle]]
name = "front axle"
role = "steered"
load = "6 t"

[[vehicle.axle]]
name = "rear axle"
role = "driven"
load = "10000 kg"
behind = "4.2 m"
left = "brake"

[[component]]
id = "brake"
kind = "drum-brake"
name = "brake"
place = "rear axle"
at = [50, 30]
`

func TestVehicleIsRead(t *testing.T) {
	text := small + laden
	c, err := Read("x.toml", []byte(text))
	require.NoError(t, err)
	assert.True(t, c.Vehicle.Known())
	assert.InDelta(t, 16000, c.Vehicle.Mass.SI, 1e-9)
	assert.InDelta(t, 0.49, c.Vehicle.TyreRadius.SI, 1e-12)
	require.Len(t, c.Vehicle.Axles, 2)
	rear := c.Vehicle.Axles[1]
	assert.Equal(t, "brake", rear.Left)
	assert.Empty(t, rear.Right)
	assert.InDelta(t, 10000, rear.RatingOrLoad(), 1e-9, "the load stands in for a rating that is not given")
	assert.Equal(t, text, string(Write(c)), "saving changes nothing")

	c.Vehicle.Axles[1].Rating = MustQuantity("10.5 t", Mass)
	c.Vehicle.CentreHeight = MustQuantity("1.3 m", Length)
	saved := string(Write(c))
	assert.Contains(t, saved, "# with salt")
	again, err := Read("x.toml", []byte(saved))
	require.NoError(t, err)
	assert.Equal(t, c.Vehicle, again.Vehicle)
	assert.InDelta(t, 10500, again.Vehicle.Axles[1].RatingOrLoad(), 1e-9)
	c.Vehicle = Vehicle{}
	assert.NotContains(t, string(Write(c)), "vehicle", "what is taken away is not written")

	c, err = Read("x.toml", []byte(small))
	require.NoError(t, err)
	assert.False(t, c.Vehicle.Known(), "it may be left out")
}

func TestVehicleSaysWhatIsWrong(t *testing.T) {
	for _, tt := range []struct{ name, old, new, want string }{
		{"no mass", "mass = \"16 t\"       # with salt\n", "", `vehicle: "mass" is missing; write mass = "12 kg"`},
		{"mass in another unit", `"16 t"`, `"16 cubits"`, `vehicle: "mass": unit "cubits" does not measure a mass; write it in kg, t, lb, such as "12 kg"`},
		{"negative mass", `"16 t"`, `"-1 t"`, `vehicle: "mass": "-1 t" is negative, which no mass can be`},
		{"role", `"driven"`, `"pushed"`, `vehicle axle 2: unknown role "pushed"; it can be "steered", "driven", "carried"`},
		{"unknown key", `behind =`, `beyond =`, `vehicle axle 2: unknown key "beyond"; did you mean "behind"?`},
		{"no such brake", `left = "brake"`, `left = "break"`, `vehicle axle 2: "left" names "break", and there is no such component; it can only be "brake"`},
		{"no brake at all", `left = "brake"`, `left = "lamp"`, `vehicle axle 2: "left" names "lamp", which is a lamp; name the brake itself, what the cam turns`},
		{"a brake twice", `left = "brake"`, "left = \"brake\"\nright = \"brake\"", `vehicle axle 2: "right" names "brake", which is on axle 2 already; a brake sits at one wheel`},
		{"out of order", `behind = "4.2 m"`, `behind = "0 m"`, `vehicle axle 2: it is not behind the axle before it`},
		{"axle without vehicle", "[vehicle]\nmass = \"16 t\"       # with salt\ntyre_radius = \"49 cm\"\n", "", `[[vehicle.axle]] stands before [vehicle]; move it after`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Equal(t, 1, strings.Count(laden, tt.old))
			_, err := Read("x.toml", []byte(small+strings.Replace(laden, tt.old, tt.new, 1)))
			require.Error(t, err)
			assert.Contains(t, err.Error(), tt.want)
		})
	}
	warnings := func(old, new string) string {
		c, err := Read("x.toml", []byte(small+strings.Replace(laden, old, new, 1)))
		require.NoError(t, err)
		return Check(c).Error()
	}
	assert.NotContains(t, warnings("", ""), "vehicle")
	assert.Contains(t, warnings(`"6 t"`, `"7 t"`), "vehicle: its axles carry 17000 kg, more than its mass of 16000 kg")
	assert.Contains(t, warnings("left = \"brake\"\n", ""), `component "brake": no axle of the vehicle names this brake`)
}
