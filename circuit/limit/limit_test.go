package limit_test

import (
	"math"
	"slices"
	"testing"

	"airpath/circuit"
	"airpath/circuit/limit"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	psi   = circuit.PSI
	patm  = circuit.AtmospherePressure
	inch  = 0.0254
	cubic = inch * inch * inch
)

func TestEveryLimitIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range limit.All() {
		t.Run(l.ID, func(t *testing.T) {
			assert.False(t, seen[l.ID], "ids are unique")
			seen[l.ID] = true
			for what, text := range map[string]string{"id": l.ID, "quantity": l.Quantity, "jurisdiction": l.Jurisdiction, "source": l.Source, "dimension": string(l.Dimension)} {
				assert.NotEmpty(t, text, what)
			}
			assert.Contains(t, []limit.Known{limit.Seen, limit.Memory, limit.Derived}, l.Known)
			assert.LessOrEqual(t, l.Low, l.High)
			assert.False(t, math.IsInf(l.Low, -1) && math.IsInf(l.High, 1), "it bounds something")
			if l.Known == limit.Memory {
				assert.Contains(t, l.Note, "from memory")
			}
			assert.NotEmpty(t, l.Wanted())
			assert.False(t, l.Meets(math.NaN()) && !l.Usual, "what was never reached meets no bound")
			if !math.IsInf(l.High, 1) && l.High > 0 {
				assert.True(t, l.Meets(l.High), "the limit itself passes")
				assert.Equal(t, l.Usual, l.Meets(l.High*1.01))
			}
			if !math.IsInf(l.Low, -1) && l.Low > 0 {
				assert.True(t, l.Meets(l.Low))
				assert.Equal(t, l.Usual, l.Meets(l.Low*0.99))
			}
		})
	}
}

// The values as the sources print them. Each line names its own source.
func TestLimitsAsPublished(t *testing.T) {
	gauge := func(p float64) float64 { return p*psi + patm }
	inf := math.Inf(1)
	for _, tt := range []struct {
		id        string
		low, high float64
		source    string
	}{
		{"us-121-build-up", -inf, 25, "49 CFR 571.121 S5.1.1"},
		{"us-570-recharge", -inf, 45, "49 CFR 570.57(a)(2)"},
		{"us-manual-build-up", -inf, 45, "model commercial driver manual 5.3"},
		{"us-manual-initial-build", -inf, 180, "model commercial driver manual 2.1, 5.3"},
		{"wa-build-up", -inf, 300, "heavy vehicle regulations s. 334(1)(a)"},
		{"us-121-cut-in-truck", gauge(100), inf, "49 CFR 571.121 S5.1.1.1"},
		{"us-121-cut-in-bus", gauge(85), inf, "49 CFR 571.121 S5.1.1.1"},
		{"us-570-cut-in", gauge(80), inf, "49 CFR 570.57(a)(4)"},
		{"us-570-cut-out", -inf, gauge(135), "49 CFR 570.57(a)(4)"},
		{"ca-cut-out", -inf, gauge(130), "commercial driver handbook"},
		{"us-570-leak-released", -inf, 2 * psi / 60, "49 CFR 570.57(a)(5)"},
		{"us-570-leak-applied", -inf, 3 * psi / 60, "49 CFR 570.57(a)(6)"},
		{"on-leak-applied", -inf, 21e3 / 60, "driver handbook 6"},
		{"qc-leak-applied", -inf, 40e3 / 60, "C-24.2 r. 32 s. 166(5)"},
		{"us-570-leak-released-combination", -inf, 3 * psi / 60, "49 CFR 570.57(a)(5)"},
		{"us-570-leak-applied-combination", -inf, 4 * psi / 60, "49 CFR 570.57(a)(6)"},
		{"on-leak-applied-combination", -inf, 28e3 / 60, "driver handbook 6"},
		{"qc-leak-applied-combination", -inf, 48e3 / 60, "C-24.2 r. 32 s. 166(5)"},
		{"us-570-application", -inf, 0.20, "49 CFR 570.57(a)(1)"},
		{"us-121-reservoirs", 12, inf, "49 CFR 571.121 S5.1.2.1"},
		{"us-121-reservoirs-trailer", 8, inf, "49 CFR 571.121 S5.2.1.1"},
		{"us-121-warning", gauge(60), inf, "49 CFR 571.121 S5.1.5"},
		{"qc-warning", 380e3 + patm, inf, "C-24.2 r. 32 s. 166(10)"},
		{"au-warning", 420e3 + patm, inf, "inspection text, ADR 35"},
		{"us-manual-springs", gauge(20), gauge(45), "model commercial driver manual 5.3, 6"},
		{"us-manual-safety-valve", gauge(150), gauge(150), "model commercial driver manual 5.1.4"},
		{"us-121-gauge", -0.07, 0.07, "49 CFR 571.121 S5.1.4"},
		{"us-121-stop-lamps", -inf, gauge(6), "49 CFR 571.121 S5.1.7"},
		{"us-121-apply", -inf, 0.45, "49 CFR 571.121 S5.3.3.1(a)"},
		{"us-121-apply-trailer", -inf, 0.60, "49 CFR 571.121 S5.3.3.1(a)"},
		{"us-121-release", -inf, 0.55, "49 CFR 571.121 S5.3.4.1(a)"},
		{"us-121-release-trailer", -inf, 1.20, "49 CFR 571.121 S5.3.4.1(a)"},
	} {
		i := slices.IndexFunc(limit.All(), func(l limit.Limit) bool { return l.ID == tt.id })
		require.GreaterOrEqual(t, i, 0, tt.id)
		l := limit.All()[i]
		if math.IsInf(tt.low, -1) {
			assert.Equal(t, tt.low, l.Low, tt.id)
		} else {
			assert.InEpsilon(t, tt.low, l.Low, 1e-12, tt.id)
		}
		if math.IsInf(tt.high, 1) {
			assert.Equal(t, tt.high, l.High, tt.id)
		} else {
			assert.InEpsilon(t, tt.high, l.High, 1e-12, tt.id)
		}
		assert.Equal(t, tt.source, l.Source, tt.id)
	}
}

