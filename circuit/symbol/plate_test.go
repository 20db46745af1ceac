package symbol

import (
	"slices"

	"airpath/circuit"
)

// pose is a component in a state worth looking at.
type pose struct {
	name  string
	state State
}

const psi = circuit.PSI

func gaugePressure(p float64) float64 { return circuit.AtmospherePressure + p*psi }

// poses are the main states of each kind: at rest first.
var poses = map[string][]pose{
	"compressor": {{"still", State{}}, {"pumping", State{On: true, Pressure: rooms("head", 125.0, "4", 0.0)}}, {"unloaded", State{Pressure: rooms("head", 20.0, "4", 120.0)}}},
	"governor": {{"rest", State{}}, {"cut in", State{Open: opens("exhaust", 1.0), Pressure: rooms("1", 95.0, "2", 0.0)}},
		{"cut out", State{Open: opens("inlet", 1.0, "exhaust", 0.0), Pressure: rooms("1", 122.0, "2", 122.0)}}},
	"air-dryer": {{"rest", State{}}, {"drying", State{Open: opens("outlet check", 1.0), Pressure: rooms("1", 118.0, "purge", 117.0, "2", 116.0, "4", 0.0)}},
		{"purging", State{Open: opens("purge valve", 1.0), Pressure: rooms("1", 5.0, "purge", 60.0, "2", 120.0, "4", 120.0)}}},
	"relief-valve":           {{"shut", State{}}, {"lifted", State{Open: opens("seat", 0.6), Pressure: rooms("1", 155.0)}}},
	"three-compartment-tank": {{"unknown", State{}}, {"charged", State{Pressure: rooms("supply", 120.0, "primary", 118.0, "secondary", 117.0)}}, {"low", State{Pressure: rooms("supply", 0.0, "primary", 60.0, "secondary", 30.0)}}},
	"check-valve":            {{"shut", State{}}, {"open", State{Open: opens("seat", 1.0), Pressure: rooms("1", 120.0, "2", 118.0)}}},
	"drain-valve":            {{"shut", State{}}, {"open", State{Control: 1, Pressure: rooms("1", 100.0)}}},
	"foot-valve": {{"up", State{}}, {"applying", State{Control: 0.7, Open: opens("primary inlet", 1.0, "primary exhaust", 0.0, "secondary inlet", 1.0, "secondary exhaust", 0.0),
		Pressure: rooms("11", 118.0, "12", 118.0, "21", 60.0, "22", 58.0)}},
		{"holding", State{Control: 0.7, Open: opens("primary exhaust", 0.0, "secondary exhaust", 0.0), Pressure: rooms("11", 118.0, "12", 118.0, "21", 60.0, "22", 58.0)}}},
	"park-control": {{"out", State{}}, {"in", State{Control: 1, Open: opens("inlet", 1.0, "exhaust", 0.0), Pressure: rooms("1", 118.0, "2", 117.0)}}},
	"relay-valve": {{"rest", State{}}, {"applying", State{Open: opens("inlet seat", 1.0, "exhaust seat", 0.0), Pressure: rooms("1", 118.0, "2", 40.0, "4", 60.0)}},
		{"holding", State{Open: opens("inlet seat", 0.0, "exhaust seat", 0.0), Pressure: rooms("1", 118.0, "2", 60.0, "4", 60.0)}},
		{"releasing", State{Open: opens("exhaust seat", 1.0), Pressure: rooms("1", 118.0, "2", 40.0, "4", 0.0)}}},
	"quick-release-valve": {{"rest", State{}}, {"applying", State{Open: opens("inlet", 1.0, "exhaust", 0.0), Pressure: rooms("1", 60.0, "2", 50.0)}},
		{"holding", State{Open: opens("inlet", 0.0, "exhaust", 0.0), Pressure: rooms("1", 60.0, "2", 60.0)}},
		{"releasing", State{Open: opens("exhaust", 1.0), Pressure: rooms("1", 0.0, "2", 50.0)}}},
	"double-check-valve": {{"rest", State{}}, {"first", State{Open: opens("first seat", 1.0, "second seat", 0.0), Pressure: rooms("11", 118.0, "12", 30.0, "2", 118.0)}},
		{"second", State{Open: opens("first seat", 0.0, "second seat", 1.0), Pressure: rooms("11", 30.0, "12", 118.0, "2", 118.0)}}},
	"service-chamber": {{"back", State{}}, {"applied", State{Stroke: 0.6, Pressure: rooms("service", 80.0)}}},
	"spring-brake-chamber": {{"unknown", State{}}, {"parked", State{Stroke: 0.6, Pressure: rooms("service", 0.0, "spring", 0.0)}},
		{"released", State{Pressure: rooms("service", 0.0, "spring", 118.0)}}, {"braking", State{Stroke: 0.6, Pressure: rooms("service", 80.0, "spring", 118.0)}}},
	"slack-adjuster":   {{"back", State{}}, {"applied", State{Stroke: 0.6}}},
	"drum-brake":       {{"released", State{}}, {"applied", State{Stroke: 0.6}}},
	"gauge":            {{"unknown", State{}}, {"empty", State{Needle: gaugePressure(0)}}, {"charged", State{Needle: gaugePressure(118)}}},
	"pressure-switch":  {{"open", State{}}, {"closed", State{On: true}}},
	"stop-lamp-switch": {{"open", State{}}, {"closed", State{On: true}}},
	"lamp":             {{"dark", State{}}, {"lit", State{On: true}}},
	"buzzer":           {{"quiet", State{}}, {"sounding", State{On: true}}},
	"tee":              {{"empty", State{}}, {"charged", State{Pressure: rooms("body", 118.0)}}},
	"test-connection":  {{"capped", State{}}, {"charged", State{Pressure: rooms("1", 118.0)}}},
}

func pairs(args []any) map[string]float64 {
	m := map[string]float64{}
	for i := 0; i < len(args); i += 2 {
		m[args[i].(string)] = args[i+1].(float64)
	}
	return m
}

func opens(args ...any) map[string]float64 { return pairs(args) }

func rooms(args ...any) map[string]float64 {
	m := pairs(args)
	for k, v := range m {
		m[k] = gaugePressure(v)
	}
	return m
}

// specimen is a component of a kind at a place.
func specimen(k *circuit.Kind, at Point, turn int) *circuit.Component {
	return &circuit.Component{ID: k.Name, Kind: k, Name: k.Title, At: at, Turn: turn}
}

// drawPoses draws a kind's poses in a row and returns the box around them.
func drawPoses(s Surface, k *circuit.Kind, look Look, at Point) Box {
	box := Box{at, at}
	x := at.X
	for _, p := range slices.Clone(poses[k.Name]) {
		d, _ := Of(k.Name)
		c := specimen(k, Point{X: x + 1 + d.Width/2, Y: at.Y + 1 + d.Height/2}, 0)
		c.ID = k.Name + " " + p.name
		DrawSymbol(s, c, look, p.state)
		box = box.Union(BoxOf(c).Grow(1))
		x += d.Width + 2
	}
	return box
}
