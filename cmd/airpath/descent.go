package main

import (
	"flag"
	"fmt"
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow/effort"
	"airpath/circuit/airflow/heat"
	"airpath/circuit/airflow/usage"
)

var descentCommand = command{
	name:     "descent",
	synopsis: "--circuit C --grade G --length L --speed V [--engine-share S] [--ambient T] [--fault F]... [--unit U] [--json]",
	about:    "drive the vehicle down a hill: drum temperatures, what is left of the brake, and the air it takes",
	details: `
--grade and --engine-share are in percent, --length is a length such as "4000 m", --speed is in km/h.

  airpath descent --circuit gritter --grade 7 --length "4000 m" --speed 36 --engine-share 30
  airpath descent --circuit gritter --grade 7 --length "4000 m" --speed 36 --fault "rear_left_slack/not adjusting"

Exit status 3: the vehicle runs away, or can't be stopped at the bottom.

JSON, in SI (null: never): temperature[] of each wheel's drum, pressure, speed, runsAway, full, fullCold, left,
stop {stops, distance, seconds, speed}, springs, springsNeeded, springStop, snub {pressure, on, off, freeAir, keeps},
moments[] {seconds, distance, speed, pressure, temperature[]}.
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		var r roadCall
		r.declare(flags)
		var d heat.Descent
		grade := flags.Float64("grade", 0, "fall of the road in `percent`")
		quantityFlag(flags, &d.Length, "length", circuit.Length, "1000 m", "`length` of the hill")
		speed := flags.Float64("speed", 0, "road speed in `km/h`, held as long as the brakes can")
		share := flags.Float64("engine-share", 0, "what engine brake or retarder hold back, in `percent`")
		quantityFlag(flags, &d.Ambient, "ambient", circuit.Temperature, "20 C", "`temperature` of the air")
		unit := pressureFlag(flags)
		return func(p *program, args []string) error {
			d.Grade, d.Speed, d.EngineShare = *grade/100, *speed/3.6, *share/100
			if d.Grade <= 0 || d.Speed <= 0 {
				return badCall("descent: say which hill and how fast, as in --grade 7 --length \"4000 m\" --speed 36")
			}
			v, err := p.loadVehicle("descent", r, args)
			if err != nil {
				return err
			}
			out, err := heat.Descend(v, d)
			if err != nil {
				return err
			}
			snub, err := p.snub(v, d)
			if err != nil {
				return err
			}
			if r.json {
				err = p.printJSON(descentJSON(v, out, snub))
			} else {
				p.printHead("Descent", v, *unit)
				p.printDescent(v, out, snub, *unit)
			}
			if err == nil && (!math.IsNaN(out.RunsAway) || !out.Stop.Stops) {
				return fallsShort()
			}
			return err
		}
	},
}

// A snubbed hill is the same hill driven in snubs, and the air that takes.
type snubbed struct {
	why     string // why it can't be; "" where it can
	snub    heat.Snub
	account usage.Account
}

// Snubs are from the speed down by about 5 mph at 25 psi (common practice); twenty are followed.
const (
	snubDrop     = 2.2 // m/s
	snubPressure = 25 * circuit.PSI
	snubsCounted = 20
)

func (p *program) snub(v *effort.Vehicle, d heat.Descent) (snubbed, error) {
	s, err := heat.SnubbingDown(v, d, min(snubDrop, d.Speed/2), snubPressure)
	if err != nil {
		return snubbed{why: err.Error()}, nil
	}
	b := usage.Braking{Pressure: s.Pressure, On: s.On, Off: s.Off, Applications: snubsCounted, From: usage.CutIn(v.Circuit), Engine: (v.Circuit.Engine.Idle.SI + v.Circuit.Engine.Rated.SI) / 2}
	a, err := usage.Count(p.ctx, v, b)
	return snubbed{snub: s, account: a}, err
}

func (p *program) printDescent(v *effort.Vehicle, o heat.Outcome, s snubbed, unit pressureUnit) {
	d := o.Descent
	fmt.Fprintf(p.out, "%.1f %% over %.0f m at %.0f km/h, %.0f %% held back by the engine\n\n", 100*d.Grade, d.Length, 3.6*d.Speed, 100*d.EngineShare)
	var t table
	t.row("DRUM", "AT THE BOTTOM", "DID OF THE WORK")
	work := 0.0
	for _, f := range o.End.Force {
		work += f
	}
	for i, w := range v.Wheels {
		share := 0.0
		if work > 0 {
			share = o.End.Force[i] / work
		}
		t.row(wheelName(w), degrees(o.End.Temperature[i]), percent(share))
	}
	t.print(p.out)
	fmt.Fprintln(p.out)
	pressure := func(pa float64) string { return unit.format(pa, circuit.PressureSpan) }
	if !math.IsNaN(o.RunsAway) {
		fmt.Fprintf(p.out, "RUNS AWAY after %.0f m: a full application no longer holds it; %.0f km/h at the bottom.\n", o.RunsAway, 3.6*o.End.Speed)
	} else {
		fmt.Fprintf(p.out, "It takes %s in the chambers at the top and %s at the bottom.\n", pressure(o.Moments[0].Pressure), pressure(o.End.Pressure))
	}
	fmt.Fprintf(p.out, "A full application gives %s at the bottom, %s of what it gave cold.\n", kilonewtons(o.Full), percent(o.Left))
	fmt.Fprintf(p.out, "Full application at the bottom: %s\n", stopInWords(o.Stop))
	fmt.Fprintf(p.out, "Springs alone give %s there, %s keep the speed: %s\n", kilonewtons(o.Springs), kilonewtons(o.SpringsNeeded), stopInWords(o.SpringStop))
	if s.why != "" {
		fmt.Fprintf(p.out, "In snubs of %s it is not held: %s\n", pressure(snubPressure), s.why)
		return
	}
	keeps := "the compressor keeps up with it"
	if !s.account.Keeps {
		keeps = "MORE THAN THE COMPRESSOR MAKES"
	}
	fmt.Fprintf(p.out, "In snubs of %s: %.1f s on, %.1f s off, %.1f L of free air each; %s.\n", pressure(s.snub.Pressure), s.snub.On, s.snub.Off, 1e3*s.account.Each(), keeps)
}

func stopInWords(s heat.Stop) string {
	if s.Stops {
		return fmt.Sprintf("stops in %.0f m.", s.Distance)
	}
	return fmt.Sprintf("DOES NOT STOP, %.0f km/h after %.0f m.", 3.6*s.Speed, s.Distance)
}

type jsonDescent struct {
	Circuit       string       `json:"circuit"`
	Faults        []string     `json:"faults"`
	Wheels        []string     `json:"wheels"`
	Temperature   []float64    `json:"temperature"`
	Pressure      float64      `json:"pressure"`
	Speed         float64      `json:"speed"`
	RunsAway      *float64     `json:"runsAway"`
	Full          float64      `json:"full"`
	FullCold      float64      `json:"fullCold"`
	Left          *float64     `json:"left"`
	Stop          jsonStop     `json:"stop"`
	Springs       float64      `json:"springs"`
	SpringsNeeded float64      `json:"springsNeeded"`
	SpringStop    jsonStop     `json:"springStop"`
	Snub          *jsonSnub    `json:"snub"`
	Moments       []jsonMoment `json:"moments"`
}

type jsonStop struct {
	Stops    bool    `json:"stops"`
	Distance float64 `json:"distance"`
	Seconds  float64 `json:"seconds"`
	Speed    float64 `json:"speed"`
}

type jsonSnub struct {
	Pressure float64 `json:"pressure"`
	On       float64 `json:"on"`
	Off      float64 `json:"off"`
	FreeAir  float64 `json:"freeAir"`
	Keeps    bool    `json:"keeps"`
}

type jsonMoment struct {
	Seconds     float64   `json:"seconds"`
	Distance    float64   `json:"distance"`
	Speed       float64   `json:"speed"`
	Pressure    float64   `json:"pressure"`
	Temperature []float64 `json:"temperature"`
}

func descentJSON(v *effort.Vehicle, o heat.Outcome, s snubbed) jsonDescent {
	stop := func(s heat.Stop) jsonStop { return jsonStop{s.Stops, s.Distance, s.Seconds, s.Speed} }
	out := jsonDescent{
		Circuit: v.Circuit.Name, Faults: faultTexts(v), Wheels: []string{}, Temperature: o.End.Temperature, Pressure: o.End.Pressure, Speed: o.End.Speed,
		RunsAway: number(o.RunsAway), Full: o.Full, FullCold: o.FullCold, Left: number(o.Left), Stop: stop(o.Stop), Springs: o.Springs,
		SpringsNeeded: o.SpringsNeeded, SpringStop: stop(o.SpringStop), Moments: []jsonMoment{},
	}
	for _, w := range v.Wheels {
		out.Wheels = append(out.Wheels, w.Chamber.ID)
	}
	if s.why == "" {
		out.Snub = &jsonSnub{s.snub.Pressure, s.snub.On, s.snub.Off, s.account.Each(), s.account.Keeps}
	}
	for _, m := range o.Moments {
		out.Moments = append(out.Moments, jsonMoment{m.Seconds, m.Distance, m.Speed, m.Pressure, m.Temperature})
	}
	return out
}
