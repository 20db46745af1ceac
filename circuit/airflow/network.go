package airflow

import (
	"fmt"
	"sort"

	"airpath/circuit"
)

// A Network is a circuit compiled for the solver: read-only, shared by any number of runs on any number of goroutines.
type Network struct {
	plan    *plan
	pattern *pattern // for what may be open in a vehicle in good order
	wide    *pattern // for all that any fault can open; the unknowns are in the same order
	unknown []int32  // pressure unknown of each room
	warmth  []int32  // of each thermal room the unknown x/V beside it, else -1
	vents   []string
	acts    []bool // by latch: an opening hangs on it
}

// Compile turns a circuit into a network.
func Compile(c *circuit.Circuit) (*Network, error) {
	return CompileIn(c, Detail{})
}

// CompileIn is Compile with more detail than a prediction needs.
func CompileIn(c *circuit.Circuit, d Detail) (*Network, error) {
	if err := d.check(); err != nil {
		return nil, fmt.Errorf("circuit %s: %w", c.Name, err)
	}
	p, err := planOf(c, d)
	if err != nil {
		return nil, fmt.Errorf("circuit %s: %w", c.Name, err)
	}
	return newNetwork(p), nil
}

func newNetwork(p *plan) *Network {
	n := &Network{plan: p}
	n.unknown, n.warmth = make([]int32, len(p.rooms)), make([]int32, len(p.rooms))
	size := 0
	for i := range p.rooms {
		n.unknown[i], n.warmth[i] = int32(size), -1
		size++
		if p.rooms[i].thermal {
			n.warmth[i] = int32(size)
			size++
		}
	}
	usual := n.couplings(size, (*element).passes)
	order := elimination(usual)
	place := make([]int32, size)
	for position, k := range order {
		place[k] = int32(position)
	}
	n.pattern = newPattern(usual.ordered(order))
	n.wide = newPattern(n.couplings(size, func(*element) bool { return true }).ordered(order))
	for i := range n.unknown {
		n.unknown[i] = place[n.unknown[i]]
		if n.warmth[i] >= 0 {
			n.warmth[i] = place[n.warmth[i]]
		}
	}
	n.acts = make([]bool, len(p.latches))
	mark := func(o *opening) {
		for _, t := range o.terms {
			if t.kind == latchTerm {
				n.acts[t.index] = true
			}
		}
	}
	for i := range p.elements {
		mark(&p.elements[i].opening)
	}
	for i := range p.pumps {
		mark(&p.pumps[i].opening)
	}
	n.vents = append([]string(nil), p.places...)
	sort.Strings(n.vents)
	return n
}

// couplings says which unknown's rate depends on which, for some of the elements and all pumps.
func (n *Network) couplings(size int, counts func(*element) bool) grid {
	full := newGrid(size)
	unknowns := func(room int32) []int32 {
		if room < 0 {
			return nil
		}
		if n.warmth[room] >= 0 {
			return []int32{n.unknown[room], n.warmth[room]}
		}
		return []int32{n.unknown[room]}
	}
	couple := func(from, to int32, o opening) {
		rows := append(unknowns(from), unknowns(to)...)
		cols := append([]int32(nil), rows...)
		for _, t := range o.terms {
			if t.kind == roomTerm && t.index >= 0 {
				cols = append(cols, n.unknown[t.index])
			}
		}
		for _, r := range rows {
			for _, c := range cols {
				full.add(r, c)
			}
		}
	}
	for i := range n.plan.elements {
		if e := &n.plan.elements[i]; counts(e) {
			couple(e.from, e.to, e.opening)
		}
	}
	for i := range n.plan.pumps {
		couple(n.plan.pumps[i].from, n.plan.pumps[i].to, n.plan.pumps[i].opening)
	}
	for i := range n.plan.rooms {
		if n.plan.rooms[i].thermal {
			both := unknowns(int32(i))
			full.add(both[0], both[1])
			full.add(both[1], both[0])
		}
	}
	return full
}

// Circuit that the network was compiled from.
func (n *Network) Circuit() *circuit.Circuit { return n.plan.circuit }

// Rooms lists every room with a pressure of its own, as "component.room", in file order.
func (n *Network) Rooms() []string {
	names := make([]string, len(n.plan.rooms))
	for i := range names {
		names[i] = n.plan.rooms[i].name
	}
	return names
}

// Vents lists every place where air can be heard leaving, in alphabetical order: "component.port" for exhausts and intakes, a
// component or line for leaks in it, "line.from" and "line.to" for the ends of a line that has been taken off.
func (n *Network) Vents() []string { return append([]string(nil), n.vents...) }

// Controls lists everything that Set can set by its full name: the vehicle's own, then the components' in file order.
func (n *Network) Controls() []string {
	names := make([]string, len(n.plan.controls))
	for i := range names {
		names[i] = n.plan.controls[i].name
	}
	return names
}

// Latches lists the things that remember, as "component.latch".
func (n *Network) Latches() []string {
	names := make([]string, len(n.plan.latches))
	for i := range names {
		names[i] = n.plan.latches[i].name
	}
	return names
}

// Gauges lists the components that show a pressure.
func (n *Network) Gauges() []string {
	names := make([]string, len(n.plan.gauges))
	for i := range names {
		names[i] = n.plan.owners[n.plan.gauges[i].owner]
	}
	return names
}

// GaugedRoom is the room whose pressure a gauge component shows.
func (n *Network) GaugedRoom(component string) (string, bool) {
	for _, g := range n.plan.gauges {
		if n.plan.owners[g.owner] == component {
			return n.plan.rooms[g.room].name, true
		}
	}
	return "", false
}

// Sinks lists the lamps and buzzers.
func (n *Network) Sinks() []string {
	names := make([]string, len(n.plan.sinks))
	for i := range names {
		names[i] = n.plan.owners[n.plan.sinks[i].owner]
	}
	return names
}

// HasRoom says whether there is a room of that name.
func (n *Network) HasRoom(name string) bool {
	_, ok := n.plan.roomIndex[name]
	return ok
}

// Size is the number of unknowns and of elements, and of non-zero values in the solver's factors.
func (n *Network) Size() (unknowns, elements, nonZeros int) {
	return n.pattern.n, len(n.plan.elements) + len(n.plan.pumps), n.pattern.slots
}
