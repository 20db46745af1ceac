package airflow

import (
	"math"

	"airpath/circuit"
)

// Air, and the reference state of ISO 6358 (ISO 8778: 100 kPa, 20 °C, 65 % relative humidity).
const (
	GasConstant        = 287.05 // J/(kg·K), ISO 2533, from memory
	ReferenceK         = 293.15 // K
	ReferenceDensity   = 1.185  // kg/m³
	HeatRatio          = 1.4    // γ
	perKilogram        = GasConstant * ReferenceK
	perConductance     = ReferenceDensity * perKilogram // turns C·p into the rate of x = m·R·T0
	NozzleCrit         = 0.5282817877171742             // (2/(γ+1))^(γ/(γ−1)), γ = 1.4
	defaultSmoothing   = 9e-4
	smallestRoom       = 5e-6 // m³: what a law may forget, the solver needs
	ambientTemperature = ReferenceK
	atmosphere         = circuit.AtmospherePressure
)

// nozzleFlow is Ψ* = √γ·(2/(γ+1))^((γ+1)/(2(γ−1))): choked mass flow is Cd·A·p·Ψ*/√(R·T).
var nozzleFlow = math.Sqrt(HeatRatio) * math.Pow(2/(HeatRatio+1), (HeatRatio+1)/(2*(HeatRatio-1)))

// HoleConductance is the sonic conductance (ISO 6358, m³/(s·Pa)) of a round hole with a discharge coefficient.
func HoleConductance(diameter, coefficient float64) float64 {
	return coefficient * math.Pi / 4 * diameter * diameter * nozzleFlow / (ReferenceDensity * math.Sqrt(perKilogram))
}

// HoleDiameter is the inverse of HoleConductance.
func HoleDiameter(conductance, coefficient float64) float64 {
	return math.Sqrt(conductance / HoleConductance(1, coefficient))
}

// FreeAir turns a mass flow (kg/s) into a volume flow (m³/s) of ISO 8778 reference air.
func FreeAir(massFlow float64) float64 { return massFlow / ReferenceDensity }
