package effort

import (
	"context"
	"fmt"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/limit"
)

// InspectAt is the reservoir pressure above the atmosphere that strokes are measured from: 80 to 90 psi, engine off (49 CFR 396
// App. A 1.a(5)); the North American criteria want 90 to 100.
const InspectAt = 90 * psi

// An Inspection is the strokes of all wheels and what is to be said about them.
type Inspection struct {
	Wheels  []WheelInspection
	Efforts []Effort
	Brakes  int
	Stand   bool           // measured on a test stand, for want of a pedal
	Rulings []StrokeRuling // by edition of the out-of-service criteria
}

// WheelInspection is one wheel on the inspector's sheet.
type WheelInspection struct {
	Wheel     *Wheel
	Stroke    float64 // m
	Most      float64 // m
	Source    string
	Over      float64 // m, negative within the limit
	LiningLow bool    // thinner than its axle's least (49 CFR 393.47(d))
	CamOver   bool    // turned beyond its greatest (Quebec, C-24.2 r. 32 s. 166(7))
}

// StrokeRuling is what one edition of the criteria makes of them.
type StrokeRuling struct {
	Rule         limit.OutOfService
	Defects      float64
	Needed       int
	OutOfService bool
}

// Inspect measures all strokes as an inspector does: reservoirs at a pressure above the atmosphere, engine off, springs held off,
// pedal to the floor, five seconds. A towed vehicle by itself has no pedal: its lines are taken to be fed from a test stand, with
// that pressure in every chamber.
func (v *Vehicle) Inspect(ctx context.Context, reservoirs float64) (Inspection, error) {
	in := Inspection{Brakes: len(v.Wheels)}
	if v.Pedal() {
		r, err := v.applied(ctx, reservoirs)
		if err != nil {
			return Inspection{}, fmt.Errorf("measuring strokes: %w", err)
		}
		in.Efforts = v.At(r)
	} else {
		in.Stand, in.Efforts = true, v.Apply(reservoirs)
	}
	var over []float64
	for _, e := range in.Efforts {
		w := e.Wheel
		x := WheelInspection{Wheel: w, Stroke: e.Stroke}
		x.Most, x.Source = limit.StrokeOf(w.Area, w.Full)
		x.Over = x.Stroke - x.Most
		if w.Brake != nil {
			steered := w.Axle >= 0 && v.Circuit.Vehicle.Axles[w.Axle].Role == "steered"
			x.LiningLow = !limit.LiningLeast(steered).Meets(w.Lining)
			x.CamOver = !limit.CamTurnMost().Meets(e.CamTurn)
		}
		over = append(over, x.Over)
		in.Wheels = append(in.Wheels, x)
	}
	for _, rule := range limit.OutOfServiceRules() {
		n := rule.Defects(over)
		in.Rulings = append(in.Rulings, StrokeRuling{rule, n, rule.Needed(in.Brakes), rule.Stops(n, in.Brakes)})
	}
	return in, nil
}

// applied is a run with the reservoirs at a pressure, springs held off and the pedal down.
func (v *Vehicle) applied(ctx context.Context, reservoirs float64) (*airflow.Run, error) {
	r, err := v.Charged(v.Faults, reservoirs)
	if err != nil {
		return nil, err
	}
	// A full application is one within 0.2 s (49 CFR 571.121 S4).
	if err := r.Set("pedal", 1, 0.2); err != nil {
		return nil, err
	}
	for range 5 {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if err := r.Advance(1); err != nil {
			return nil, err
		}
	}
	return r, nil
}

// Charged starts a run with all reservoirs at a pressure above the atmosphere, the engine off, and the park released: ready to
// be driven. Air comes from nowhere, so that no build-up has to be waited for.
func (v *Vehicle) Charged(faults []airflow.Fault, pressure float64) (*airflow.Run, error) {
	r, err := v.Network.Start(faults, airflow.Scatter{})
	if err != nil {
		return nil, err
	}
	fill := func() error {
		for _, tank := range v.Circuit.Reservoirs() {
			if err := r.Fill(tank.Room, circuit.AtmospherePressure+pressure); err != nil {
				return err
			}
		}
		return nil
	}
	if err := fill(); err != nil {
		return nil, err
	}
	if err := r.Advance(5); err != nil { // until air has come to the knobs
		return nil, err
	}
	if err := v.release(r); err != nil {
		return nil, err
	}
	if err := r.Advance(20); err != nil {
		return nil, err
	}
	if err := fill(); err != nil { // what filling lines and springs has taken
		return nil, err
	}
	return r, r.Advance(1)
}

// release pushes in every knob that holds springs off. Where the lines behind one are empty it springs out again; a driver pushes
// until it stays. A vehicle without a knob has none to push.
func (v *Vehicle) release(r *airflow.Run) error {
	const times, pause = 12, 3.0 // s
	for range times {
		out := false
		for _, name := range v.Network.Controls() {
			if bareOf(name) != "knob" || r.Get(name) == 1 && !r.Tripped(name) {
				continue
			}
			out = true
			if err := r.Set(name, 1, 0.1); err != nil {
				return err
			}
		}
		if !out {
			return nil
		}
		if err := r.Advance(pause); err != nil {
			return err
		}
	}
	return nil
}

func bareOf(control string) string { return control[strings.LastIndexByte(control, '.')+1:] }
