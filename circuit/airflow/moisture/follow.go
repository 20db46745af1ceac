package moisture

import (
	"fmt"
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow/effort"
)

// Weather that the vehicle works in.
type Weather struct {
	Temperature float64 // K
	Humidity    float64 // share of saturation
	Pressure    float64 // Pa; 0 for the standard atmosphere
}

// Hours of driving, in s.
func Hours(n float64) float64 { return 3600 * n }

// A Report is where the water of a day's driving goes, kg.
type Report struct {
	Weather    Weather
	Air        float64 // kg of dry air that a day pumps
	DrawnIn    float64 // with the intake air
	InLine     float64 // dropped in the discharge line and the dryer's sump
	BlownOut   float64 // let out by the dryer: what dropped before it, and what its bed was rid of
	Tanks      []Tank  // reservoirs in file order
	GoesOn     float64 // as vapour with the air that the brakes use
	LineEnd    float64 // K, at the end of the discharge line
	Head       float64 // K, of the air at the compressor's head
	Ratio      float64 // of vapour in the service reservoirs, kg/kg
	DewPoint   float64 // K, of the air in the reservoirs under their pressure
	Dryer      bool
	Balance    Regeneration
	Freezing   []Freezing
	OilCarried bool // the compressor passes oil: it spoils cartridges, and drains yield a grey sludge
}

// A Tank is a reservoir and what its drain should yield.
type Tank struct {
	Room        string
	Volume      float64 // m³
	Temperature float64 // K
	PerDay      float64 // kg of water
}

// Share of a tank's volume that its water takes after some days without draining.
func (t Tank) Share(days float64) float64 { return min(1, t.PerDay*days/waterDensity/t.Volume) }

// A supply reservoir's air has come down to the ambient temperature but for this share of its excess.
const stillWarm = 0.1

// Follow the water of a day with so many seconds of driving.
func Follow(v *effort.Vehicle, d Duty, w Weather, driving float64) (Report, error) {
	if w.Pressure == 0 {
		w.Pressure = circuit.AtmospherePressure
	}
	if !(w.Temperature >= 220 && w.Temperature <= 330 && w.Humidity >= 0 && w.Humidity <= 1 && w.Pressure > 5e4 && w.Pressure < 1.2e5 && driving >= 0 && driving <= 86400) {
		return Report{}, fmt.Errorf("moisture: weather %+v over %g s of driving: want −53 to 57 °C, humidity up to 1, a day at most", w, driving)
	}
	c := v.Circuit
	k := cartridgeOf(c, v.Faults)
	r := Report{Weather: w, Air: d.Pumped * driving, Dryer: k.fitted}
	p := max(d.Pressure, w.Pressure)

	drawn := Ratio(w.Humidity*Saturation(w.Temperature), w.Pressure)
	r.Head = DischargeTemperature(w.Temperature, p/w.Pressure)
	r.LineEnd = LineEnd(r.Head, w.Temperature, d.Flow, d.Loaded, dischargeLine(c))
	wet := min(drawn, Most(r.LineEnd, p))
	r.DrawnIn, r.InLine = r.Air*drawn, r.Air*(drawn-wet)

	ratio, carried := wet, 0.0 // vapour behind the dryer, and water that goes on as drops
	if k.fitted {
		dry := min(wet, Most(r.LineEnd-depression, p))
		cycle := r.Air
		if d.Purges > 0 {
			cycle = d.Pumped / d.Purges
		}
		r.Balance = k.regenerate(cycle, wet, dry, r.LineEnd, p)
		takes := k.takes * min(1, r.Balance.Balance)
		if d.Purges == 0 {
			takes = 0 // a bed that is never blown through is full after a day or two
		}
		ratio = wet - takes*(wet-dry)
		blown := k.blows
		if d.Purges == 0 {
			blown = 0
		}
		r.BlownOut = r.InLine*blown + r.Air*(wet-ratio)
		carried = r.InLine * (1 - blown)
	} else {
		carried = r.InLine // it runs on into the first reservoir
	}
	r.tanks(c, w, p, &ratio, carried)
	r.Ratio = ratio
	r.GoesOn = r.Air * ratio
	r.DewPoint = PressureDewPoint(ratio, p)
	for _, f := range v.Faults {
		r.OilCarried = r.OilCarried || f.Mode == "passing oil"
	}
	r.freeze(c, k)
	return r, nil
}

// tanks lets the air cool down in the reservoirs: most of the way in those that the dryer or the compressor feeds, all the way in the
// others, which share the rest by their volumes.
func (r *Report) tanks(c *circuit.Circuit, w Weather, p float64, ratio *float64, carried float64) {
	list := c.Reservoirs()
	first, rest := 0.0, 0.0
	for _, t := range list {
		if len(t.FedBy) == 0 {
			first += t.Volume
		} else {
			rest += t.Volume
		}
	}
	warm := w.Temperature + stillWarm*(r.LineEnd-w.Temperature)
	if rest == 0 {
		warm = w.Temperature
	}
	supply := min(*ratio, Most(warm, p))
	service := min(supply, Most(w.Temperature, p))
	for _, t := range list {
		x := Tank{Room: t.Room, Volume: t.Volume, Temperature: w.Temperature}
		if len(t.FedBy) == 0 {
			x.Temperature = warm
			x.PerDay = (r.Air*(*ratio-supply) + carried) * t.Volume / first
		} else {
			x.PerDay = r.Air * (supply - service) * t.Volume / rest
		}
		r.Tanks = append(r.Tanks, x)
	}
	*ratio = service
}

// Lost is what becomes of a vehicle that is not drained for some days: for each reservoir the share of its volume that water takes.
func (r Report) Lost(days float64) []float64 {
	out := make([]float64, len(r.Tanks))
	for i, t := range r.Tanks {
		out[i] = t.Share(days)
	}
	return out
}

// Kept checks the books: what was drawn in, less all that the report accounts for, kg. It is rounding only.
func (r Report) Kept() float64 {
	sum := r.BlownOut + r.GoesOn
	for _, t := range r.Tanks {
		sum += t.PerDay
	}
	return math.Abs(r.DrawnIn - sum)
}
