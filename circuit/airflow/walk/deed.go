package walk

import (
	"fmt"
	"strconv"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// A Deed is one thing that is done. Sentences:
//
//	engine off | key | idle | rated
//	KIND.CONTROL 60 %          every part of the kind; knobs and cocks 0 % or 100 %
//	drain reservoir 1 100 %    the cock on a reservoir's drain
//	weather 30 C 90 %          outside temperature and humidity
type Deed struct {
	Words    string // "push the park control's knob in", for the person
	Controls []Move
	Weather  *Weather
}

// A Move of one control.
type Move struct {
	Control string
	Value   float64
	Over    float64 // s
}

// Weather outside.
type Weather struct{ Temperature, Humidity float64 } // K, share

type deed struct {
	text    string
	what    string // "engine", "control", "drain", "weather"
	stage   string
	of      subject
	share   float64
	weather Weather
}

func parseDeed(text string) (deed, error) {
	d := deed{text: text}
	words := strings.Fields(text)
	bad := func() (deed, error) {
		return d, fmt.Errorf("%q: want engine off, key, idle or rated; KIND.CONTROL 60 %%; drain reservoir 1 100 %%; or weather 30 C 90 %%", text)
	}
	if len(words) < 2 {
		return bad()
	}
	switch words[0] {
	case "engine":
		d.what, d.stage = "engine", words[1]
		if len(words) != 2 || d.stage != "off" && d.stage != "key" && d.stage != "idle" && d.stage != "rated" {
			return bad()
		}
		return d, nil
	case "weather":
		d.what = "weather"
		if len(words) != 5 || words[2] != "C" || words[4] != "%" {
			return bad()
		}
		t, err := strconv.ParseFloat(words[1], 64)
		h, err2 := strconv.ParseFloat(words[3], 64)
		if err != nil || err2 != nil || !(t >= -40 && t <= 50 && h >= 0 && h <= 100) {
			return d, fmt.Errorf("%q: want −40 to 50 C and 0 to 100 %%", text)
		}
		d.weather = Weather{t + 273.15, h / 100}
		return d, nil
	}
	if len(words) < 3 || words[len(words)-1] != "%" {
		return bad()
	}
	share, err := strconv.ParseFloat(words[len(words)-2], 64)
	if err != nil || !(share >= 0 && share <= 100) {
		return d, fmt.Errorf("%q: want 0 to 100 %%", text)
	}
	d.share = share / 100
	rest := strings.Join(words[:len(words)-2], " ")
	if drain, ok := strings.CutPrefix(rest, "drain "); ok {
		d.what = "drain"
		if d.of, err = parseSubject(drain); err == nil && d.of.sort != "reservoir" {
			err = fmt.Errorf("%q: only reservoirs have drains", text)
		}
		return d, err
	}
	d.what = "control"
	if d.of, err = parseSubject(rest); err != nil {
		return d, err
	}
	if k, err := circuit.KindNamed(d.of.kind); err != nil || !isControl(k, d.of.detail) {
		return bad()
	}
	return d, nil
}

func isControl(k *circuit.Kind, name string) bool {
	_, ok := controlOf(k, name)
	return ok
}

func controlOf(k *circuit.Kind, name string) (circuit.ControlSpec, bool) {
	for _, c := range k.Controls {
		if c.Name == name {
			return c, true
		}
	}
	return circuit.ControlSpec{}, false
}

// bind finds the vehicle's controls.
func (d deed) bind(n *airflow.Network) (Deed, error) {
	c := n.Circuit()
	switch d.what {
	case "weather":
		w := d.weather
		return Deed{Words: fmt.Sprintf("Weather: %.0f °C, %.0f %% humidity", w.Temperature-273.15, 100*w.Humidity), Weather: &w}, nil
	case "engine":
		if len(n.Pumps()) == 0 {
			return Deed{}, fmt.Errorf("this vehicle has no compressor")
		}
		key, speed := 1.0, 0.0
		switch d.stage {
		case "off":
			key = 0
		case "idle":
			speed = c.Engine.Idle.SI
		case "rated":
			speed = c.Engine.Rated.SI
		}
		words := map[string]string{"off": "Engine off", "key": "Engine off, key on", "idle": "Engine idling", "rated": "Engine at rated speed"}[d.stage]
		return Deed{Words: words, Controls: []Move{{airflow.Key, key, 0}, {airflow.Engine, speed, 0.5}}}, nil
	case "drain":
		r, ok := d.of.reservoir(c)
		if !ok {
			return Deed{}, fmt.Errorf("this vehicle has no %s", d.of)
		}
		return d.drain(n, r)
	}
	ids, err := d.of.parts(n)
	if err != nil {
		return Deed{}, err
	}
	out := Deed{}
	for _, id := range ids {
		part := c.Component(id)
		spec, _ := controlOf(part.Kind, d.of.detail)
		out.add(part, spec, d.share)
	}
	return out, nil
}

// drain finds the cock at the end of the line on a reservoir's drain port.
func (d deed) drain(n *airflow.Network, r circuit.Reservoir) (Deed, error) {
	c := n.Circuit()
	for _, p := range r.Component.Kind.Ports {
		ref := circuit.PortRef{Component: r.Component.ID, Port: p.Name}
		l := c.LineAt(ref)
		if r.Component.Room(p.Room) != r.Room || !strings.HasSuffix(p.About, "drain") || l == nil {
			continue
		}
		if part := c.Component(l.Other(ref).Component); part != nil && len(part.Kind.Controls) > 0 {
			out := Deed{}
			out.add(part, part.Kind.Controls[0], d.share)
			return out, nil
		}
	}
	return Deed{}, fmt.Errorf("the %s of this vehicle has no drain", d.of)
}

func (d *Deed) add(part *circuit.Component, spec circuit.ControlSpec, share float64) {
	zero, full := spec.Ends()
	how := fmt.Sprintf("%.0f %%", 100*share)
	switch share {
	case 0:
		how = zero
	case 1:
		how = full
	}
	words := upper(part.Name) + ": " + how
	if d.Words != "" {
		words = d.Words + "; " + part.Name + ": " + how
	}
	over := 0.05
	if spec.Gradual {
		over = 0.3
	}
	d.Words = words
	d.Controls = append(d.Controls, Move{part.ID + "." + spec.Name, share * spec.Max, over})
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
