package heat

import (
	"fmt"
	"math"

	"airpath/circuit/airflow/effort"
)

// A Snub is one turn of snubbing: a firm application that takes some speed off, and a pause in which the hill gives it back. Package
// usage tells what its air costs.
type Snub struct {
	Pressure float64 // service pressure above the atmosphere, Pa
	On, Off  float64 // s
}

// SnubbingDown is how a hill is snubbed down: from the descent's speed by drop (m/s), each time with the same pressure, brakes
// cold. Common practice: about 5 mph, in about three seconds.
func SnubbingDown(v *effort.Vehicle, d Descent, drop, pressure float64) (Snub, error) {
	d = d.usual()
	if err := d.check(); err != nil {
		return Snub{}, err
	}
	mass := v.Circuit.Vehicle.Mass.SI
	if mass <= 0 {
		return Snub{}, fmt.Errorf("snubbing: circuit %q has no [vehicle] table, so that its mass is not known", v.Circuit.Name)
	}
	if !(drop > 0 && drop < d.Speed) {
		return Snub{}, fmt.Errorf("snubbing: the drop must lie between nothing and the speed of %g m/s, not at %g", d.Speed, drop)
	}
	h := newHot(v, d)
	pull := d.pull(mass, d.Speed-drop/2) * (1 - d.EngineShare)
	if pull <= 0 {
		return Snub{}, fmt.Errorf("snubbing: on this grade the vehicle gains no speed")
	}
	force := h.forces(pressure, effort.HeldOff)
	if force <= pull {
		return Snub{}, fmt.Errorf("snubbing: %.0f kPa hold back %.1f kN, and the hill pulls with %.1f kN", math.Round(pressure/1e3), force/1e3, pull/1e3)
	}
	return Snub{Pressure: pressure, On: drop * mass / (force - pull), Off: drop * mass / pull}, nil
}
