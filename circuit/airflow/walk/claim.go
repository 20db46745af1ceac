package walk

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// A Claim is something that can be seen. Sentences, in which KIND.ROOM may be a reservoir or a gauge as well:
//
//	KIND.ROOM above 90 psi | below 10 psi | from 100 psi to 125 psi
//	KIND rod above 10 mm | below 5 mm
//	KIND pumps | KIND rests           compressors
//	some KIND closed | no KIND closed switches
//	KIND.PORT blows | KIND.PORT quiet
//	KIND.CONTROL at 0 %
//	water in reservoir wet above 2 g
type Claim struct {
	Words string
	Parts []string // that it is about
	holds func(g *airflow.Glance, water func(room string) float64) bool
}

// Holds says whether it is so. Water tells the kg of water in a reservoir's room.
func (c Claim) Holds(g *airflow.Glance, water func(room string) float64) bool {
	return c.holds(g, water)
}

type claim struct {
	text      string
	what      string
	of        subject
	low, high float64
	yes       bool
	some      bool // one of the parts is enough
}

var claimForms = []struct {
	what    string
	pattern *regexp.Regexp
}{
	{"water", regexp.MustCompile(`^water in (.+) (above|below) (.+)$`)},
	{"rod", regexp.MustCompile(`^((?:some )?\S+) rod (above|below) (.+)$`)},
	{"span", regexp.MustCompile(`^(.+) from (.+) to (.+)$`)},
	{"pressure", regexp.MustCompile(`^(.+) (above|below) (.+)$`)},
	{"pumps", regexp.MustCompile(`^(\S+) (pumps|rests)$`)},
	{"closed", regexp.MustCompile(`^(some|no) (\S+) closed$`)},
	{"blows", regexp.MustCompile(`^(\S+) (blows|quiet)$`)},
	{"control", regexp.MustCompile(`^(\S+) at (\d+) %$`)},
}

func parseClaim(text string) (claim, error) {
	for _, f := range claimForms {
		if m := f.pattern.FindStringSubmatch(text); m != nil {
			c, err := parseForm(f.what, m)
			c.text = text
			return c, err
		}
	}
	return claim{}, fmt.Errorf("%q: want such as reservoir 1 from 100 psi to 125 psi; spring-brake-chamber rod above 20 mm; compressor pumps; some pressure-switch closed; air-dryer.3 blows; park-control.knob at 0 %%; water in reservoir wet above 2 g", text)
}

const huge = 1e12

func parseForm(what string, m []string) (claim, error) {
	c := claim{what: what, low: -huge, high: huge}
	var err error
	bound := func(dir, text string, d circuit.Dimension) {
		q, e := circuit.ParseQuantity(text, d)
		if e != nil {
			err = e
			return
		}
		if dir == "above" {
			c.low = q.SI
		} else {
			c.high = q.SI
		}
	}
	who := m[1]
	switch what {
	case "water":
		bound(m[2], m[3], circuit.Mass)
	case "rod":
		bound(m[2], m[3], circuit.Length)
	case "span":
		bound("above", m[2], circuit.Pressure)
		bound("below", m[3], circuit.Pressure)
		c.what = "pressure"
	case "pressure":
		bound(m[2], m[3], circuit.Pressure)
	case "pumps":
		c.yes = m[2] == "pumps"
	case "closed":
		c.yes, who = m[1] == "some", m[2]
	case "blows":
		c.yes = m[2] == "blows"
	case "control":
		fmt.Sscanf(m[2], "%f", &c.low)
		c.low /= 100
	}
	if err != nil {
		return c, err
	}
	if rest, some := strings.CutPrefix(who, "some "); some {
		who, c.some = rest, true
	}
	if c.of, err = parseSubject(who); err != nil {
		return c, err
	}
	return c, c.sense()
}

