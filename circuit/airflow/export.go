package airflow

import (
	"encoding/json"
	"fmt"
	"io"

	"airpath/circuit"
)

// An Export is a run as plain numbers: the network with its faults, the state at one moment, and what was done from then on.
// Any integrator can carry it out again and be held against the run. What each number means, with the equations, is told in
// reference/README.md. It is written as JSON; the field names end in their units.
type Export struct {
	Format    string            `json:"format"` // ExportFormat
	Circuit   string            `json:"circuit"`
	Faults    []string          `json:"faults"`
	Constants ExportedConstants `json:"constants"`

	Begin float64 `json:"begin_s"` // the run's time at the picture of the state
	End   float64 `json:"end_s"`   // and at the last thing known of it

	Rooms    []ExportedRoom    `json:"rooms"`
	Elements []ExportedElement `json:"elements"`
	Pumps    []ExportedPump    `json:"pumps"`
	Controls []ExportedControl `json:"controls"`
	Latches  []ExportedLatch   `json:"latches"`
	Trips    []ExportedTrip    `json:"trips"`
	Gauges   []ExportedGauge   `json:"gauges"`

	Inputs  []ExportedInput  `json:"inputs"`  // in the order of time
	Changes []ExportedChange `json:"changes"` // in the order of time
	Events  []ExportedEvent  `json:"events"`  // what the run found, in the order of time

	run      *Run
	number   map[int32]int // of a plan's element in Elements
	conducts []float64     // by plan's element: what it conducts now
}

// ExportFormat names the form of an export. It changes when the meaning of what is written changes.
const ExportFormat = "airpath network 2"

// ExportedConstants are the same for every network.
type ExportedConstants struct {
	GasConstant  float64 `json:"gas_constant_J_per_kgK"`
	Reference    float64 `json:"reference_temperature_K"`
	Density      float64 `json:"reference_density_kg_per_m3"`
	HeatRatio    float64 `json:"heat_ratio"`
	Atmosphere   float64 `json:"atmosphere_Pa"`
	Wall         float64 `json:"wall_temperature_K"`
	Smoothing    float64 `json:"smoothing"`
	PumpFloor    float64 `json:"pump_floor"`
	LatchTravel  float64 `json:"latch_travel_s"`
	SpringBackIn float64 `json:"spring_back_s"`
}

// ExportedRoom holds air.
type ExportedRoom struct {
	Name     string        `json:"name"`
	Volume   float64       `json:"volume_m3"`
	Piston   []PistonPoint `json:"piston"`
	Thermal  bool          `json:"thermal"`
	Heat     float64       `json:"wall_W_per_K"`
	Pressure float64       `json:"pressure_Pa"`
	Kelvin   float64       `json:"temperature_K"`
}

// PistonPoint is a corner of the volume that a moving wall adds.
type PistonPoint struct {
	Gauge  float64 `json:"gauge_Pa"`
	Volume float64 `json:"volume_m3"`
}

// ExportedElement is one way for air.
type ExportedElement struct {
	Passage     string          `json:"passage"` // "" for a leak or an open end
	Place       string          `json:"place"`   // where its air is heard, or ""
	From        string          `json:"from"`
	To          string          `json:"to"`
	Conductance float64         `json:"conductance_m3_per_sPa"`
	Critical    float64         `json:"critical_ratio"`
	Forth       float64         `json:"forth"`
	Back        float64         `json:"back"`
	Opening     ExportedOpening `json:"opening"`
}

// ExportedOpening is low + (high − low)·S(clamp(base + Σ gain·x)).
type ExportedOpening struct {
	Base  float64        `json:"base"`
	Low   float64        `json:"low"`
	High  float64        `json:"high"`
	Terms []ExportedTerm `json:"terms"`
}

// ExportedTerm has one of Room, Control and Latch.
type ExportedTerm struct {
	Room    string  `json:"room,omitempty"`
	Control string  `json:"control,omitempty"`
	Latch   string  `json:"latch,omitempty"`
	Gain    float64 `json:"gain"`
}

// ExportedPump is a compressor.
type ExportedPump struct {
	Passage      string          `json:"passage"`
	From         string          `json:"from"`
	To           string          `json:"to"`
	Displacement float64         `json:"displacement_m3"`
	Clearance    float64         `json:"clearance"`
	Efficiency   float64         `json:"efficiency"`
	Ratio        float64         `json:"ratio"`
	Speed        string          `json:"speed_control"`
	Opening      ExportedOpening `json:"opening"`
}

