package walk

import (
	"fmt"
	"strconv"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// A subject is what a sentence is about: all parts of a kind, with a room, port or control of theirs ("relay-valve.2"), a
// reservoir ("reservoir wet" is the one that the compressor fills, "reservoir 1" the first that it feeds), or a gauge.
type subject struct {
	kind   string
	detail string // room, port or control
	which  string // of reservoirs and gauges: "wet", "1" ...
	sort   string // "kind", "reservoir", "gauge"
}

func parseSubject(text string) (subject, error) {
	words := strings.Fields(text)
	switch {
	case len(words) == 2 && (words[0] == "reservoir" || words[0] == "gauge"):
		if n, err := strconv.Atoi(words[1]); words[1] != "wet" && (err != nil || n < 1 || n > 9) || words[0] == "gauge" && words[1] == "wet" {
			return subject{}, fmt.Errorf("%q: want reservoir wet, reservoir 1 to 9, or gauge 1 to 9", text)
		}
		return subject{sort: words[0], which: words[1]}, nil
	case len(words) != 1:
		return subject{}, fmt.Errorf("%q: want a kind of part such as relay-valve or relay-valve.2, reservoir 1, or gauge 1", text)
	}
	kind, detail, _ := strings.Cut(text, ".")
	k, err := circuit.KindNamed(kind)
	if err != nil {
		return subject{}, err
	}
	if detail != "" && !hasDetail(k, detail) {
		return subject{}, fmt.Errorf("%q: a %s has no room, port or control %q", text, k.Title, detail)
	}
	return subject{sort: "kind", kind: kind, detail: detail}, nil
}

func hasDetail(k *circuit.Kind, name string) bool {
	_, room := k.Room(name)
	_, port := k.Port(name)
	for _, c := range k.Controls {
		room = room || c.Name == name
	}
	return room || port
}

// parts that the subject stands for on a vehicle, by id.
func (s subject) parts(n *airflow.Network) ([]string, error) {
	c := n.Circuit()
	var out []string
	switch s.sort {
	case "kind":
		for _, part := range c.Components {
			if part.Kind.Name == s.kind {
				out = append(out, part.ID)
			}
		}
	case "gauge":
		if i, _ := strconv.Atoi(s.which); i >= 1 && i <= len(n.Gauges()) {
			out = append(out, n.Gauges()[i-1])
		}
	case "reservoir":
		if r, ok := s.reservoir(c); ok {
			out = append(out, r.Component.ID)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("this vehicle has no %s", s)
	}
	return out, nil
}

func (s subject) String() string {
	if s.sort != "kind" {
		return s.sort + " " + s.which
	}
	return s.kind
}

func (s subject) reservoir(c *circuit.Circuit) (circuit.Reservoir, bool) {
	i := 0
	for _, r := range c.Reservoirs() {
		if len(r.FedBy) == 0 {
			if s.which == "wet" {
				return r, true
			}
			continue
		}
		if i++; strconv.Itoa(i) == s.which {
			return r, true
		}
	}
	return circuit.Reservoir{}, false
}

// rooms that the subject stands for; gauges have none of their own here.
func (s subject) rooms(n *airflow.Network) ([]string, error) {
	if s.sort == "reservoir" {
		r, ok := s.reservoir(n.Circuit())
		if !ok {
			return nil, fmt.Errorf("this vehicle has no %s", s)
		}
		return []string{r.Room}, nil
	}
	ids, err := s.parts(n)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, id := range ids {
		out = append(out, n.Circuit().Component(id).Room(s.detail))
	}
	return out, nil
}