// sense holds a claim against the kind that it is about.
func (c *claim) sense() error {
	if c.what == "water" && c.of.sort != "reservoir" {
		return fmt.Errorf("water gathers in reservoirs, not in %s", c.of)
	}
	if c.of.sort != "kind" {
		if c.what != "pressure" && c.what != "water" {
			return fmt.Errorf("%s: only its pressure can be told", c.of)
		}
		return nil
	}
	k, err := circuit.KindNamed(c.of.kind)
	if err != nil {
		return err
	}
	ok := true
	switch c.what {
	case "pressure":
		_, ok = k.Room(c.of.detail)
	case "blows":
		p, is := k.Port(c.of.detail)
		ok = is && p.Vent
	case "control":
		ok = isControl(k, c.of.detail)
	}
	if !ok {
		return fmt.Errorf("a %s has no %q of which that could be said", k.Title, c.of.detail)
	}
	return nil
}

// blowing is a flow out of a port that is seen and heard, kg/s.
const blowing = 2e-4

// bind finds the places of one vehicle.
func (c claim) bind(n *airflow.Network) (Claim, error) {
	x := n.Index()
	out := Claim{Words: c.text}
	var err error
	if out.Parts, err = c.of.parts(n); err != nil {
		return out, err
	}
	every := func(index map[string]int, names []string, ok func(g *airflow.Glance, i int) bool) error {
		var at []int
		for _, name := range names {
			i, found := index[name]
			if !found {
				return fmt.Errorf("this vehicle has no %s of which that could be said", name)
			}
			at = append(at, i)
		}
		out.holds = func(g *airflow.Glance, _ func(string) float64) bool {
			if c.some {
				return slices.ContainsFunc(at, func(i int) bool { return ok(g, i) })
			}
			return !slices.ContainsFunc(at, func(i int) bool { return !ok(g, i) })
		}
		return nil
	}
	within := func(v float64) bool { return v >= c.low && v <= c.high }
	switch c.what {
	case "pressure":
		if c.of.sort == "gauge" {
			return out, every(x.Gauge, out.Parts, func(g *airflow.Glance, i int) bool { return within(g.Needle[i]) })
		}
		rooms, err := c.of.rooms(n)
		if err != nil {
			return out, err
		}
		return out, every(x.Room, rooms, func(g *airflow.Glance, i int) bool { return within(g.Pressure[i]) })
	case "rod":
		return out, every(x.Rod, out.Parts, func(g *airflow.Glance, i int) bool { return within(g.Stroke[i]) })
	case "pumps":
		return out, c.pumps(n, x, &out)
	case "closed":
		err := every(x.Contact, out.Parts, func(g *airflow.Glance, i int) bool { return !g.Contact[i] })
		if none := out.holds; c.yes && err == nil {
			out.holds = func(g *airflow.Glance, w func(string) float64) bool { return !none(g, w) }
		}
		return out, err
	case "blows":
		var vents []string
		for _, id := range out.Parts {
			vents = append(vents, id+"."+c.of.detail)
		}
		return out, every(x.Vent, vents, func(g *airflow.Glance, i int) bool { return (g.Vent[i] > blowing) == c.yes })
	case "control":
		var names []string
		for _, id := range out.Parts {
			names = append(names, id+"."+c.of.detail)
		}
		return out, every(x.Control, names, func(g *airflow.Glance, i int) bool { d := g.Control[i] - c.low; return d < 0.02 && d > -0.02 })
	case "water":
		rooms, err := c.of.rooms(n)
		out.holds = func(_ *airflow.Glance, water func(string) float64) bool {
			return len(rooms) > 0 && within(water(rooms[0]))
		}
		return out, err
	}
	return out, fmt.Errorf("%q can't be told", c.text)
}

// pumps looks at the flow through the parts' one-way passages.
func (c claim) pumps(n *airflow.Network, x *airflow.Index, out *Claim) error {
	var at []int
	for _, id := range out.Parts {
		for _, p := range n.Circuit().Component(id).Kind.Passages {
			if i, ok := x.Passage[circuit.Passage(id, p.Name)]; ok && p.OneWay {
				at = append(at, i)
			}
		}
	}
	out.holds = func(g *airflow.Glance, _ func(string) float64) bool {
		flow := 0.0
		for _, i := range at {
			flow += max(0, g.Flow[i])
		}
		return (flow > 1e-5) == c.yes
	}
	return nil
}