// ExportedControl moves from one value to another between two times.
type ExportedControl struct {
	Name  string  `json:"name"`
	Rest  float64 `json:"rest"`
	From  float64 `json:"from"`
	To    float64 `json:"to"`
	Since float64 `json:"since_s"`
	Until float64 `json:"until_s"`
	Held  bool    `json:"held"`
}

// ExportedLatch is up from rise until fall.
type ExportedLatch struct {
	Name  string  `json:"name"`
	Room  string  `json:"room"`
	Aide  string  `json:"aided_by"`
	Aid   float64 `json:"aid"`
	Rise  float64 `json:"rise_Pa"`
	Fall  float64 `json:"fall_Pa"`
	Held  bool    `json:"held"`
	Up    bool    `json:"up"`
	Rests float64 `json:"rests_until_s"`
}

// ExportedTrip lets a control spring back.
type ExportedTrip struct {
	Control string  `json:"control"`
	Room    string  `json:"room"`
	Below   float64 `json:"below_Pa"`
}

// ExportedGauge shows a room's pressure.
type ExportedGauge struct {
	Component string  `json:"component"`
	Room      string  `json:"room"`
	FullScale float64 `json:"full_scale_Pa"`
}

// ExportedInput is a control being moved, from where it then is.
type ExportedInput struct {
	At      float64 `json:"at_s"`
	Control string  `json:"control"`
	To      float64 `json:"to"`
	Over    float64 `json:"over_s"`
}

// ExportedChange is an element getting another conductance: a line taken off, a port plugged.
type ExportedChange struct {
	At          float64 `json:"at_s"`
	Element     int     `json:"element"`
	Conductance float64 `json:"conductance_m3_per_sPa"`
}

// ExportedEvent is a latch changing, or a control springing back, with what the gauges' rooms then have.
type ExportedEvent struct {
	At        float64   `json:"at_s"`
	Latch     string    `json:"latch,omitempty"`
	Up        bool      `json:"up"`
	Control   string    `json:"control,omitempty"`
	Pressures []float64 `json:"pressures_Pa"` // in the gauges' order
}

// Export begins one: it takes the network and the state as they are now, and what is done from now on, until the run is
// restarted, filled, restored to another state, or exported again.
func (r *Run) Export() *Export {
	p := &r.plan
	e := &Export{
		Format: ExportFormat, Circuit: p.circuit.Name, Faults: []string{}, Begin: r.t, End: r.t,
		Constants: ExportedConstants{
			GasConstant: GasConstant, Reference: ReferenceK, Density: ReferenceDensity, HeatRatio: HeatRatio, Atmosphere: atmosphere,
			Wall: ambientTemperature, Smoothing: r.s.Smoothing, PumpFloor: pumpFloor, LatchTravel: latchTravel, SpringBackIn: springBack,
		},
		Rooms: []ExportedRoom{}, Elements: []ExportedElement{}, Pumps: []ExportedPump{}, Controls: []ExportedControl{},
		Latches: []ExportedLatch{}, Trips: []ExportedTrip{}, Gauges: []ExportedGauge{},
		Inputs: []ExportedInput{}, Changes: []ExportedChange{}, Events: []ExportedEvent{},
		run: r, number: map[int32]int{}, conducts: make([]float64, len(p.elements)),
	}
	for _, f := range r.faults {
		e.Faults = append(e.Faults, f.String())
	}
	e.addRooms(r)
	for i := range p.elements {
		if c := p.elements[i].conducts(); c > 0 {
			e.conducts[i] = c
			e.add(p, int32(i))
		}
	}
	for i := range p.pumps {
		m := &p.pumps[i]
		e.Pumps = append(e.Pumps, ExportedPump{
			Passage: p.passages[m.passage].id, From: p.nodeName(m.from), To: p.nodeName(m.to), Displacement: m.displacement, Clearance: m.clearance,
			Efficiency: m.efficiency, Ratio: m.ratio, Speed: p.controls[m.speed].name, Opening: p.exportOpening(&m.opening),
		})
	}
	e.addSignals(r)
	r.export = e
	return e
}

func (e *Export) addRooms(r *Run) {
	for i := range r.plan.rooms {
		m := &r.plan.rooms[i]
		out := ExportedRoom{
			Name: m.name, Volume: m.volume, Piston: []PistonPoint{}, Thermal: m.thermal, Heat: m.heat,
			Pressure: r.s.p[r.network.unknown[i]], Kelvin: r.Temperature(m.name),
		}
		for k, g := range m.piston.Gauge {
			out.Piston = append(out.Piston, PistonPoint{g, m.piston.Volume[k]})
		}
		e.Rooms = append(e.Rooms, out)
	}
}

