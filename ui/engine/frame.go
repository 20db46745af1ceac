package engine

import (
	"airpath/circuit/airflow"
)

// A Frame is everything that can be seen of a worked vehicle at one moment. It is never changed: the window keeps it for as
// long as it likes.
type Frame struct {
	Seq     uint64
	Did     uint64           // rises with every deed, and where one goes to another time
	Network *airflow.Network // of the vehicle; nil, and all else with it, where the vehicle can't be worked
	Now     *airflow.Glance
	Healthy *airflow.Glance // the vehicle without its faults, the same deeds done; nil where it has none
	Faults  []airflow.Fault

	Playing    bool
	Pace       float64 // asked for
	Actual     float64 // kept of late
	Begin, End float64 // of the time line, s; Now.Time lies between
	Deeds      []Deed
	CanUndo    string // what would be undone; "" for nothing
	CanRedo    string
	Curves     []Trace
	Water      Water
	Trouble    string // why the air can't be followed any further; ""
}

// A Deed is something that was done, and when.
type Deed struct {
	Time  float64
	Words string
}

// A Trace is one pressure over time, Pa absolute.
type Trace struct {
	Name    string
	Gauge   bool // what a needle showed; otherwise the pressure in a room
	Time    []float64
	Now     []float64
	Healthy []float64 // NaN where the vehicle had no fault
}
