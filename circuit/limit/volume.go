package limit

import (
	"math"

	"airpath/circuit"
)

// ChamberType is a row of 49 CFR 571.121 Table V (text amended through 12 Apr 2013, seen).
type ChamberType struct {
	Type                 int     // nominal area in square inches
	StrokeMin, StrokeMax float64 // m, full stroke
	RatedVolume          float64 // m³
}

const (
	inch      = 0.0254
	cubicInch = inch * inch * inch
)

// TableV lists chamber types in order.
func TableV() []ChamberType {
	rows := []struct {
		kind                 int
		lowest, highest, vol float64 // in, in, in³
	}{
		{9, 1.75, 2.10, 25}, {12, 1.75, 2.10, 30}, {14, 2.25, 2.70, 40}, {16, 2.25, 2.70, 46}, {18, 2.25, 2.70, 50},
		{20, 2.25, 2.70, 54}, {24, 2.50, 3.20, 67}, {30, 2.50, 3.20, 89}, {36, 3.00, 3.60, 135},
	}
	out := make([]ChamberType, len(rows))
	for i, r := range rows {
		out[i] = ChamberType{r.kind, r.lowest * inch, r.highest * inch, r.vol * cubicInch}
	}
	return out
}

// ChamberOf finds the row for an area in m² and a full stroke in m; ok is false where the table has none.
func ChamberOf(area, stroke float64) (t ChamberType, ok bool) {
	kind := area / (inch * inch)
	for _, row := range TableV() {
		if math.Abs(kind-float64(row.Type)) < 0.5 && stroke >= row.StrokeMin-slack && stroke <= row.StrokeMax+slack {
			return row, true
		}
	}
	return ChamberType{}, false
}

// isChamber knows a chamber by what its kind states: an area, a rated volume and a full stroke.
func isChamber(k *circuit.Kind) bool {
	if k == nil {
		return false
	}
	for _, p := range []string{"area", "rated_volume", "full_stroke"} {
		if _, ok := k.Param(p); !ok {
			return false
		}
	}
	return true
}

// ChamberTotal is the volume of all service chambers in m³, each by Table V or as the file states it, whichever is lower
// (571.121 S5.1.2.1).
func ChamberTotal(c *circuit.Circuit) float64 {
	var sum float64
	for _, comp := range c.Components {
		if !isChamber(comp.Kind) {
			continue
		}
		v := comp.Value("rated_volume")
		if t, ok := ChamberOf(comp.Value("area"), comp.Value("full_stroke")); ok {
			v = min(v, t.RatedVolume)
		}
		sum += v
	}
	return sum
}

// ReservoirTotal is the volume of all reservoirs in m³.
func ReservoirTotal(c *circuit.Circuit) float64 {
	var sum float64
	for _, r := range c.Reservoirs() {
		sum += r.Volume
	}
	return sum
}

// RequiredReservoir is the least reservoir volume in m³ that 571.121 S5.1.2.1 (S5.2.1.1 for trailers) asks of a vehicle.
func RequiredReservoir(c *circuit.Circuit) float64 {
	for _, l := range For("US", c.Class, ReservoirVolume) {
		return l.Low * ChamberTotal(c)
	}
	return 0
}
