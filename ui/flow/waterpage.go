package flow

import (
	"fmt"

	"gioui.org/layout"

	"airpath/ui/engine"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// waterPart is the page of the weather, and of the water that the air leaves behind.
type waterPart struct {
	temperature, humidity widgets.Slider
}

// Weather that can be set, °C.
const coldest, hottest = -30.0, 45.0

const zeroCelsius = 273.15

func (p *waterPart) update(gtx ctx, a *Area) {
	w := a.frame.Water
	if v, ok := p.temperature.Update(gtx, share(w.Temperature-zeroCelsius, coldest, hottest), 1.0/15); ok {
		a.setWeather(coldest+v*(hottest-coldest), w.Humidity)
	}
	if v, ok := p.humidity.Update(gtx, w.Humidity, 0.05); ok {
		a.setWeather(w.Temperature-zeroCelsius, v)
	}
}

func share(v, low, high float64) float64 { return (v - low) / (high - low) }

func (a *Area) setWeather(celsius, humidity float64) {
	words := fmt.Sprintf("%.0f °C, %.0f %% humidity", celsius, 100*humidity)
	a.do(func(w *engine.Worked) { w.SetWeather(celsius+zeroCelsius, humidity, words) })
}

func (p *waterPart) rows(a *Area, rows []layout.Widget) []layout.Widget {
	w := a.frame.Water
	rows = append(rows, a.head("Weather and water"),
		a.slide(&p.temperature, "Outside temperature", fmt.Sprintf("%.0f °C", w.Temperature-zeroCelsius), func() widgets.SliderLook {
			t := a.frame.Water.Temperature - zeroCelsius
			return widgets.SliderLook{Label: "outside temperature", Value: fmt.Sprintf("%.0f °C", t), Share: share(t, coldest, hottest), Stops: []float64{share(0, coldest, hottest)}}
		}),
		a.slide(&p.humidity, "Humidity", fmt.Sprintf("%.0f %%", 100*w.Humidity), func() widgets.SliderLook {
			h := a.frame.Water.Humidity
			return widgets.SliderLook{Label: "humidity", Value: fmt.Sprintf("%.0f %%", 100*h), Share: h}
		}),
		a.row(widgets.Text{Words: "Drawn in with the air: " + sayWater(w.DrawnIn)}, theme.Half),
		a.row(widgets.Text{Words: "Blown out by the dryer: " + sayWater(w.BlownOut)}, theme.Half))
	if w.DewPoint > 0 && w.DrawnIn > 0 {
		rows = append(rows, a.row(widgets.Text{Words: fmt.Sprintf("Dew point in the reservoirs: %.0f °C", w.DewPoint-zeroCelsius)}, theme.Step))
	}
	rows = append(rows, a.title("Water in the reservoirs"))
	for i, r := range a.circuit.Reservoirs() {
		if i < len(w.Tanks) {
			name := r.Spec.About
			if len(r.Component.Kind.Rooms) == 1 {
				name = r.Component.Name
			}
			rows = append(rows, a.row(widgets.Text{Words: upper(name) + ": " + sayWater(w.Tanks[i].Kg)}, theme.Half))
		}
	}
	if len(w.Freezing) > 0 {
		rows = append(rows, a.gap(), a.title("Ice can be met here"))
		for _, f := range w.Freezing {
			rows = append(rows, a.row(widgets.Text{Words: upper(f) + "."}, theme.Half))
		}
		rows = append(rows, a.note("Thaw a frozen part with warm air, never with a flame."))
	}
	return append(rows, a.gap(), a.note("The weather changes what water the air carries and where it drops; the air's own flow is reckoned at 20 °C. Open a drain on the sheet to let water out."))
}

func sayWater(kg float64) string {
	switch g := kg * 1000; {
	case g < 0.05:
		return "none"
	case g < 10:
		return fmt.Sprintf("%.1f g", g)
	default:
		return fmt.Sprintf("%.0f g", g)
	}
}
