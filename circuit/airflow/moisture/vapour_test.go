package moisture_test

import (
	"math"
	"testing"

	"airpath/circuit"
	"airpath/circuit/airflow/moisture"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const zero = 273.15

func fahrenheit(f float64) float64 { return (f-32)/1.8 + zero }

// Values in hPa at 0, 10 ... 50 °C: Magnus (WMO CIMO guide), and within 0.4 % of Buck 1996 and of IAPWS-Wagner.
func TestSaturation(t *testing.T) {
	for _, row := range [][4]float64{
		{0, 6.112, 6.112, 6.117}, {10, 12.260, 12.279, 12.281}, {20, 23.326, 23.383, 23.392}, {30, 42.337, 42.451, 42.469}, {40, 73.675, 73.824, 73.851}, {50, 123.452, 123.494, 123.525},
	} {
		got := moisture.Saturation(zero+row[0]) / 100
		assert.InDelta(t, row[1], got, 6e-4, "Magnus, %g °C", row[0])
		assert.InEpsilon(t, row[2], got, 4e-3, "Buck 1996, %g °C", row[0])
		assert.InEpsilon(t, row[3], got, 4e-3, "IAPWS-Wagner, %g °C", row[0])
	}
}

// Murphy and Koop 2005, their formula for supercooled and liquid water (from memory): an independent form, within 0.6 % down to −40 °C and
// 0.4 % above.
func TestAgainstMurphyAndKoop(t *testing.T) {
	formula := func(k float64) float64 {
		return math.Exp(54.842763 - 6763.22/k - 4.210*math.Log(k) + 0.000367*k + math.Tanh(0.0415*(k-218.8))*(53.878-1331.22/k-9.44523*math.Log(k)+0.014025*k))
	}
	for c := -40.0; c <= 50; c += 2.5 {
		band := 4e-3
		if c < -20 {
			band = 6e-3
		}
		assert.InEpsilon(t, formula(zero+c), moisture.Saturation(zero+c), band, "%g °C", c)
	}
}

// WMO CIMO guide: td = 243.12·g/(17.62 − g), g = ln(RH) + 17.62·t/(243.12 + t).
func TestDewPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, rh := rapid.Float64Range(-40, 50).Draw(t, "C"), rapid.Float64Range(0.05, 1).Draw(t, "RH")
		g := math.Log(rh) + 17.62*c/(243.12+c)
		require.InDelta(t, 243.12*g/(17.62-g), moisture.DewPoint(rh*moisture.Saturation(zero+c))-zero, 1e-9)
		require.InDelta(t, c, moisture.DewPoint(moisture.Saturation(zero+c))-zero, 1e-9)
		p := rapid.Float64Range(5e4, 1.2e6).Draw(t, "p")
		e := rh * moisture.Saturation(zero+c)
		if e < p {
			require.InEpsilon(t, e, moisture.VapourOf(moisture.Ratio(e, p), p), 1e-9)
		}
	})
}

// A compressed-air note: 17.30 g/m³ saturated at 20 °C, 39.63 at 35 °C. Its worked example: a cubic metre saturated at 35 °C, pressed
// to 8 bar and cooled back, keeps 4.95 g and drops 34.68 g.
func TestAbsoluteHumidity(t *testing.T) {
	at := func(c float64) float64 {
		return 1e3 * moisture.AbsoluteHumidity(moisture.Saturation(zero+c), zero+c)
	}
	assert.InEpsilon(t, 17.30, at(20), 5e-3)
	assert.InEpsilon(t, 39.63, at(35), 5e-3)
	assert.InEpsilon(t, 4.95, at(35)/8, 5e-3)
	assert.InEpsilon(t, 34.68, at(35)*7/8, 5e-3)
}

const (
	psia       = 14.7 * circuit.PSI
	foot3      = 0.028316846592
	gallon     = 3.785411784e-3 * 998 // kg of water
	dryDensity = psia / (287.05 * 288.706)
)

// gallons of water in a thousand standard cubic feet (14.7 psi, 60 °F) of dry air.
func gallons(f, humidity, pressure float64) float64 {
	return 1000 * foot3 * dryDensity * moisture.Ratio(humidity*moisture.Saturation(fahrenheit(f)), pressure) / gallon
}

// CAGI handbook, tables 3.3 and 3.4: 0.1521 gal/1000 scf in air of 80 °F and 75 %, 0.0478 in saturated air of 100 °F and 100 psig;
// at 500 scfm the difference is 0.0522 gal a minute, 75.1 a day. Its rule of thumb for 500 scfm of 75 °F and 75 %: 90 gallons a
// day, of which 57 drop at 100 °F and 100 psig, 33 remain, and 29 of these drop down to a dew point of 38 °F.
func TestHandbookCondensate(t *testing.T) {
	in, out := gallons(80, 0.75, psia), gallons(100, 1, psia+100*circuit.PSI)
	assert.InEpsilon(t, 0.1521, in, 0.01)
	assert.InEpsilon(t, 0.0478, out, 0.01)
	assert.InEpsilon(t, 0.0522, (in-out)/2, 0.01)
	assert.InEpsilon(t, 75.1, (in-out)/2*1440, 0.01)
	day := 0.5 * 1440
	first, second, third := day*gallons(75, 0.75, psia), day*gallons(100, 1, psia+100*circuit.PSI), day*gallons(38, 1, psia+100*circuit.PSI)
	for i, row := range [][3]float64{{90, 91.6, first}, {57, 57.5, first - second}, {33, 34.1, second}, {29, 30.1, second - third}} {
		assert.InEpsilon(t, row[0], row[2], 0.045, "rule of thumb, step %d", i)
		assert.InEpsilon(t, row[1], row[2], 0.006, "the same by Magnus, step %d", i)
	}
}

// A compressed-air handbook's note, gallons an hour for each cfm of intake air: .0068 at 75 °F and 70 %, .0097 saturated, .0205 at
// 100 °F saturated. It says that they are condensed to 35 °F, and leaves the vapour that stays (under .0003) with them.
func TestCondensateAnHour(t *testing.T) {
	for _, row := range [][3]float64{{75, 0.7, 0.0068}, {75, 1, 0.0097}, {100, 1, 0.0205}} {
		k := fahrenheit(row[0])
		assert.InEpsilon(t, row[2], 60*foot3*moisture.AbsoluteHumidity(row[1]*moisture.Saturation(k), k)/gallon, 0.01)
	}
}

// Worked from the same formulas beforehand: 25 °C and 60 % is 11.861 g/kg, saturated at 120 psig 2.1237 g/kg, 9.7374 g/kg drop.
func TestWorkedRatio(t *testing.T) {
	wet := moisture.Ratio(0.6*moisture.Saturation(zero+25), circuit.AtmospherePressure)
	kept := moisture.Most(zero+25, circuit.AtmospherePressure+120*circuit.PSI)
	assert.InDelta(t, 0.011861, wet, 1e-6)
	assert.InDelta(t, 0.0021237, kept, 1e-7)
	assert.InDelta(t, 9.7374e-3, wet-kept, 1e-6)
}