// Ontario and Quebec print metric and inch values side by side: 21 kPa beside 3 psi; Quebec's 380 kPa is 55 psi.
func TestMetricAndInchValuesAgree(t *testing.T) {
	assert.InDelta(t, 3, 21e3/psi, 0.05)
	assert.InDelta(t, 4, 28e3/psi, 0.07)
	assert.InDelta(t, 55, 380e3/psi, 0.15)
}

func ids(ls []limit.Limit) []string {
	var out []string
	for _, l := range ls {
		out = append(out, l.ID)
	}
	return out
}

func TestForPicksByPlaceAndClass(t *testing.T) {
	assert.Equal(t, []string{"us-121-cut-in-truck", "us-570-cut-in", "us-manual-cut-in"}, ids(limit.For("US", "truck", limit.CutIn)))
	assert.Equal(t, []string{"us-121-cut-in-bus", "us-570-cut-in", "us-manual-cut-in"}, ids(limit.For("", "bus", limit.CutIn)), "no jurisdiction means US")
	assert.Equal(t, []string{"ca-cut-out", "us-570-cut-out", "us-manual-cut-out", "us-manual-cut-out-newer"}, ids(limit.For("US/California", "truck", limit.CutOut)), "a state's own, then the country's, bounds before usual values")
	assert.Equal(t, []string{"on-leak-applied", "qc-leak-applied"}, ids(limit.For("Canada", "truck", limit.LeakApplied)), "no federal value read: the provinces', each named")
	assert.Equal(t, []string{"qc-leak-applied"}, ids(limit.For("Canada/Quebec", "truck", limit.LeakApplied)))
	assert.Equal(t, []string{"us-121-apply-trailer"}, ids(limit.For("US", "trailer", limit.ApplyTime)))
	assert.Empty(t, limit.For("US", "trailer", limit.CutIn))
	assert.Empty(t, limit.For("Atlantis", "truck", limit.CutIn))
	assert.Empty(t, limit.For("US", "truck", "beauty"))
}

// A case file may name just these.
func TestJurisdictionsAreThoseOfTheFormat(t *testing.T) {
	assert.Equal(t, limit.Jurisdictions(), circuit.Jurisdictions)
}

