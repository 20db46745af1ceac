package circuit

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseQuantity(t *testing.T) {
	for _, tt := range []struct {
		text string
		d    Dimension
		want float64
	}{
		{"120 psi", Pressure, 120*PSI + AtmospherePressure},
		{"120psi", Pressure, 120*PSI + AtmospherePressure},
		{"1.2e2 psi", Pressure, 120*PSI + AtmospherePressure},
		{"  120   psi ", Pressure, 120*PSI + AtmospherePressure},
		{"0 bar", Pressure, AtmospherePressure},
		{"-14.6 psi", Pressure, -14.6*PSI + AtmospherePressure},
		{"1e3 psi", PressureSpan, 1e3 * PSI},
		{"1E-1 bar", PressureSpan, 1e4},
		{"-2 psi", PressureSpan, -2 * PSI},
		{"5.5in", Length, 5.5 * 0.0254},
		{".5 in", Length, 0.0127},
		{"5. in", Length, 0.127},
		{"35 L", Volume, 0.035},
		{"89 in3", Volume, 89 * 0.0254 * 0.0254 * 0.0254},
		{"30 in2", Area, 30 * 0.0254 * 0.0254},
		{"700 rpm", Speed, 700.0 / 60},
		{"10 L/(s.bar)", Conductance, 1e-7},
		{"7 %", Ratio, 0.07},
		{"7%", Ratio, 0.07},
		{"0.07", Ratio, 0.07},
		{"2 psi/min", Rate, 2 * PSI / 60},
		{"20 C", Temperature, 293.15},
		{"68 F", Temperature, 293.15},
		{"1.5 min", Time, 90},
		{"3", Count, 3},
	} {
		q, err := ParseQuantity(tt.text, tt.d)
		require.NoError(t, err, tt.text)
		assert.InEpsilon(t, tt.want+1, q.SI+1, 1e-12, tt.text)
		assert.Equal(t, tt.d, q.Dimension)
	}
}

func TestParseQuantityErrors(t *testing.T) {
	for _, tt := range []struct {
		text string
		d    Dimension
		want string
	}{
		{"", Pressure, `"" is not a pressure: want a number and a unit, such as "12 psi"`},
		{"much", Pressure, `"much" is not a pressure: want a number and a unit, such as "12 psi"`},
		{"psi 12", Pressure, `"psi 12" is not a pressure: want a number and a unit, such as "12 psi"`},
		{"NaN psi", Pressure, `"NaN psi" is not a pressure: want a number and a unit, such as "12 psi"`},
		{"inf psi", Pressure, `"inf psi" is not a pressure: want a number and a unit, such as "12 psi"`},
		{"1,5 bar", Pressure, `"1,5 bar" is not a pressure: want one number, with a decimal point, and a unit, such as "12 psi"`},
		{"1 2 psi", Pressure, `"1 2 psi" is not a pressure: want one number, with a decimal point, and a unit, such as "12 psi"`},
		{"12", Pressure, `"12" has no unit; a pressure is written in psi, bar, kPa, such as "12 psi"`},
		{"12 PSI", Pressure, `"PSI" is no unit of a pressure; did you mean "psi"?`},
		{"12 bars", Pressure, `"bars" is no unit of a pressure; did you mean "bar"?`},
		{"12 L", Pressure, `unit "L" does not measure a pressure; write it in psi, bar, kPa, such as "12 psi"`},
		{"1e400 psi", Pressure, `"1e400 psi" is too large for a pressure`},
		{"-15 psi", Pressure, `"-15 psi" is less than a vacuum; pressures are gauge pressures, above the atmosphere`},
		{"-300 C", Temperature, `"-300 C" is below absolute zero`},
		{"-3 mm", Length, `"-3 mm" is negative, which no length can be`},
		{"12 psi", Count, `unit "psi" does not measure a count; write it in plain numbers, such as "12"`},
		{"12 rpm", "wind", `unit "rpm" does not measure a wind; write it in plain numbers, such as "12"`},
	} {
		_, err := ParseQuantity(tt.text, tt.d)
		assert.EqualError(t, err, tt.want, tt.text)
	}
}

func TestQuantityRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(Dimensions()).Draw(t, "dimension")
		u := rapid.SampledFrom(units[d]).Draw(t, "unit")
		number := strconv.FormatFloat(rapid.Float64Range(0, 1e6).Draw(t, "number"), 'g', rapid.IntRange(1, 17).Draw(t, "digits"), 64)
		text := number + rapid.SampledFrom([]string{"", " ", "  "}).Draw(t, "space") + u.Name
		q, err := ParseQuantity(text, d)
		require.NoError(t, err)
		again, err := ParseQuantity(q.exactText(), d)
		require.NoError(t, err)
		assert.Equal(t, q, again, "the text is kept")

		v, ok := In(q.SI, d, u.Name)
		require.True(t, ok)
		want, _ := strconv.ParseFloat(number, 64)
		assert.InDelta(t, want, v, 1e-9*(math.Abs(want)+math.Abs(u.Offset/u.Scale)))
	})
}

// What was computed and not typed gets a text that reads back as very nearly the same number: to a unit in the last place
// of the larger of the number and the unit's offset.
func TestComputedQuantitiesAreWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(Dimensions()).Draw(t, "dimension")
		si := rapid.Float64Range(0, 1e6).Draw(t, "si")
		q := NewQuantity(si, d)
		again, err := ParseQuantity(q.Text, d)
		require.NoError(t, err, q.Text)
		assert.InDelta(t, si, again.SI, 4e-16*(si+2*AtmospherePressure))
	})
}

func TestFormat(t *testing.T) {
	level := func(psi float64) float64 { return psi*PSI + AtmospherePressure }
	for _, tt := range []struct {
		si       float64
		d        Dimension
		unit     string
		decimals int
		want     string
	}{
		{level(118), Pressure, "psi", 0, "118 psi"},
		{level(118), Pressure, "bar", 2, "8.14 bar"},
		{level(118), Pressure, "kPa", 0, "814 kPa"},
		{level(-1e-9), Pressure, "psi", 1, "0.0 psi"},
		{level(118), Pressure, "furlong", 0, "118 psi"},
		{0.45, Time, "s", 2, "0.45 s"},
		{0.07, Ratio, "%", 0, "7 %"},
		{0.07, Ratio, "", 2, "0.07"},
		{3, Count, "", -1, "3"},
		{math.NaN(), Time, "s", 1, "–"},
		{math.Inf(1), Time, "s", 1, "–"},
		{5, "wind", "knots", 0, "5"},
	} {
		assert.Equal(t, tt.want, Format(tt.si, tt.d, tt.unit, tt.decimals))
	}
	assert.Equal(t, "bar", UnitFor(Pressure, "bar"))
	assert.Equal(t, "bar", UnitFor(PressureSpan, "bar"))
	assert.Equal(t, "kPa/min", UnitFor(Rate, "kPa"))
	assert.Equal(t, "s", UnitFor(Time, "kPa"))
}
