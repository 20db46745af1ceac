package trace

import (
	"context"
	"math"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// paths is what the path arm makes of a case: for each observation and each fault, the route by which the fault would show
// there. Abnormal observations accuse what has a route; normal ones clear what would have shown.
type paths struct {
	routes   [][]*route // by observation and hypothesis; nil where there is none
	abnormal []bool     // by observation
}

// follow every fault to every observation, through the healthy circuit's open ways at each moment of the procedure.
func (t *Tracer) follow(ctx context.Context, observations []observation) (*paths, error) {
	p := &paths{abnormal: make([]bool, len(observations)), routes: make([][]*route, len(observations))}
	for i := range observations {
		o := &observations[i]
		scenes, err := t.scenesOf(ctx, o.procedure)
		if err != nil {
			return nil, err
		}
		p.abnormal[i] = t.abnormal(o)
		at := rowOf{o.procedure, o.reading}
		if t.routes[at] == nil {
			routes := make([]*route, len(t.list))
			for h := firstFault; h < len(t.list); h++ {
				routes[h] = t.route(scenes, t.list[h].changes, o.r)
			}
			t.routes[at] = routes
		}
		p.routes[i] = t.routes[at]
	}
	return p, nil
}

// scenesOf a procedure: the healthy vehicle at its start and after each of its steps, moments that look alike left out.
func (t *Tracer) scenesOf(ctx context.Context, p int) ([]*scene, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if s, ok := t.scenes[p]; ok {
		return s, nil
	}
	bench, err := procedure.NewBench(t.network, nil, airflow.Scatter{})
	if err != nil {
		return nil, err
	}
	var scenes []*scene
	bench.Watch(func(_ int, r *airflow.Run) {
		s := t.atlas.scene(t.procedures[p].Title, t.network, r)
		if !slices.ContainsFunc(scenes, func(o *scene) bool { return slices.Equal(o.open, s.open) && o.similar(s) }) {
			scenes = append(scenes, s)
		}
	})
	if _, err := bench.Do(ctx, t.procedures[p]); err != nil {
		return nil, err
	}
	t.scenes[p] = scenes
	return scenes, nil
}

// similar tells whether the same rooms hold pressure and the same ways carry air.
func (s *scene) similar(o *scene) bool {
	for room := range s.pressure {
		if s.high(room) != o.high(room) {
			return false
		}
	}
	for i := range s.flow {
		if (math.Abs(s.flow[i]) > countsAsAir) != (math.Abs(o.flow[i]) > countsAsAir) {
			return false
		}
	}
	return true
}

// route finds how a fault shows in a reading; a direct one is better than an indirect one, and an early scene than a late one.
func (t *Tracer) route(scenes []*scene, changes []airflow.Change, r *procedure.Reading) *route {
	var found *route
	for _, s := range scenes {
		got, ok := t.atlas.toReading(s, changes, r)
		if !ok {
			continue
		}
		if !got.indirect {
			return &got
		}
		if found == nil {
			found = &got
		}
	}
	return found
}

// toTouched is the way to what is found at a part itself: none but from the part. Since not every fault of it is found so, it clears nothing.
func (a *atlas) toTouched(s *scene, changes []airflow.Change, part string) (route, bool) {
	for _, ch := range changes {
		if ch.Part == part && ch.Effect != airflow.Leaks {
			return route{steps: []Step{a.partStep(part)}, indirect: true, scene: s.name}, true
		}
	}
	return route{}, false
}

// toReading follows a fault to where a reading is taken: a place where air comes out, a lamp, or a needle.
func (a *atlas) toReading(s *scene, changes []airflow.Change, r *procedure.Reading) (route, bool) {
	if r.Touched {
		return a.toTouched(s, changes, r.Place)
	}
	if r.Leak() {
		return a.toPlace(s, changes, r.Place)
	}
	id, _, _ := strings.Cut(r.Place, ".")
	if r.Gauge != "" {
		return a.toPart(s, changes, r.Gauge)
	}
	if len(a.wired[id]) > 0 && r.Sense == procedure.Eye {
		return a.toPart(s, changes, id)
	}
	if rooms := a.roomsOf(id); len(rooms) > 0 {
		got, ok := a.toPart(s, changes, id)
		if !ok && r.Dimension == circuit.Length {
			return a.toRod(s, changes, id)
		}
		return got, ok
	}
	if i, ok := a.index[circuit.Passage(id, circuit.Bore)]; ok { // a line: what is at its ends
		return a.toRooms(s, changes, []string{a.ways[i].From, a.ways[i].To})
	}
	// A reading of no place is about all needles.
	var found route
	for _, part := range a.gauges {
		if got, ok := a.toPart(s, changes, part); ok {
			if !got.indirect {
				return got, true
			}
			found = got
		}
	}
	return found, len(found.steps) > 0
}

// toRod follows a fault to a push-rod that is moved by hand: it goes farther or less far than it should without any air.
func (a *atlas) toRod(s *scene, changes []airflow.Change, part string) (route, bool) {
	for _, ch := range changes {
		if ch.Effect == airflow.Swells && slices.Contains(a.roomsOf(part), ch.Room) {
			return route{steps: together([]Step{a.partStep(ch.Part)}, a.partStep(part)), indirect: true, scene: s.name}, true
		}
	}
	return route{}, false
}

// abnormal tells whether a result is not what a healthy vehicle would show: outside its published limits, or hard to get
// from a healthy vehicle whatever its gauges and its scatter.
func (t *Tracer) abnormal(o *observation) bool {
	if o.e.Kind == circuit.WithinLimits {
		return false
	}
	l := t.likelihood(o)
	m := l.moves
	if o.e.Kind != circuit.Number && o.e.Kind != circuit.Range {
		row := make([]float64, len(t.nuisances.draws))
		l.fill(row, between2(l.healthy, l.healthy, &cell{}, ""))
		return mean(row) < 0.5
	}
	if math.IsNaN(l.healthy) {
		return true
	}
	spread := m.rough * m.rough
	for d := range m.times {
		x := l.healthy*m.times[d] + m.plus[d] - l.healthy
		spread += x * x / float64(len(m.times))
	}
	reach := 3 * math.Sqrt(spread+l.sigma*l.sigma)
	return o.e.High < l.healthy-reach || o.e.Low > l.healthy+reach
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}
