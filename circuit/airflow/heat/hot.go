package heat

import (
	"math"
	"slices"

	"airpath/circuit/airflow/effort"
)

// hot is a vehicle's drums on the way down.
type hot struct {
	v              *effort.Vehicle
	d              Descent
	t, f           []float64 // K, N: temperature and last force of each wheel
	absorbed, lost float64   // J
}

func newHot(v *effort.Vehicle, d Descent) *hot {
	h := &hot{v: v, d: d, t: make([]float64, len(v.Wheels)), f: make([]float64, len(v.Wheels))}
	for i := range h.t {
		h.t[i] = d.Start
	}
	return h
}

func (h *hot) clone() *hot {
	c := *h
	c.t, c.f = slices.Clone(h.t), slices.Clone(h.f)
	return &c
}

func (h *hot) moment(m Moment) Moment {
	m.Temperature, m.Force = slices.Clone(h.t), slices.Clone(h.f)
	return m
}

// forces of all wheels by the service pressure asked for and the hold-off pressure; their sum is returned.
func (h *hot) forces(service, holdOff float64) float64 {
	sum := 0.0
	for i, w := range h.v.Wheels {
		h.f[i] = Force(w, w.Gets(service), holdOff, h.t[i])
		sum += h.f[i]
	}
	return sum
}

// full is what a full application gives now.
func (h *hot) full() float64 { return h.forces(h.d.Available, effort.HeldOff) }

// hold finds the least service pressure that gives a force, or the whole pressure that there is where none does.
func (h *hot) hold(force float64) float64 {
	if force <= 0 {
		return 0
	}
	lo, hi := 0.0, h.d.Available
	if h.forces(hi, effort.HeldOff) < force {
		return hi
	}
	for range 40 {
		mid := (lo + hi) / 2
		if h.forces(mid, effort.HeldOff) < force {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// warm lets the last forces work for some seconds at a speed.
func (h *hot) warm(speed, seconds float64) {
	for i, w := range h.v.Wheels {
		if w.Brake == nil {
			continue
		}
		power := h.f[i] * speed
		after := Warm(w.Thermal, h.t[i], power, speed, h.d.Ambient, seconds)
		h.absorbed += power * seconds
		h.lost += power*seconds - Capacity(w.Thermal)*(after-h.t[i])
		h.t[i] = after
	}
}

// A Stop is an attempt to bring the vehicle to rest on the grade.
type Stop struct {
	Stops    bool
	Distance float64 // m to rest, or to where it was given up
	Seconds  float64
	Speed    float64 // m/s in the end: 0 where it stops
	Hottest  float64 // K in the end
}

// mostStop is the distance after which a stop is given up, m.
const mostStop = 5000

// stop brakes with given pressures and without the engine. The rods come out further than standing by what the worksheet after
// SAE 910126 gives for the time of braking.
func (h *hot) stop(speed, mass, service, holdOff float64) Stop {
	const step = 0.05
	s := Stop{Speed: speed}
	for s.Speed > 0 && s.Distance < mostStop && s.Speed < topSpeed {
		force := 0.0
		for i, w := range h.v.Wheels {
			h.f[i] = 0
			if w.Brake != nil {
				more := Travel(w, h.t[i]) + effort.DynamicStroke(s.Seconds)
				h.f[i] = w.With(w.Gets(service), holdOff, more).WheelForce * Grip(w.Thermal, h.t[i])
			}
			force += h.f[i]
		}
		a := (force - h.d.pull(mass, s.Speed)) / mass
		dt := step
		if a > 0 {
			dt = min(step, s.Speed/a)
		}
		mean := max(0, s.Speed-a*dt/2)
		h.warm(mean, dt)
		s.Distance += mean * dt
		s.Seconds += dt
		s.Speed = max(0, s.Speed-a*dt)
		if dt < step {
			s.Speed = 0
		}
	}
	s.Stops = s.Speed == 0
	for _, t := range h.t {
		s.Hottest = math.Max(s.Hottest, t)
	}
	return s
}
