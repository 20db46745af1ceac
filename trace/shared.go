package trace

import (
	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// What a simulation of just these numbers is off by beside a real vehicle is not drawn anew for each reading: air that comes late to one
// chamber of a vehicle, because its hoses hold more than the file's, comes late to the others, and one slow charge is slow at every mark of the
// gauge. Of a sort of readings of one procedure a part of it is the same for all.

// That part, 1 σ, as a share. Of times of a second or so, which hang on what is in the lines and how it cools, it is larger, and of falls somewhat.
// Held against vehicles that differ in structure from the model (finer lines, warm chambers, another wall coefficient): brakes come on a tenth
// earlier there and off a fifteenth later, the dip of an application is a twelfth less, times of charging are within a fiftieth.
const (
	sharedError = 0.02
	sharedFall  = 0.06
	sharedQuick = 0.10
	quickTime   = 2.0 // s
)

// sharedOf a reading of some value.
func sharedOf(r *procedure.Reading, value float64) float64 {
	switch {
	case r.Dimension == circuit.Time && value < quickTime:
		return sharedQuick
	case r.Dimension == circuit.PressureSpan:
		return sharedFall
	}
	return sharedError
}

// sharedBy is what readings are off together by: a procedure, and a sort of its readings.
type sharedBy struct {
	procedure int
	sort      string
}

// sharedOff lists what some observations are off together by, as nuisances after the others; what one reading alone is off by is in its own error.
func sharedOff(observations []observation, first int) map[sharedBy]int {
	count := map[sharedBy]int{}
	out := map[sharedBy]int{}
	for i := range observations {
		o := &observations[i]
		if by := (sharedBy{o.procedure, o.r.ID}); o.e.Kind == circuit.Number && offByShare(o.r) {
			if count[by]++; count[by] == 2 {
				out[by] = first + len(out)
			}
		}
	}
	return out
}

// offByShare tells whether a reading is one of those of which a model is off by a share.
func offByShare(r *procedure.Reading) bool {
	return r.Form == procedure.Measured && (r.Dimension == circuit.Time || r.Dimension == circuit.Rate || r.Dimension == circuit.PressureSpan)
}

// withShared is a bend that moves with what its reading is off together with others by as well.
func (k *gaze) withShared(b bend, l *likelihood) bend {
	for range k.dims - len(b.up) {
		b.up, b.down, b.ratio = append(b.up, 0), append(b.down, 0), append(b.ratio, false)
	}
	if n, ok := k.shared[sharedBy{l.o.procedure, l.o.r.ID}]; ok && offByShare(l.o.r) {
		share := sharedOf(l.o.r, l.o.e.High)
		b.set(n, share, -share, true)
		l.offTogether = true
	}
	return b
}
