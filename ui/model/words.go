package model

import (
	"math"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/circuit/limit"
)

// Say puts a finding into words: "Build-up 85 to 100 psi: 70 s".
func (s *Session) Say(f circuit.Finding) string {
	p, r := s.Reading(f)
	if p == nil {
		return strings.TrimSpace(f.Procedure + " " + f.Reading + " " + f.Result.Text)
	}
	place := s.PlaceName(f.Place)
	if r.Form == procedure.YesNo {
		return join2(r.Title, place, SayResult(f.Result))
	}
	return s.cardTitle(p, r) + ": " + SayResult(f.Result)
}

func join2(title, place, result string) string {
	if place != "" && !strings.Contains(strings.ToLower(title), strings.ToLower(place)) {
		title += " at the " + place
	}
	return title + ": " + result
}

// SayResult puts a result into words.
func SayResult(r circuit.Result) string {
	switch r.Kind {
	case circuit.Number, circuit.Range:
		return strings.Replace(r.Text, "..", " to ", 1)
	case circuit.Never:
		return "never reached"
	}
	return string(r.Kind)
}

// PlaceName is a place in words: "dryer, purge" for "dryer.3", the name of a part or a line else.
func (s *Session) PlaceName(place string) string {
	target := ComponentOf(place)
	port := strings.TrimPrefix(strings.TrimPrefix(place, target), ".")
	for _, c := range s.Circuit.Components {
		if c.ID != target {
			continue
		}
		if port == "" {
			return c.Name
		}
		if p, ok := c.Kind.Port(port); ok {
			return c.Name + ", " + p.About
		}
		return c.Name + ", port " + port
	}
	for _, l := range s.Circuit.Lines {
		if l.ID == target {
			return l.Name
		}
	}
	return place
}

// SayState puts the state of the controls into words: "engine at rated speed, compressor pumping, park released, pedal up".
func SayState(st circuit.State) string {
	var parts []string
	say := func(v string, words map[string]string) {
		if w, ok := words[v]; ok {
			parts = append(parts, w)
		}
	}
	say(st.Engine, map[string]string{"off": "engine off", "idle": "engine idling", "rated": "engine at rated speed"})
	say(st.Compressor, map[string]string{"loaded": "compressor pumping", "unloaded": "compressor unloaded"})
	say(st.Park, map[string]string{"set": "park set", "released": "park released"})
	say(st.Pedal, map[string]string{"up": "pedal up", "down": "pedal down"})
	say(st.Hand, map[string]string{"released": "hand valve back", "applied": "hand valve applied"})
	say(st.Trailer, map[string]string{"in": "trailer supply in", "out": "trailer supply out", "uncoupled": "trailer uncoupled"})
	return strings.Join(parts, ", ")
}

// SayLimit puts a limit into words, in the person's units.
func (u Units) SayLimit(l limit.Limit, d circuit.Dimension) string {
	low, high := !math.IsNaN(l.Low) && !math.IsInf(l.Low, 0), !math.IsNaN(l.High) && !math.IsInf(l.High, 0)
	switch {
	case low && high:
		return u.Span(l.Low, l.High, d)
	case low:
		return "at least " + u.Format(l.Low, d)
	case high:
		return "at most " + u.Format(l.High, d)
	}
	return ""
}

// Percent writes a probability the way a person can weigh it: never 0 % or 100 %, which the findings can't show.
func Percent(p float64) string {
	switch v := p * 100; {
	case v < 1:
		return "< 1 %"
	case v > 99:
		return "> 99 %"
	default:
		return Units("").Number(math.Round(v)/100, circuit.Ratio) + " %"
	}
}

// Minutes writes a duration as a person plans it.
func Minutes(m float64) string {
	if m < 1.5 {
		return "1 minute"
	}
	return Units("").Number(math.Round(m), circuit.Count) + " minutes"
}

// GaugeOf is where a reading is taken: its own place, or the gauge that it or another reading of the procedure is taken on.
func GaugeOf(p *procedure.Procedure, r *procedure.Reading) string {
	if r.Place != "" {
		return r.Place
	}
	if r.Gauge != "" {
		return r.Gauge
	}
	for i := range p.Readings {
		if g := p.Readings[i].Gauge; g != "" {
			return g
		}
	}
	return ""
}
