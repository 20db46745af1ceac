package heat

import (
	"math"

	"airpath/circuit/airflow/effort"
)

// Cast iron (textbook values, from memory).
const (
	ironHeat   = 500.0 // J/(kg·K)
	ironGrowth = 11e-6 // 1/K
)

// Cold is the temperature that linings and strokes are stated for, K.
const Cold = 293.15

// leastFriction is the share of its friction that a lining keeps however hot it is.
const leastFriction = 0.25

// Capacity of a drum, J/K.
func Capacity(t effort.Thermal) float64 { return t.DrumMass * ironHeat }

// Cooling is the heat that a drum gives off to the air at a road speed, W/K. It grows with speed as in the grade severity rating
// system (from memory: 1/K2 = 0.1 + 0.00208·V hp/°F for ten brakes at V mph, which is 68 % standing and 3.2 % for each m/s of
// what it is at 10 m/s).
func Cooling(t effort.Thermal, speed float64) float64 {
	return t.Cooling * (0.68 + 0.032*max(speed, 0))
}

// Warm is a drum's temperature after some seconds of constant power and speed: exact, for
//
//	capacity·dT/dt = power − cooling·(T − ambient)
func Warm(t effort.Thermal, from, power, speed, ambient, seconds float64) float64 {
	cooling := Cooling(t, speed)
	end := ambient + power/cooling
	return end + (from-end)*math.Exp(-cooling*seconds/Capacity(t))
}

// Grip is the share of its cold friction that a lining has at a drum temperature.
func Grip(t effort.Thermal, temperature float64) float64 {
	return max(leastFriction, 1-t.Fade*max(0, temperature-t.FadeFrom)/100)
}

// Travel is what a rod comes out further because the drum has grown away from the shoes, m.
func Travel(w *effort.Wheel, temperature float64) float64 {
	return w.TravelForGap(ironGrowth * w.DrumRadius * max(0, temperature-Cold))
}

// Force at a hot wheel's tyre, N, by service and hold-off pressures above the atmosphere.
func Force(w *effort.Wheel, service, holdOff, temperature float64) float64 {
	if w.Brake == nil {
		return 0
	}
	return w.With(service, holdOff, Travel(w, temperature)).WheelForce * Grip(w.Thermal, temperature)
}