// 49 CFR 571.121 Table V, in the table's own units; the last column is area times least stroke, which the rated volume
// always exceeds: a chamber has a void.
func TestTableV(t *testing.T) {
	rows := []struct{ kind, low, high, volume, swept float64 }{
		{9, 1.75, 2.10, 25, 15.75}, {12, 1.75, 2.10, 30, 21.0}, {14, 2.25, 2.70, 40, 31.5}, {16, 2.25, 2.70, 46, 36.0}, {18, 2.25, 2.70, 50, 40.5},
		{20, 2.25, 2.70, 54, 45.0}, {24, 2.50, 3.20, 67, 60.0}, {30, 2.50, 3.20, 89, 75.0}, {36, 3.00, 3.60, 135, 108.0},
	}
	table := limit.TableV()
	require.Len(t, table, len(rows))
	for i, r := range rows {
		got := table[i]
		assert.Equal(t, int(r.kind), got.Type)
		assert.InEpsilon(t, r.low, got.StrokeMin/inch, 1e-12)
		assert.InEpsilon(t, r.high, got.StrokeMax/inch, 1e-12)
		assert.InEpsilon(t, r.volume, got.RatedVolume/cubic, 1e-12)
		assert.InEpsilon(t, r.swept, r.kind*got.StrokeMin/inch, 1e-12)
		assert.Greater(t, got.RatedVolume, r.swept*cubic)
		found, ok := limit.ChamberOf(r.kind*inch*inch, r.low*inch)
		require.True(t, ok)
		assert.Equal(t, got, found)
	}
	_, ok := limit.ChamberOf(30*inch*inch, 3.21*inch)
	assert.False(t, ok, "longer than the type's stroke range")
	_, ok = limit.ChamberOf(22*inch*inch, 2.5*inch)
	assert.False(t, ok, "no such type")
}

// 49 CFR 393.47(e), text amended through 14 Oct 2021: the table's inches, and millimetres as printed beside them.
func TestStrokeLimits(t *testing.T) {
	for _, tt := range []struct {
		body     limit.ChamberBody
		kind     string
		in, tens float64 // inches; millimetres to a tenth, 0 where the table prints none
	}{
		{limit.Clamp, "6", 1.25, 31.8}, {limit.Clamp, "9", 1.375, 34.9}, {limit.Clamp, "12", 1.375, 34.9}, {limit.Clamp, "16", 1.75, 44.5},
		{limit.Clamp, "20", 1.75, 44.5}, {limit.Clamp, "24", 1.75, 44.5}, {limit.Clamp, "30", 2, 50.8}, {limit.Clamp, "36", 2.5, 63.5},
		{limit.ClampLong, "12", 1.75, 44.5}, {limit.ClampLong, "16", 2, 50.8}, {limit.ClampLong, "20", 2, 50.8}, {limit.ClampLong, "24", 2, 50.8}, {limit.ClampLong, "30", 2.5, 63.5},
		{limit.ClampLonger, "20", 2.5, 63.5}, {limit.ClampLonger, "24", 2.5, 63.5},
		{limit.Roto, "9", 1.5, 0}, {limit.Roto, "12", 1.5, 0}, {limit.Roto, "16", 2, 0}, {limit.Roto, "20", 2, 0}, {limit.Roto, "24", 2, 0},
		{limit.Roto, "30", 2.25, 0}, {limit.Roto, "36", 2.75, 0}, {limit.Roto, "50", 3, 0},
		{limit.Bolt, "A", 1.375, 0}, {limit.Bolt, "B", 1.75, 0}, {limit.Bolt, "C", 1.75, 0}, {limit.Bolt, "D", 1.25, 0}, {limit.Bolt, "E", 1.375, 0},
		{limit.Bolt, "F", 2.25, 0}, {limit.Bolt, "G", 2, 0},
	} {
		got, ok := limit.Stroke(tt.body, tt.kind)
		require.True(t, ok, "%s %s", tt.body, tt.kind)
		assert.Equal(t, tt.in*inch, got, "%s %s", tt.body, tt.kind)
		if tt.tens > 0 {
			assert.InDelta(t, tt.tens, got*1e3, 0.051, "%s %s", tt.body, tt.kind)
		}
	}
	_, ok := limit.Stroke(limit.ClampLong, "36")
	assert.False(t, ok)
	assert.Contains(t, limit.StrokeEdition, "14 Oct 2021", "type 36 is dated: other tables have 2 1/4 in")
	assert.InEpsilon(t, 0.0508, limit.StrokeUnlisted(0.0635), 1e-12, "80 % of the marked rated stroke, 393.47(e)(2)")
}

