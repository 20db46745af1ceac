package procedure

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
	"airpath/circuit/airflow/moisture"
)

// draining is what comes out of the drains with the air.
func draining(v *vehicle) []*Procedure {
	if !v.builds() {
		return nil
	}
	return []*Procedure{v.drainYield()}
}

// waterError is that of a measuring vessel under a drain, m³: 1 σ. Engineering judgement.
const waterError = 20e-6

// A day in the yard that the yield is told for.
var (
	day     = moisture.Hours(8)
	weather = moisture.Weather{Temperature: 293.15, Humidity: 0.6}
)

func (v *vehicle) drainYield() *Procedure {
	var drained []reservoir
	for _, r := range v.reservoirs {
		if r.drain != nil {
			drained = append(drained, r)
		}
	}
	if len(drained) == 0 || v.foot == nil {
		return nil
	}
	p := Procedure{
		ID: "drain-yield", Title: "Drain yield",
		About: "What each drain lets out besides air after a day's work on a mild day. Behind a good dryer next to nothing; a cupful a day is a dryer that has given up, litres are a reservoir that has not been drained for long. " +
			"Grey sludge is oil from the compressor.",
		Minutes: 1 + v.round(placesOf(drained), inPassing) + float64(len(drained)), Start: v.at.standing,
		Tools: []string{"measuring vessel"},
		State: circuit.State{Engine: "off", Park: "set", Pedal: "up"},
		Steps: []Step{{readWater{"water", "oil", drained, &dutyOnce{}}, "Face away. Note that day's weather."}},
	}
	for i, r := range drained {
		p.Readings = append(p.Readings, v.measured("water", "water out of the "+r.name, r.drain.ID, circuit.Volume, "measuring vessel", waterError))
		if i == 0 {
			oily := said("oil", "grey or oily sludge comes out of the "+r.name, r.drain.ID, Eye, byEye, plainly)
			oily.Access = v.access(r.drain.ID)
			p.Readings = append(p.Readings, oily)
		}
	}
	return v.procedure(p)
}

func placesOf(rs []reservoir) []string {
	out := make([]string, len(rs))
	for i, r := range rs {
		out[i] = r.drain.ID
	}
	return out
}

// dutyOnce is what the healthy vehicle's air does in a time of usual driving, worked out once: faults of the air make a vehicle
// pump more or less, but what they do to the water is small beside what the dryer does. A day of the healthy one is kept too.
type dutyOnce struct {
	once    sync.Once
	duty    moisture.Duty
	healthy moisture.Report
	dry     *airflow.Run // the healthy vehicle, for the volumes that its reservoirs have without water
	err     error
}

func (d *dutyOnce) of(v *vehicle, faults []airflow.Fault) (moisture.Report, error) {
	d.once.Do(func() {
		var wheels *effort.Vehicle
		if wheels, d.err = effort.New(v.network, nil); d.err == nil {
			d.duty, d.err = moisture.Drive(context.Background(), wheels, moisture.Use{Seconds: 600})
		}
		if d.err == nil {
			d.dry, d.err = v.network.Start(nil, airflow.Scatter{})
		}
		if d.err == nil {
			d.healthy, d.err = moisture.Follow(wheels, d.duty, weather, day)
		}
	})
	if d.err != nil || !slices.ContainsFunc(faults, v.wets) {
		return d.healthy, d.err
	}
	return moisture.Follow(&effort.Vehicle{Circuit: v.circuit, Network: v.network, Faults: faults}, d.duty, weather, day)
}

// wets says whether a fault has to do with the water in the air: one of the dryer, or of the compressor, whose oil goes with it.
func (v *vehicle) wets(f airflow.Fault) bool {
	return v.dryer != nil && f.Target == v.dryer.ID || f.Target == v.compressor.ID
}

// readWater: what stands in each reservoir, and what a day has added.
type readWater struct {
	id, oil string
	of      []reservoir
	duty    *dutyOnce
}

func (a readWater) words(phrase) string {
	names := make([]string, len(a.of))
	for i, r := range a.of {
		names[i] = "the " + r.drain.Name
	}
	return "After a day's work, hold the vessel under " + list(names, "and") + " in turn, crack it open until only air comes, and write down how much water each gave and whether it was oily."
}

func (a readWater) run(x *execution) error {
	wet, err := a.duty.of(x.v, x.bench.faults)
	if err != nil {
		return fmt.Errorf("what a day leaves in the reservoirs: %w", err)
	}
	for i, r := range a.of {
		water := 0.0
		for _, t := range wet.Tanks {
			if t.Room == r.room {
				const density = 1000.0 // kg/m³
				dry := a.duty.dry.Volume(r.room) * (1 + x.bench.scatter.Volume)
				water = t.PerDay/density + max(0, dry-x.run.Volume(r.room))
			}
		}
		x.put(a.id, r.drain.ID, water)
		if i == 0 {
			x.put(a.oil, r.drain.ID, map[bool]float64{true: 1}[wet.OilCarried])
		}
	}
	return nil
}

func (readWater) dangers() []danger { return []danger{blast} }
func (readWater) looksAt() sight    { return sight{faults: true} }
func (readWater) still()            {}
