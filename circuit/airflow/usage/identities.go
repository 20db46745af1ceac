package usage

import (
	"math"

	"airpath/circuit"
)

const atmosphere = circuit.AtmospherePressure

// FromReservoir is the free air, m³ at a pressure outside, that a reservoir gives while it falls from one pressure to another at
// one temperature: V·(P1 − P2)/Patm (receiver formula of the compressed-air handbooks).
func FromReservoir(volume, from, to, outside float64) float64 { return volume * (from - to) / outside }

// LeakFlow is the free air, m³/s, that leaves a reservoir which falls from one pressure to another in some seconds (the same
// handbooks' leak test).
func LeakFlow(volume, from, to, outside, seconds float64) float64 {
	return FromReservoir(volume, from, to, outside) / seconds
}

// LeakFlowAtFull is LeakFlow as it was at the upper pressure: a leak slows as the pressure falls. The handbooks' factors are 1.25
// for a fall of 50 psi, 1.12 for 20 psi and 1 up to 10 psi; between them along a line.
func LeakFlowAtFull(volume, from, to, outside, seconds float64) float64 {
	rows := [][2]float64{{10, 1}, {20, 1.12}, {50, 1.25}}
	fall := (from - to) / circuit.PSI
	factor := rows[0][1]
	for i := 1; i < len(rows); i++ {
		a, b := rows[i-1], rows[i]
		if fall > a[0] {
			factor = a[1] + (b[1]-a[1])*min(1, (fall-a[0])/(b[0]-a[0]))
		}
	}
	return factor * LeakFlow(volume, from, to, outside, seconds)
}

// CylinderFreeAir is the free air for each stroke of a single-acting cylinder, m³: its swept volume times the ratio of absolute
// pressures. Brake chambers are such cylinders.
func CylinderFreeAir(diameter, stroke, gauge, outside float64) float64 {
	return math.Pi / 4 * diameter * diameter * stroke * (gauge + outside) / outside
}

// KeptByApplications is the share of a gauge pressure left after some applications, each filling chambers of one volume from the
// atmosphere out of reservoirs ratio times as large: (r/(r+1))^n (Boyle).
func KeptByApplications(ratio float64, applications int) float64 {
	return math.Pow(ratio/(ratio+1), float64(applications))
}
