package airflow

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"math"
)

// A saved run is a run's state with its vehicle's faults and scatter, as JSON, so that it can go on in another process. It tells by
// a digest which network it belongs to; the numbers are written so that they come back the same to the last bit.
type savedRun struct {
	Format  string        `json:"format"` // SavedFormat
	Circuit string        `json:"circuit"`
	Network string        `json:"network"` // digest of the healthy network's numbers
	Faults  []savedFault  `json:"faults"`
	Scatter Scatter       `json:"scatter"`
	Options Options       `json:"options"`
	Time    float64       `json:"time_s"`
	Step    float64       `json:"next_step_s"`
	Segment float64       `json:"segment_s"`
	Corner  *float64      `json:"corner_s"` // null where no control is moving
	Hold    bool          `json:"hold"`
	Stale   bool          `json:"stale"`
	Luck    uint64        `json:"luck"`
	Calm    int           `json:"calm"`
	Swing   swing         `json:"swing"`
	State   []float64     `json:"state_J"`
	Ramps   [][4]float64  `json:"ramps"` // by control: from, to, begin, end
	Latches []bool        `json:"latches"`
	Rests   []float64     `json:"rests_until_s"`
	Needles []float64     `json:"needles_Pa"`
	Tripped []bool        `json:"tripped"`
	Actions []savedAction `json:"actions"`
	Vented  []float64     `json:"vented_J"`
	Pumped  []float64     `json:"pumped_J"`
}

type savedFault struct {
	Target   string   `json:"target"`
	Mode     string   `json:"mode"`
	Severity *float64 `json:"severity_SI"` // null for the typical one
}

type savedAction struct {
	What   string `json:"what"`
	Target string `json:"target"`
}

// SavedFormat names the form of a saved run. It changes when the meaning of what is written changes.
const SavedFormat = "airpath run 1"

// Digest of the network's numbers: two networks of one digest are the same vehicle to the air.
func (n *Network) Digest() string {
	sum := sha256.New()
	n.Fingerprint(sum)
	return fmt.Sprintf("%x", sum.Sum(nil))
}

// Save writes the run down as it is now.
func (r *Run) Save(w io.Writer) error {
	m := r.Snapshot()
	s := savedRun{
		Format: SavedFormat, Circuit: r.plan.circuit.Name, Network: r.network.Digest(), Faults: []savedFault{}, Scatter: r.given, Options: r.s.Options,
		Time: m.t, Step: m.h, Segment: m.segment, Hold: m.hold, Stale: m.stale, Luck: m.luck, Calm: m.calm, Swing: m.swing, State: m.x,
		Latches: m.latches, Rests: m.rests, Needles: m.needles, Tripped: m.tripped, Actions: []savedAction{}, Vented: m.vented, Pumped: m.pumped,
	}
	if !math.IsInf(m.corner, 1) {
		s.Corner = &m.corner
	}
	for _, f := range r.faults {
		saved := savedFault{Target: f.Target, Mode: f.Mode}
		if !math.IsNaN(f.Severity) {
			saved.Severity = &f.Severity
		}
		s.Faults = append(s.Faults, saved)
	}
	for _, c := range m.ramps {
		s.Ramps = append(s.Ramps, [4]float64{c.from, c.to, c.begin, c.end})
	}
	for _, a := range m.actions {
		s.Actions = append(s.Actions, savedAction{a.what, a.target})
	}
	text := json.NewEncoder(w)
	text.SetIndent("", " ")
	return text.Encode(s)
}

// mostSaved is how long a saved run may be: far longer than any vehicle's.
const mostSaved = 64 << 20 // bytes

// Resume makes a run of one that was saved. It must be one of this very network.
func (n *Network) Resume(from io.Reader) (*Run, error) {
	text, err := io.ReadAll(io.LimitReader(from, mostSaved))
	if err != nil {
		return nil, fmt.Errorf("a saved run can't be read: %w", err)
	}
	var form struct {
		Format string `json:"format"`
	}
	var s savedRun
	if err := json.Unmarshal(text, &form); err != nil {
		return nil, fmt.Errorf("a saved run can't be read: %w", err)
	}
	if form.Format != SavedFormat {
		return nil, fmt.Errorf("this is no saved run, or of another form: it says %q where %q is wanted", form.Format, SavedFormat)
	}
	if err := json.Unmarshal(text, &s); err != nil {
		return nil, fmt.Errorf("a saved run can't be read: %w", err)
	}
	if s.Network != n.Digest() {
		return nil, fmt.Errorf("the run was saved of another vehicle: of %s, where this is %s; or this one has been changed since", s.Circuit, n.plan.circuit.Name)
	}
	m, err := s.snapshot(n)
	if err != nil {
		return nil, fmt.Errorf("the saved run of %s is damaged: %w", s.Circuit, err)
	}
	var faults []Fault
	for _, f := range s.Faults {
		fault := Fault{Target: f.Target, Mode: f.Mode, Severity: math.NaN()}
		if f.Severity != nil {
			fault.Severity = *f.Severity
		}
		faults = append(faults, fault)
	}
	r, err := n.Start(faults, s.Scatter)
	if err != nil {
		return nil, err
	}
	r.Tune(s.Options)
	r.Restore(m)
	return r, nil
}

