package procedure

import (
	"math"
	"strings"

	"airpath/circuit"
	"airpath/circuit/limit"
)

// Errors of one reading, 1 σ. What all readings of a gauge share, its own error of up to 7 % of cut-out (49 CFR 571.121
// S5.1.4), is not in them: see Reading.Gauge and Reading.Level.
const (
	needleError = 1 * psi // DESIGN: random reading error
	watchError  = 1.0     // s
)

const (
	dashGauge    = "dash gauge"
	serviceGauge = "service gauge"
	stopwatch    = "stopwatch"
	byEar        = "ear"
	bySoap       = "soap"
	byEye        = "eye"
	byHand       = "hand"
)

// reading kinds: each gives a Reading with what is common to its sort.

// level on a tap.
func (v *vehicle) level(id, title string, t tap) Reading {
	return Reading{
		ID: id, Title: title, Place: t.place, Also: v.alsoAt(t), Dimension: circuit.Pressure, Form: Measured, Sense: Needle, Instrument: t.instrument(),
		Sigma: needleError, Gauge: t.own(), Level: true, Access: v.access(t.place),
	}
}

// change on one tap: the gauge's own error drops out.
func (v *vehicle) change(id, title string, t tap) Reading {
	return Reading{
		ID: id, Title: title, Place: t.place, Also: v.alsoAt(t), Dimension: circuit.PressureSpan, Form: Measured, Sense: Needle, Instrument: t.instrument(),
		Sigma: math.Sqrt2 * needleError, Gauge: t.own(), Access: v.access(t.place),
	}
}

// rate of change on one tap over so many seconds.
func (v *vehicle) rate(id, title string, t tap, seconds float64) Reading {
	r := v.change(id, title, t)
	r.Dimension, r.Sigma = circuit.Rate, r.Sigma/seconds
	return r
}

// timed with a stopwatch against a needle that moves so fast (Pa/s): the moment is off by hand and by eye.
func timed(id, title string, speed float64) Reading {
	return Reading{
		ID: id, Title: title, Dimension: circuit.Time, Form: Measured, Sense: Watch, Instrument: stopwatch,
		Sigma: math.Hypot(watchError, needleError/speed/2),
	}
}

// said is a yes or a no.
func said(id, title, place string, sense Sense, instrument string, j Judge) Reading {
	return Reading{ID: id, Title: title, Place: place, Dimension: circuit.Count, Form: YesNo, Sense: sense, Instrument: instrument, Judge: j}
}

// falls is the yes or no to a needle's having clearly fallen; its value is the fall.
func (v *vehicle) falls(id, title string, t tap) Reading {
	r := said(id, title, t.place, Needle, t.instrument(), Judge{Half: 5 * psi, Spread: 1 * psi, Miss: 0.02, False: 0.02})
	r.Also, r.Dimension, r.Gauge, r.Access = v.alsoAt(t), circuit.PressureSpan, t.own(), v.access(t.place)
	return r
}

func (t tap) instrument() string {
	if t.gauge {
		return dashGauge
	}
	return serviceGauge
}

func (t tap) own() string {
	if t.gauge {
		return t.place
	}
	return ""
}

// alsoAt are other names for the place of a service gauge: the tank that it is on.
func (v *vehicle) alsoAt(t tap) []string {
	if r, ok := v.reservoirAt(t.room); ok && !t.gauge {
		id, _, _ := strings.Cut(r.room, ".")
		return []string{id}
	}
	return nil
}

func (r Reading) either() Reading {
	r.Either = true
	return r
}

// within attaches the published limits on a quantity, of all jurisdictions, worked out for the vehicle.
func (r Reading) within(v *vehicle, quantity string) Reading {
	for _, l := range limit.All() {
		if l.Quantity == quantity && l.Applies(v.circuit.Class) {
			r.Limits = append(r.Limits, l.On(v.circuit))
		}
	}
	return r
}

// withinAs is within, for a part of the vehicle that belongs to a class of its own: a trailer's brakes have times of their own.
// "" is the vehicle's.
func (r Reading) withinAs(v *vehicle, quantity, class string) Reading {
	if class == "" {
		class = v.circuit.Class
	}
	for _, l := range limit.All() {
		if l.Quantity == quantity && l.Applies(class) {
			r.Limits = append(r.Limits, l.On(v.circuit))
		}
	}
	return r
}
