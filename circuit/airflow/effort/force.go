package effort

import (
	"math"

	"airpath/circuit"
)

const (
	psi  = circuit.PSI
	inch = 0.0254
	// Gravity is the standard acceleration of free fall, m/s² (ISO 80000-3, from memory).
	Gravity = 9.80665
)

// PushRodForce is what air of a pressure above the atmosphere puts on the rod at mid stroke, N: pressure times area; type 30
// at 100 psi is 3000 lbf (British Columbia's driver manual, p. 159).
func PushRodForce(area, pressure float64) float64 { return area * max(pressure, 0) }

// ALFactor is chamber area times slack arm length, in³ for inches: by which brakes of one vehicle are compared (common
// practice, from memory: TMC and SAE).
func ALFactor(area, arm float64) float64 { return area * arm }

// Lever is the effective length of a slack arm: L·sin of the angle between rod and arm. It is a right angle with the rod out
// by squareAt (WAC 204-76-99004, notes; BC driver manual p. 159); the arm turns by stroke over length.
func Lever(arm, stroke, squareAt float64) float64 {
	return arm * math.Cos(max(-math.Pi/2, min(math.Pi/2, (stroke-squareAt)/arm)))
}

// A Foundation is what turns the camshaft's torque into force at the road.
type Foundation struct {
	CamRadius  float64 // m, by which the cam lifts a shoe for each radian
	Efficiency float64
	Friction   float64 // lining on drum
	DrumRadius float64 // m
	TyreRadius float64 // m
}

// WheelForce at the tyre for a torque on the camshaft:
//
//	force = 2 · torque · friction · drum radius · efficiency / (cam radius · tyre radius)
//
// from the accident reconstruction worksheet after SAE 910126, [2·F·L·mu·R_drum]·0.6/(0.5·R_tyre) in inches and pounds: its
// 0.5 is the cam's radius and its 0.6 the efficiency.
func (f Foundation) WheelForce(camTorque float64) float64 {
	return 2 * camTorque * f.Friction * f.DrumRadius * f.Efficiency / (f.CamRadius * f.TyreRadius)
}

// DynamicStroke is what a rod comes out further in a stop from speed than standing, m: 0.05 in plus 0.034 in for each second of
// braking (accident reconstruction worksheet after Heusser and SAE 910126, S-cam brakes).
func DynamicStroke(brakingTime float64) float64 { return (0.05 + 0.034*max(brakingTime, 0)) * inch }

// EffectiveStroke is the stroke at which thrust has fallen to 90 % of its mean over the middle third of the full stroke (UN R13
// Annex 19; 71/320/EEC Annex, symbols). thrust gives the rod's force at a stroke, m to N. It is the full stroke where the
// thrust never falls so far.
func EffectiveStroke(full float64, thrust func(stroke float64) float64) float64 {
	const n = 3000
	mean, count := 0.0, 0
	for i := n / 3; i <= 2*n/3; i++ {
		mean += thrust(full * float64(i) / n)
		count++
	}
	mean /= float64(count)
	for i := 2 * n / 3; i <= n; i++ {
		if thrust(full*float64(i)/n) < 0.9*mean {
			return full * float64(i) / n
		}
	}
	return full
}

// areaShare is how much of the nominal area still works on the rod at a share of its full stroke: the diaphragm rolls off
// the plate towards the end. The fall begins at 0.7 and has taken half at the stop: judged so that 10 % is lost a little
// after 80 % of the stroke, where 49 CFR 393.47(e)(2) sets the limit for actuators that its table lacks.
func areaShare(u float64) float64 {
	const begins, lost = 0.7, 0.5
	if u <= begins {
		return 1
	}
	x := (min(u, 1) - begins) / (1 - begins)
	return 1 - lost*x*x
}
