package moisture

import "math"

const (
	freezing     = 273.15 // K
	vapourGas    = 461.5  // J/(kg·K), gas constant of water vapour (textbook)
	waterShare   = 0.622  // molar mass of water over that of dry air (textbook)
	waterDensity = 1000.0 // kg/m³
)

// Magnus formula over water (WMO CIMO guide; Sonntag 1990): e = 6.112 hPa · exp(17.62·t/(243.12 + t)), t in °C, within 0.4 % from
// −40 to 50 °C. Far beyond, where a discharge line is hot, all water stays vapour whatever the formula's error.
const (
	magnusA = 611.2 // Pa
	magnusB = 17.62
	magnusC = 243.12 // °C
)

// Saturation is the pressure of saturated water vapour, Pa.
func Saturation(temperature float64) float64 {
	t := max(temperature-freezing, -80)
	return magnusA * math.Exp(magnusB*t/(magnusC+t))
}

// DewPoint is the temperature at which vapour of a pressure is saturated, K: the inverse of [Saturation].
func DewPoint(vapour float64) float64 {
	g := math.Log(max(vapour, 1e-6) / magnusA)
	return freezing + magnusC*g/(magnusB-g)
}

// AbsoluteHumidity is the mass of vapour in a volume, kg/m³.
func AbsoluteHumidity(vapour, temperature float64) float64 { return vapour / (vapourGas * temperature) }

// Ratio is the mass of vapour for each mass of dry air.
func Ratio(vapour, pressure float64) float64 {
	if vapour >= pressure {
		return math.Inf(1)
	}
	return waterShare * vapour / (pressure - vapour)
}

// VapourOf is the inverse of Ratio, Pa.
func VapourOf(ratio, pressure float64) float64 { return ratio * pressure / (waterShare + ratio) }

// Most is the greatest Ratio that air can have.
func Most(temperature, pressure float64) float64 { return Ratio(Saturation(temperature), pressure) }

// PressureDewPoint is the temperature at which air of a ratio becomes saturated under a pressure, K.
func PressureDewPoint(ratio, pressure float64) float64 { return DewPoint(VapourOf(ratio, pressure)) }