// snapshot checks all that is told: a run must not start from what no run could have come to.
func (s *savedRun) snapshot(n *Network) (*Snapshot, error) {
	p := n.plan
	for _, c := range []struct {
		what      string
		has, want int
	}{
		{"state_J", len(s.State), n.pattern.n}, {"ramps", len(s.Ramps), len(p.controls)}, {"latches", len(s.Latches), len(p.latches)},
		{"rests_until_s", len(s.Rests), len(p.latches)}, {"needles_Pa", len(s.Needles), len(p.gauges)}, {"tripped", len(s.Tripped), len(p.controls)},
		{"vented_J", len(s.Vented), len(p.places)}, {"pumped_J", len(s.Pumped), len(p.pumps)},
	} {
		if c.has != c.want {
			return nil, fmt.Errorf("%s has %d numbers where %d are wanted", c.what, c.has, c.want)
		}
	}
	for i, x := range s.State {
		if !(x > 0) {
			return nil, fmt.Errorf("state_J number %d is %g: no room can hold less than nothing", i+1, x)
		}
	}
	if !(s.Time >= 0) || !(s.Step > 0) || s.Segment < 0 || s.Segment > s.Time || s.Calm < 0 || s.Calm > calmSteps {
		return nil, fmt.Errorf("its time %g s, step %g s, segment %g s and calm %d can't be", s.Time, s.Step, s.Segment, s.Calm)
	}
	if w := s.Swing; w.Unknown < 0 || w.Unknown >= n.pattern.n || !(math.Abs(w.Change) < 1e9) {
		return nil, fmt.Errorf("unknown %d can't have changed by %g Pa", w.Unknown, w.Change)
	}
	if o := s.Options; !(o.Relative > 0 && o.Relative <= 0.1 && o.Absolute > 0 && o.MaxStep > 0 && o.Smoothing > 0 && o.Smoothing < 1) {
		return nil, fmt.Errorf("the solver can't run with %+v", o)
	}
	v := s.Scatter
	for _, x := range []float64{v.Pump, v.Volume, v.Wall, v.Valve, v.Bore} {
		if !(x > -1 && x < 10) {
			return nil, fmt.Errorf("a vehicle can't differ from its file by %g of a number", x)
		}
	}
	m := &Snapshot{
		t: s.Time, h: s.Step, segment: s.Segment, corner: math.Inf(1), hold: s.Hold, stale: s.Stale, luck: s.Luck, calm: s.Calm, swing: s.Swing,
		x: s.State, latches: s.Latches, rests: s.Rests, needles: s.Needles, tripped: s.Tripped, vented: s.Vented, pumped: s.Pumped,
	}
	if s.Corner != nil {
		m.corner = *s.Corner
	}
	for i, c := range s.Ramps {
		if most := p.controls[i].max; !(c[0] >= 0 && c[0] <= most && c[1] >= 0 && c[1] <= most) {
			return nil, fmt.Errorf("control %s goes from 0 to %g, not from %g to %g", p.controls[i].name, most, c[0], c[1])
		}
		m.ramps = append(m.ramps, ramp{c[0], c[1], c[2], c[3]})
	}
	for _, a := range s.Actions {
		if err := p.sound(action{a.What, a.Target}); err != nil {
			return nil, err
		}
		m.actions = append(m.actions, action{a.What, a.Target})
	}
	return m, nil
}

// sound tells whether an action can be done on this vehicle.
func (p *plan) sound(a action) error {
	ok := false
	switch a.what {
	case "off":
		_, ok = p.offIndex[a.target]
	case "plug":
		_, err := p.portNamed(a.target)
		ok = err == nil
	case "bypass":
		_, ok = p.passageIndex[a.target]
	}
	if !ok {
		return fmt.Errorf("%q can't be done to %q here", a.what, a.target)
	}
	return nil
}
