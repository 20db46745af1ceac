package flow

import (
	"errors"
	"time"

	"airpath/ui/engine"
)

// A Description is what the area shows, in words: for tests that drive the window from outside, and for whoever can't see
// it.
type Description struct {
	Time     float64            `json:"time"` // s since the beginning
	Playing  bool               `json:"playing"`
	Pace     float64            `json:"pace"`
	Controls map[string]float64 `json:"controls"`
	Gauges   map[string]float64 `json:"gauges"` // Pa above the atmosphere
	Faults   []string           `json:"faults"`
	Part     string             `json:"part"` // that is looked at
	Page     string             `json:"page"`
	Lit      []string           `json:"lit"`
	Walk     string             `json:"walk"` // that is being taken
	Step     int                `json:"step"` // of it, from 1
	Seen     bool               `json:"seen"` // what the step expects has come about
	News     string             `json:"news"`
	Trouble  string             `json:"trouble"`
}

// Describe says what is shown now; nil while the vehicle is made ready.
func (a *Area) Describe() *Description {
	f := a.frame
	if f == nil || f.Network == nil {
		return nil
	}
	d := &Description{Time: f.Now.Time - f.Begin, Playing: f.Playing, Pace: f.Pace, Controls: map[string]float64{}, Gauges: map[string]float64{},
		Part: a.panel.part, Page: pageNames[a.panel.page], Lit: a.panel.lit(a)}
	d.News, d.Trouble = a.panel.news, f.Trouble
	if w := &a.panel.walks; w.taken != nil {
		d.Walk, d.Step, d.Seen = w.taken.ID, w.step+1, w.done
	}
	for i, name := range f.Network.Controls() {
		d.Controls[name] = f.Now.Control[i]
	}
	for i, id := range f.Network.Gauges() {
		d.Gauges[id] = f.Now.Needle[i] - atmosphere
	}
	for _, x := range f.Faults {
		d.Faults = append(d.Faults, x.String())
	}
	return d
}

// Await waits until the vehicle has been made ready and something has been done to it, for pictures.
func (a *Area) Await(deed func(*engine.Worked), woken <-chan struct{}, late <-chan time.Time) error {
	wait := func(done func(*engine.Frame) bool) error {
		for {
			if f := a.vehicle.Frame(); f != nil && done(f) {
				return nil
			}
			select {
			case <-woken:
			case <-time.After(20 * time.Millisecond):
			case <-late:
				return errors.New("the vehicle was not ready in time")
			}
		}
	}
	if err := wait(func(*engine.Frame) bool { return true }); err != nil || deed == nil {
		return err
	}
	done := make(chan uint64, 1)
	a.vehicle.Do(func(w *engine.Worked) { deed(w); done <- w.Frame().Seq })
	seq := <-done
	return wait(func(f *engine.Frame) bool { return f.Seq >= seq })
}