// 571.121 S5.1.2.1 for two type 20 and four type 30 chambers, worked out by hand: chambers 464 in³, reservoirs 5568 in³.
func TestRequiredReservoirOfATractor(t *testing.T) {
	k, err := circuit.KindNamed("service-chamber")
	require.NoError(t, err)
	c := &circuit.Circuit{Class: "truck"}
	for i, kind := range []string{"20", "20", "30", "30", "30", "30"} {
		volume := map[string]string{"20": "54 in3", "30": "95 in3"}[kind] // a larger chamber than Table V's counts by the table
		c.Components = append(c.Components, &circuit.Component{ID: "chamber" + string(rune('a'+i)), Kind: k, Given: map[string]circuit.Quantity{
			"area": circuit.MustQuantity(kind+" in2", circuit.Area), "rated_volume": circuit.MustQuantity(volume, circuit.Volume), "full_stroke": circuit.MustQuantity("2.5 in", circuit.Length),
		}})
	}
	assert.InEpsilon(t, 464, limit.ChamberTotal(c)/cubic, 1e-12)
	assert.InEpsilon(t, 5568, limit.RequiredReservoir(c)/cubic, 1e-12)
	c.Class = "trailer"
	assert.InEpsilon(t, 8*464, limit.RequiredReservoir(c)/cubic, 1e-12, "S5.2.1.1")
}

// The build-up time allowed grows with the reservoirs: 25 s times actual over required (571.121 S5.1.1).
func TestBuildUpGrowsWithReservoirs(t *testing.T) {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	litres := 0.0
	for _, p := range []string{"supply_volume", "primary_volume", "secondary_volume"} {
		litres += c.Component("tank").Value(p) * 1e3
	}
	chambers := 2 * (54.0 + 89) * cubic * 1e3 // litres; two type 20 and two type 30, Table V
	want := 25 * litres / (12 * chambers)
	l := limit.ForCircuit("US", c, limit.BuildUp85To100)[0]
	assert.Equal(t, "us-121-build-up", l.ID)
	assert.InEpsilon(t, want, l.High, 1e-9)
	assert.True(t, math.IsInf(l.Low, -1))
	assert.InEpsilon(t, 25, limit.For("US", "truck", limit.BuildUp85To100)[0].High, 1e-12)
}

func TestTheLibraryMeetsItsStandards(t *testing.T) {
	for _, name := range circuits.Names() {
		c, err := circuits.Load(name)
		require.NoError(t, err)
		rulings := limit.CheckVehicle(c)
		require.NotEmpty(t, rulings)
		for _, r := range rulings {
			assert.True(t, r.Pass, "%s: %s: %s, wanted %s (%s)", name, r.Component, r.What, r.Wanted, r.Source)
		}
	}
}

func TestCheckVehicleFindsFaults(t *testing.T) {
	drop := func(c *circuit.Circuit, id string) {
		c.Lines = slices.DeleteFunc(c.Lines, func(l *circuit.Line) bool { return l.ID == id })
	}
	for _, tt := range []struct {
		name                 string
		edit                 func(c *circuit.Circuit)
		what, wanted, source string
	}{
		{"small reservoirs", func(c *circuit.Circuit) {
			c.Component("tank").Given["primary_volume"] = circuit.MustQuantity("2 L", circuit.Volume)
		}, "L of chambers", "at least 12 times", "49 CFR 571.121 S5.1.2.1"},
		{"low cut-in", func(c *circuit.Circuit) {
			c.Component("governor").Given["cut_in"] = circuit.MustQuantity("97 psi", circuit.Pressure)
		}, "governor: cut-in 97.0 psi", "at least 100.0 psi", "49 CFR 571.121 S5.1.1.1"},
		{"no drain", func(c *circuit.Circuit) { drop(c, "drain_primary_stub") }, "primary compartment: drain", "a drain worked by hand", "49 CFR 571.121 S5.1.2.4"},
		{"no check valve", func(c *circuit.Circuit) {
			drop(c, "primary_fill")
			c.Line("primary_feed").To = circuit.PortRef{Component: "tank", Port: "12"}
		}, "primary compartment: keeps its air when tank.supply is lost", "a check valve between", "49 CFR 571.121 S5.1.2.3"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c, err := circuits.Load("gritter")
			require.NoError(t, err)
			tt.edit(c)
			require.NoError(t, circuit.Check(c).Err())
			var failed []limit.Ruling
			for _, r := range limit.CheckVehicle(c) {
				if !r.Pass {
					failed = append(failed, r)
				}
			}
			require.Len(t, failed, 1)
			assert.Contains(t, failed[0].What, tt.what)
			assert.Equal(t, tt.wanted, failed[0].Wanted)
			assert.Equal(t, tt.source, failed[0].Source)
		})
	}
}
