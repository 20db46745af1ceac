package moisture

import (
	"fmt"
	"math"

	"airpath/circuit"
)

// Freezing is a place where ice can be met.
type Freezing struct {
	Component string // id
	Why       string
}

// A yield below this, kg a day, is a film that blocks nothing.
const film = 1e-3

// freeze lists the places where water that is there turns to ice in this weather, in the order in which the air meets them.
func (r *Report) freeze(c *circuit.Circuit, k cartridge) {
	if r.Weather.Temperature >= freezing {
		return
	}
	if r.LineEnd < freezing && r.InLine > film {
		if lines := dischargeLine(c); len(lines) > 0 {
			r.Freezing = append(r.Freezing, Freezing{lines[len(lines)-1].ID, fmt.Sprintf("the discharge line's end is at %.0f °C, and water drops in it", celsius(r.LineEnd))})
		}
	}
	if k.fitted && !k.heated && r.BlownOut > film {
		for _, d := range dryers(c) {
			r.Freezing = append(r.Freezing, Freezing{d.ID, "its heater is dead, and the water that it blows out freezes in the purge valve"})
		}
	}
	for i, t := range c.Reservoirs() {
		if x := r.Tanks[i]; x.PerDay > film && x.Temperature < freezing {
			r.Freezing = append(r.Freezing, Freezing{t.Component.ID, fmt.Sprintf("%.0f mL a day gather in the %s and freeze in its drain", x.PerDay*1e3, t.Spec.About)})
		} else if x.PerDay > film {
			r.Freezing = append(r.Freezing, Freezing{t.Component.ID, fmt.Sprintf("%.0f mL a day gather in the %s and freeze there when the vehicle stands", x.PerDay*1e3, t.Spec.About)})
		}
	}
	// Air at its dew point leaves rime wherever it is throttled or cools further.
	if r.Margin() < rimeMargin {
		for _, part := range c.Components {
			if part.Kind != nil && throttles(part.Kind) {
				r.Freezing = append(r.Freezing, Freezing{part.ID, fmt.Sprintf("the air that comes to it is saturated at %.0f °C, near the %.0f °C around it", celsius(r.DewPoint), celsius(r.Weather.Temperature))})
			}
		}
	}
}

// rimeMargin is how far the dew point should lie below the ambient temperature, K.
const rimeMargin = 5.0

// Margin is how far the dew point in the reservoirs lies below the ambient temperature, K; 0 where water drops.
func (r Report) Margin() float64 { return math.Max(0, r.Weather.Temperature-r.DewPoint) }

// throttles: a valve that passes air on by command, by its control port or pedal, and lets it out at an exhaust.
func throttles(k *circuit.Kind) bool {
	exhaust, service := false, false
	for _, p := range k.Ports {
		exhaust = exhaust || p.Vent && p.Role() == circuit.Exhaust
		service = service || p.Role() == circuit.Delivery
	}
	if _, dryer := k.Param("purge_volume"); dryer {
		return false
	}
	return exhaust && service
}

func celsius(k float64) float64 { return k - freezing }