func (e *Export) addSignals(r *Run) {
	p := &r.plan
	for i := range p.controls {
		c, m := &p.controls[i], &r.ramps[i]
		e.Controls = append(e.Controls, ExportedControl{c.name, c.allowed(c.rest), m.from, m.to, m.begin, m.end, c.held})
	}
	for i := range p.latches {
		l := &p.latches[i]
		e.Latches = append(e.Latches, ExportedLatch{l.name, p.nodeName(l.room), p.nodeName(l.aide), l.aid, l.rise, l.fall, l.held, r.latches[i], r.rests[i]})
	}
	for _, t := range p.trips {
		e.Trips = append(e.Trips, ExportedTrip{p.controls[t.control].name, p.nodeName(t.room), t.below})
	}
	for _, g := range p.gauges {
		e.Gauges = append(e.Gauges, ExportedGauge{p.owners[g.owner], p.nodeName(g.room), g.full})
	}
}

// add an element, unless it is there.
func (e *Export) add(p *plan, i int32) int {
	if k, ok := e.number[i]; ok {
		return k
	}
	m := &p.elements[i]
	out := ExportedElement{
		From: p.nodeName(m.from), To: p.nodeName(m.to), Conductance: e.conducts[i], Critical: m.crit, Forth: m.forth, Back: m.back,
		Opening: p.exportOpening(&m.opening),
	}
	if m.passage >= 0 {
		out.Passage = p.passages[m.passage].id
	}
	if m.place >= 0 {
		out.Place = p.places[m.place]
	}
	e.number[i] = len(e.Elements)
	e.Elements = append(e.Elements, out)
	return e.number[i]
}

// conducts is an element's conductance, 0 where it can't pass any air.
func (e *element) conducts() float64 {
	if !e.passes() {
		return 0
	}
	return e.c
}

func (p *plan) nodeName(node int32) string {
	if node < 0 {
		return circuit.Atmosphere
	}
	return p.rooms[node].name
}

func (p *plan) exportOpening(o *opening) ExportedOpening {
	out := ExportedOpening{Base: o.base, Low: o.low, High: o.high, Terms: []ExportedTerm{}}
	for _, t := range o.terms {
		e := ExportedTerm{Gain: t.gain}
		switch t.kind {
		case roomTerm:
			e.Room = p.nodeName(t.index)
		case controlTerm:
			e.Control = p.controls[t.index].name
		case latchTerm:
			e.Latch = p.latches[t.index].name
		}
		out.Terms = append(out.Terms, e)
	}
	return out
}

// set notes that a control is being moved.
func (e *Export) set(control string, to, over float64) {
	if e != nil {
		e.Inputs = append(e.Inputs, ExportedInput{e.run.t, control, to, over})
	}
}

// changed notes which elements have another conductance than they had.
func (e *Export) changed() {
	if e == nil {
		return
	}
	p := &e.run.plan
	for i := range p.elements {
		if c := p.elements[i].conducts(); c != e.conducts[i] {
			k := e.add(p, int32(i)) // with what it conducted before
			e.conducts[i] = c
			e.Changes = append(e.Changes, ExportedChange{e.run.t, k, c})
		}
	}
}

// event notes that a latch has changed, or that a control springs back.
func (e *Export) event(latch string, up bool, control string) {
	if e == nil {
		return
	}
	r := e.run
	found := ExportedEvent{At: r.t, Latch: latch, Up: up, Control: control, Pressures: []float64{}}
	for _, g := range r.plan.gauges {
		found.Pressures = append(found.Pressures, r.s.p[r.network.at(g.room)])
	}
	e.Events = append(e.Events, found)
}

// close ends an export: what comes after is not of the same run.
func (e *Export) close() {
	if e != nil {
		e.End = e.run.t
		e.run.export, e.run = nil, nil
	}
}

// Write writes the export as JSON, as far as the run has come.
func (e *Export) Write(w io.Writer) error {
	for _, m := range e.Rooms {
		if m.Thermal && len(m.Piston) > 0 {
			return fmt.Errorf("%s has a moving wall and a temperature: the form %q does not tell of that; compile the circuit without thermal chambers", m.Name, ExportFormat)
		}
	}
	out := *e
	if e.run != nil {
		out.End = e.run.t
	}
	text := json.NewEncoder(w)
	text.SetIndent("", " ")
	return text.Encode(out)
}
