package main

import (
	"flag"
	"fmt"
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow/effort"
	"airpath/circuit/airflow/moisture"
)

var moistureCommand = command{
	name:     "moisture",
	synopsis: "--circuit C [--temperature T] [--humidity H] [--hours N] [--applications N] [--fault F]... [--json]",
	about:    "follow the water of a day's driving: what drains should yield, the dew point, and what freezes",
	details: `
--humidity is in percent of saturation, --hours are hours of driving a day, --applications are pedal applications an hour.

  airpath moisture --circuit gritter --temperature "-8 C" --humidity 90
  airpath moisture --circuit gritter --fault "dryer/cartridge saturated"

JSON, in SI: air, drawnIn, inLine, blownOut, goesOn (kg a day), lineEnd, dewPoint (K),
tanks[] {room, perDay, lostInTenDays}, regeneration {load, carries, balance} of a cycle, freezing[] {component, why}.
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		var r roadCall
		r.declare(flags)
		var w moisture.Weather
		quantityFlag(flags, &w.Temperature, "temperature", circuit.Temperature, "12 C", "`temperature` of the air outside")
		humidity := flags.Float64("humidity", 85, "of the air outside, in `percent`")
		hours := flags.Float64("hours", 8, "`hours` of driving a day")
		applications := flags.Float64("applications", 40, "pedal applications an `hour`")
		unit := pressureUnit("psi")
		return func(p *program, args []string) error {
			w.Humidity = *humidity / 100
			if *hours < 0 || *hours > 24 || *applications <= 0 || w.Humidity < 0 || w.Humidity > 1 {
				return badCall("moisture: --humidity goes from 0 to 100, --hours to 24, and --applications is above 0")
			}
			v, err := p.loadVehicle("moisture", r, args)
			if err != nil {
				return err
			}
			d, err := moisture.Drive(p.ctx, v, moisture.Use{ApplicationsPerHour: *applications})
			if err != nil {
				return err
			}
			report, err := moisture.Follow(v, d, w, moisture.Hours(*hours))
			if err != nil {
				return err
			}
			if r.json {
				return p.printJSON(moistureJSON(v, report))
			}
			p.printHead("Moisture", v, unit)
			p.printMoisture(v, d, report, *hours)
			return nil
		}
	},
}

func millilitres(kilograms float64) string { return fmt.Sprintf("%.0f mL", 1e3*kilograms) }

func (p *program) printMoisture(v *effort.Vehicle, d moisture.Duty, r moisture.Report, hours float64) {
	fmt.Fprintf(p.out, "%g hours of driving at %s and %s humidity: the compressor pumps %s of the time, %.1f kg of air", hours, degrees(r.Weather.Temperature), percent(r.Weather.Humidity), percent(d.Loaded), r.Air)
	if r.Dryer {
		fmt.Fprintf(p.out, ", and the dryer purges %.0f times", d.Purges*3600*hours)
	}
	fmt.Fprint(p.out, ".\n\n")
	var t table
	t.row("WATER", "A DAY", "")
	t.row("drawn in", millilitres(r.DrawnIn), "")
	t.row("drops before the dryer", millilitres(r.InLine), "where the air comes at "+degrees(r.LineEnd))
	if r.Dryer {
		t.row("blown out by the dryer", millilitres(r.BlownOut), "")
	}
	for _, tank := range r.Tanks {
		t.row(tank.Room, millilitres(tank.PerDay), fmt.Sprintf("should come out of its drain; undrained it loses %s of its volume in ten days", percent(tank.Share(10))))
	}
	t.row("goes on as vapour", millilitres(r.GoesOn), "")
	t.print(p.out)
	fmt.Fprintf(p.out, "\nDew point in the reservoirs %s, %.0f degrees below the air outside.\n", degrees(r.DewPoint), r.Margin())
	if r.Dryer && !math.IsInf(r.Balance.Balance, 0) {
		fmt.Fprintf(p.out, "A purge can carry off %.1f times the water that the cartridge takes up between two.\n", r.Balance.Balance)
	}
	if r.OilCarried {
		fmt.Fprintln(p.out, "The compressor passes oil: drains yield grey sludge, and the cartridge is being spoiled.")
	}
	if len(r.Freezing) > 0 {
		fmt.Fprintln(p.out, "\nIce is to be expected:")
	}
	for _, f := range r.Freezing {
		name := f.Component
		if part := v.Circuit.Component(f.Component); part != nil {
			name = part.Name
		} else if l := v.Circuit.Line(f.Component); l != nil {
			name = l.Name
		}
		fmt.Fprintf(p.out, "  %s: %s\n", name, f.Why)
	}
}

type jsonMoisture struct {
	Circuit      string           `json:"circuit"`
	Faults       []string         `json:"faults"`
	Air          float64          `json:"air"`
	DrawnIn      float64          `json:"drawnIn"`
	InLine       float64          `json:"inLine"`
	BlownOut     float64          `json:"blownOut"`
	GoesOn       float64          `json:"goesOn"`
	LineEnd      float64          `json:"lineEnd"`
	DewPoint     float64          `json:"dewPoint"`
	Tanks        []jsonTank       `json:"tanks"`
	Regeneration jsonRegeneration `json:"regeneration"`
	Freezing     []jsonFreezing   `json:"freezing"`
}

type jsonTank struct {
	Room          string  `json:"room"`
	PerDay        float64 `json:"perDay"`
	LostInTenDays float64 `json:"lostInTenDays"`
}

type jsonRegeneration struct {
	Load    float64  `json:"load"`
	Carries float64  `json:"carries"`
	Balance *float64 `json:"balance"`
}

type jsonFreezing struct {
	Component string `json:"component"`
	Why       string `json:"why"`
}

func moistureJSON(v *effort.Vehicle, r moisture.Report) jsonMoisture {
	out := jsonMoisture{
		Circuit: v.Circuit.Name, Faults: faultTexts(v), Air: r.Air, DrawnIn: r.DrawnIn, InLine: r.InLine, BlownOut: r.BlownOut, GoesOn: r.GoesOn,
		LineEnd: r.LineEnd, DewPoint: r.DewPoint, Tanks: []jsonTank{}, Freezing: []jsonFreezing{},
		Regeneration: jsonRegeneration{r.Balance.Load, r.Balance.Carries, number(r.Balance.Balance)},
	}
	for _, t := range r.Tanks {
		out.Tanks = append(out.Tanks, jsonTank{t.Room, t.PerDay, t.Share(10)})
	}
	for _, f := range r.Freezing {
		out.Freezing = append(out.Freezing, jsonFreezing(f))
	}
	return out
}
