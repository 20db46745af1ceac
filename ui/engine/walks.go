package engine

import (
	"time"

	"airpath/circuit/airflow/walk"
)

// Carry out what a step of a walk asks for, at once.
func (w *Worked) Carry(deeds []walk.Deed, at time.Time) {
	for _, d := range deeds {
		if d.Weather != nil {
			w.SetWeather(d.Weather.Temperature, d.Weather.Humidity, d.Words)
		}
		w.move(d, at)
	}
}

// move the controls of one deed together.
func (w *Worked) move(d walk.Deed, at time.Time) {
	moves := d.Controls
	for len(moves) > 0 && w.now.Get(moves[0].Control) == moves[0].Value {
		moves = moves[1:]
	}
	if len(moves) == 0 {
		return
	}
	w.cut()
	for _, m := range moves {
		for _, r := range w.runs() {
			if err := r.Set(m.Control, m.Value, m.Over); err != nil {
				w.trouble = err.Error()
				return
			}
		}
	}
	w.last = ""
	w.take(d.Words)
}

// Holds says which of some claims are so at a frame.
func (f *Frame) Holds(c walk.Claim) bool {
	return c.Holds(f.Now, func(room string) float64 {
		for _, t := range f.Water.Tanks {
			if t.Room == room {
				return t.Kg
			}
		}
		return 0
	})
}
