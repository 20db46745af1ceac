package main

import (
	"flag"
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow/effort"
	"airpath/circuit/limit"
)

var brakesCommand = command{
	name:     "brakes",
	synopsis: "--circuit C [--fault COMPONENT/MODE[=SEVERITY]]... [--pressure P] [--unit U] [--json]",
	about:    "what the air does at the wheels: strokes, forces, balance, and what the springs hold",
	details: `
Strokes are measured on the simulated vehicle as an inspector does, from 90 psi in the reservoirs; forces are those with
--pressure asked for, brakes cold: limiting and ratio valves hold back their share of it.

  airpath brakes --circuit gritter
  airpath brakes --circuit gritter --fault "rear_left_slack/not adjusting" --pressure "60 psi"

Exit status 3: a stroke, a lining, a cam, the brake force or the parking brake misses its limit.

JSON, in SI: wheels[] {chamber, brake, stroke, most, source, pass, camTurn, rodForce, camTorque, wheelForce, parkForce},
axles[] {name, left, right, share, loadShare, adhesion}, force, deceleration, parking {force, share, grade, pass},
outOfService[] {edition, source, defects, needed, outOfService}, pass.
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		var r roadCall
		r.declare(flags)
		var pressure float64
		quantityFlag(flags, &pressure, "pressure", circuit.Pressure, "100 psi", "`pressure` asked for, for the forces, 10 to 150 psi")
		unit := pressureFlag(flags)
		return func(p *program, args []string) error {
			gauge := pressure - circuit.AtmospherePressure
			if gauge < 10*circuit.PSI || gauge > 150*circuit.PSI {
				return badCall("brakes: --pressure goes from 10 psi to 150 psi")
			}
			v, err := p.loadVehicle("brakes", r, args)
			if err != nil {
				return err
			}
			s, err := p.lookAt(v, gauge)
			if err != nil {
				return err
			}
			if r.json {
				err = p.printJSON(s.json())
			} else {
				p.printHead("Brakes", v, *unit)
				p.printBrakes(s, *unit)
			}
			if err == nil && !s.pass() {
				return fallsShort()
			}
			return err
		}
	},
}

// brakeState is what is known about the brakes of a vehicle.
type brakeState struct {
	vehicle    *effort.Vehicle
	gauge      float64
	efforts    []effort.Effort
	inspection effort.Inspection
	balance    effort.Balance
	parking    effort.Parking
}

func (p *program) lookAt(v *effort.Vehicle, gauge float64) (brakeState, error) {
	s := brakeState{vehicle: v, gauge: gauge, efforts: v.Apply(gauge)}
	var err error
	if s.inspection, err = v.Inspect(p.ctx, effort.InspectAt); err != nil {
		return s, err
	}
	s.balance = v.Balance(s.efforts)
	s.parking = v.Parking()
	return s, nil
}

// known tells whether forces at the tyres can be held against a load.
func (s brakeState) known() bool { return s.vehicle.Circuit.Vehicle.Known() }

// strong tells whether a full application gives what is asked for in use. A towed vehicle has its own rule: so much at each
// pressure.
func (s brakeState) strong() bool {
	if s.inspection.Stand {
		return s.vehicle.Towed() == nil
	}
	full := s.vehicle.Balance(s.vehicle.Apply(100 * circuit.PSI))
	return limit.BrakeForceLeast().Meets(full.Deceleration / effort.Gravity)
}

func (s brakeState) pass() bool {
	for _, w := range s.inspection.Wheels {
		if w.Over > 0 || w.LiningLow || w.CamOver {
			return false
		}
	}
	return !s.known() || s.strong() && (len(s.parking.Axles) == 0 || s.parking.Pass())
}

func (p *program) printBrakes(s brakeState, unit pressureUnit) {
	var t table
	t.row("WHEEL", "STROKE", "LIMIT", "ROD", "CAM", "AT THE TYRE", "PARKED")
	for i, w := range s.inspection.Wheels {
		e := s.efforts[i]
		mark := meets(w.Over <= 0) + " " + millimetres(w.Most)
		t.row(wheelName(w.Wheel), millimetres(w.Stroke), mark, kilonewtons(e.ShoeForce), fmt.Sprintf("%.0f N·m", e.CamTorque), s.atTyre(w.Wheel, e.WheelForce), s.atTyre(w.Wheel, s.parking.Wheels[i].WheelForce))
	}
	t.print(p.out)
	how := "in the reservoirs, engine off"
	if s.inspection.Stand {
		how = "in the chambers, fed from a test stand"
	}
	fmt.Fprintf(p.out, "\nStrokes from %s %s (%s); forces with %s asked for, cold.\n",
		unit.format(effort.InspectAt, circuit.PressureSpan), how, limit.StrokeEdition, unit.format(s.gauge, circuit.PressureSpan))
	for _, w := range s.inspection.Wheels {
		if w.LiningLow {
			fmt.Fprintf(p.out, "%s: MISSES the least lining thickness, it has %s (49 CFR 393.47(d))\n", wheelName(w.Wheel), millimetres(w.Wheel.Lining))
		}
		if w.CamOver {
			fmt.Fprintf(p.out, "%s: MISSES the greatest turn of the cam (%s)\n", wheelName(w.Wheel), limit.CamTurnMost().Source)
		}
	}
	for _, r := range s.inspection.Rulings {
		word := "under the out-of-service count"
		if r.OutOfService {
			word = "OUT OF SERVICE"
		}
		fmt.Fprintf(p.out, "%s: %g of %d brakes defective, %d would do (%s, %s)\n", word, r.Defects, s.inspection.Brakes, r.Needed, r.Rule.Source, r.Rule.Edition)
	}
	if !s.known() {
		fmt.Fprintf(p.out, "\nThe file has no [vehicle] table, so that no force can be set against a load.\n")
		return
	}
	fmt.Fprintln(p.out)
	t = table{}
	t.row("AXLE", "LEFT", "RIGHT", "UNEVEN", "OF THE BRAKING", "OF THE LOAD", "USES FRICTION OF")
	for _, a := range s.balance.Axles {
		t.row(a.Name, kilonewtons(a.Left), kilonewtons(a.Right), percent(a.Uneven()), percent(a.Share), percent(a.LoadShare), fmt.Sprintf("%.2f", a.Adhesion))
	}
	t.print(p.out)
	fmt.Fprintf(p.out, "\nAll wheels %s, which slows %.1f m/s² on the level.\n", kilonewtons(s.balance.Total), s.balance.Deceleration)
	if bound := limit.BrakeForceLeast(); !s.inspection.Stand {
		fmt.Fprintf(p.out, "Full application: %s at least %.1f %% of the weight (%s)\n", meets(s.strong()), 100*bound.Low, bound.Source)
	} else if weak := s.vehicle.Towed(); weak != nil {
		fmt.Fprintf(p.out, "Towed: MISSES %.2f of its axles' rating at %s, it has %.2f (%s)\n", weak.Least, unit.format(weak.Pressure, circuit.PressureSpan), weak.Share, limit.TowedSource)
	} else {
		fmt.Fprintf(p.out, "Towed: meets the least share of its axles' rating at every pressure (%s)\n", limit.TowedSource)
	}
	for _, a := range s.parking.Axles {
		fmt.Fprintf(p.out, "Parked, %s: %s, %.2f of its rating: %s at least %.2f (%s)\n", a.Name, kilonewtons(a.Force), a.Share, meets(s.parking.Rule.Meets(a.Share)), s.parking.Rule.Low, s.parking.Rule.Source)
	}
	if len(s.parking.Axles) > 0 {
		fmt.Fprintf(p.out, "Parked, laden: held on a grade of %s; one of at least %s is as good (49 CFR 571.121 S5.6.2). UN R13 wants %s: %s\n",
			percent(s.parking.Grade), percent(limit.ParkingGrade), percent(limit.ParkingGradeEurope), meets(s.parking.Europe))
	}
}

// atTyre is a force there, or a dash where the file does not tell what it takes to know it.
func (s brakeState) atTyre(w *effort.Wheel, force float64) string {
	if w.Brake == nil || !s.known() {
		return "–"
	}
	return kilonewtons(force)
}

type jsonBrakes struct {
	Circuit      string             `json:"circuit"`
	Faults       []string           `json:"faults"`
	Wheels       []jsonWheel        `json:"wheels"`
	Axles        []jsonAxle         `json:"axles"`
	Force        float64            `json:"force"`
	Deceleration *float64           `json:"deceleration"`
	Parking      jsonParking        `json:"parking"`
	OutOfService []jsonOutOfService `json:"outOfService"`
	Pass         bool               `json:"pass"`
}

type jsonWheel struct {
	Chamber    string  `json:"chamber"`
	Brake      string  `json:"brake"`
	Stroke     float64 `json:"stroke"`
	Most       float64 `json:"most"`
	Source     string  `json:"source"`
	Pass       bool    `json:"pass"`
	CamTurn    float64 `json:"camTurn"`
	RodForce   float64 `json:"rodForce"`
	CamTorque  float64 `json:"camTorque"`
	WheelForce float64 `json:"wheelForce"`
	ParkForce  float64 `json:"parkForce"`
}

type jsonAxle struct {
	Name      string   `json:"name"`
	Left      float64  `json:"left"`
	Right     float64  `json:"right"`
	Share     float64  `json:"share"`
	LoadShare float64  `json:"loadShare"`
	Adhesion  *float64 `json:"adhesion"`
}

type jsonParking struct {
	Force float64  `json:"force"`
	Share *float64 `json:"share"` // of the gross weight
	Grade *float64 `json:"grade"`
	Pass  bool     `json:"pass"`
}

type jsonOutOfService struct {
	Edition      string  `json:"edition"`
	Source       string  `json:"source"`
	Defects      float64 `json:"defects"`
	Needed       int     `json:"needed"`
	OutOfService bool    `json:"outOfService"`
}

func (s brakeState) json() jsonBrakes {
	out := jsonBrakes{
		Circuit: s.vehicle.Circuit.Name, Faults: faultTexts(s.vehicle), Wheels: []jsonWheel{}, Axles: []jsonAxle{}, Force: s.balance.Total,
		Deceleration: number(s.balance.Deceleration), OutOfService: []jsonOutOfService{}, Pass: s.pass(),
		Parking: jsonParking{s.parking.Force, number(s.parking.Gross), number(s.parking.Grade), s.parking.Pass()},
	}
	for i, w := range s.inspection.Wheels {
		e := s.efforts[i]
		brake := ""
		if w.Wheel.Brake != nil {
			brake = w.Wheel.Brake.ID
		}
		out.Wheels = append(out.Wheels, jsonWheel{
			w.Wheel.Chamber.ID, brake, w.Stroke, w.Most, w.Source, w.Over <= 0 && !w.LiningLow && !w.CamOver, e.CamTurn, e.ShoeForce, e.CamTorque, e.WheelForce,
			s.parking.Wheels[i].WheelForce,
		})
	}
	for _, a := range s.balance.Axles {
		out.Axles = append(out.Axles, jsonAxle{a.Name, a.Left, a.Right, a.Share, a.LoadShare, number(a.Adhesion)})
	}
	for _, r := range s.inspection.Rulings {
		out.OutOfService = append(out.OutOfService, jsonOutOfService{r.Rule.Edition, r.Rule.Source, r.Defects, r.Needed, r.OutOfService})
	}
	return out
}
