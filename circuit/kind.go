package circuit

import (
	"fmt"
	"slices"
	"strings"
)

// Medium is what a port or a line carries.
type Medium string

const (
	Air     Medium = "air"     // compressed air, in tubes and hoses
	Motion  Medium = "motion"  // push-rods and linkages
	Current Medium = "current" // wiring
)

// Atmosphere is the room outside: the far side of every exhaust, vent and leak.
const Atmosphere = "atmosphere"

// A Kind is a sort of component: what every relay valve has in common. Kinds hold no physics, no fault and no drawing;
// those live in tables of their own, keyed by Kind.Name, in airflow, trace and symbol.
type Kind struct {
	Name     string        // as the file writes it: "relay-valve"
	Title    string        // as a person says it: "relay valve"
	About    string        // one or two sentences: what it does in the vehicle
	Ports    []PortSpec    // in ISO 6786 order, other media after air
	Rooms    []RoomSpec    // every inner volume that can have a pressure of its own
	Params   []ParamSpec   // what the file may state about one component
	Passages []PassageSpec // every way air can take through it, healthy or worn
	Controls []ControlSpec // what an operator can do to it
}

// A PortSpec is a place where a line can be fastened, or where the part opens to the atmosphere.
type PortSpec struct {
	Name     string // air: ISO 6786 digits ("1" supply, "2" delivery, "3" exhaust, "4" control, "0" intake; "21", "22" ...); else a word
	Medium   Medium
	Room     string // air: the room it opens into
	Vent     bool   // opens to the atmosphere and takes no line: exhausts, intakes
	Optional bool   // may be left without a line, plugged
	About    string // what it is for: "to the rear relay"
}

// Role of an air port after the first digit of ISO 6786 (digits from memory, see circuits/README.md).
func (p PortSpec) Role() Role {
	if p.Medium != Air || p.Name == "" {
		return NoRole
	}
	switch p.Name[0] {
	case '0':
		return Intake
	case '1':
		return Supply
	case '2':
		return Delivery
	case '3':
		return Exhaust
	case '4':
		return Control
	}
	return NoRole
}

// Role is the use of an air port.
type Role int

const (
	NoRole Role = iota
	Intake
	Supply
	Delivery
	Exhaust
	Control
)

// A RoomSpec is an inner volume. In a valve each port has its own small room; a tank compartment is one room with many ports.
type RoomSpec struct {
	Name      string
	About     string // "primary compartment", "spring side"
	Reservoir bool   // keeps air for later: it gathers water and needs a drain, and its volume counts as reservoir volume
	Volume    string // the parameter that gives a reservoir's volume; "" for rooms that are no reservoirs
}

// A PassageSpec is a way between two rooms (or a room and [Atmosphere]).
type PassageSpec struct {
	Name    string   // "inlet seat", unique in the kind; the id of the passage in a vehicle is "component/inlet seat"
	From    string   // room; the direction in which air normally goes, if it has one
	To      string   // room
	OneWay  bool     // a healthy part lets air pass from From to To only
	Pilot   []string // rooms whose pressure opens or shuts it
	Control string   // the operator's control that opens or shuts it, if any
	Worn    bool     // shut in every part that is as it should be: it exists only as a fault (a wall, a seal between two sides, hoses crossed)

	// Coupling marks the open face of a part that meets another vehicle's: a trailer gets its air there.
	Coupling bool

	About string
}

// A ParamSpec is one number that a file may give for a component.
type ParamSpec struct {
	Name      string
	Dimension Dimension
	Default   string // a quantity as text; "" means that the file must give it
	Min, Max  string // inclusive bounds as text
	Below     string // another parameter that must be higher than this one; "" for none
	About     string
	Source    string // where the default comes from: a standard's section, "common practice", "from memory", "engineering judgement"
}

// A ControlSpec is something that a person works: the pedal, a knob, a drain cock.
type ControlSpec struct {
	Name  string // "pedal"; the control of one component is "foot_valve.pedal"
	Rest  float64
	Max   float64 // controls run from 0 to Max; knobs and cocks are 0 or 1
	About string  // what 0 and Max mean: "0 shut, 1 open"; see Ends

	Gradual bool // stands anywhere between 0 and Max; otherwise only at its ends
	Sprung  bool // goes back to rest when it is let go
}

// Ends are the words for a control's two ends: "shut" and "open".
func (c ControlSpec) Ends() (zero, full string) {
	zero, full, _ = strings.Cut(c.About, ", ")
	_, zero, _ = strings.Cut(zero, " ")
	_, full, _ = strings.Cut(full, " ")
	return zero, full
}

// Port finds a port by name.
func (k *Kind) Port(name string) (PortSpec, bool) {
	i := slices.IndexFunc(k.Ports, func(p PortSpec) bool { return p.Name == name })
	if i < 0 {
		return PortSpec{}, false
	}
	return k.Ports[i], true
}

// Param finds a parameter by name.
func (k *Kind) Param(name string) (ParamSpec, bool) {
	i := slices.IndexFunc(k.Params, func(p ParamSpec) bool { return p.Name == name })
	if i < 0 {
		return ParamSpec{}, false
	}
	return k.Params[i], true
}

// Passage finds a passage by name.
func (k *Kind) Passage(name string) (PassageSpec, bool) {
	i := slices.IndexFunc(k.Passages, func(p PassageSpec) bool { return p.Name == name })
	if i < 0 {
		return PassageSpec{}, false
	}
	return k.Passages[i], true
}

// Room finds a room by name.
func (k *Kind) Room(name string) (RoomSpec, bool) {
	i := slices.IndexFunc(k.Rooms, func(r RoomSpec) bool { return r.Name == name })
	if i < 0 {
		return RoomSpec{}, false
	}
	return k.Rooms[i], true
}

// Kinds returns every kind, ordered by name.
func Kinds() []*Kind { return slices.Clone(kinds) }

// KindNamed finds a kind, or says which was meant.
func KindNamed(name string) (*Kind, error) {
	if k, ok := kindByName[name]; ok {
		return k, nil
	}
	return nil, fmt.Errorf("no kind %q; %s", name, Suggest(name, kindNames()))
}

var (
	kinds = sortedKinds(supplyKinds, storageKinds, reservoirKinds, controlKinds, proportionKinds, brakeKinds, trailerKinds,
		auxiliaryKinds, sensingKinds, plumbingKinds)
	kindByName = indexKinds(kinds)
)

func sortedKinds(groups ...[]*Kind) []*Kind {
	all := slices.Concat(groups...)
	slices.SortFunc(all, func(a, b *Kind) int { return strings.Compare(a.Name, b.Name) })
	return all
}

func indexKinds(all []*Kind) map[string]*Kind {
	m := make(map[string]*Kind, len(all))
	for _, k := range all {
		m[k.Name] = k
	}
	return m
}

// valveRooms gives each named air port a room of its own, named like the port.
func valveRooms(ports ...PortSpec) []RoomSpec {
	var rooms []RoomSpec
	for _, p := range ports {
		if p.Medium == Air && !p.Vent && p.Room == p.Name {
			rooms = append(rooms, RoomSpec{Name: p.Name, About: p.About})
		}
	}
	return rooms
}

// airPort is a port of a valve that opens into a room of its own.
func airPort(name, about string) PortSpec {
	return PortSpec{Name: name, Medium: Air, Room: name, About: about}
}

// sparePort is an air port that may be left plugged.
func sparePort(name, room, about string) PortSpec {
	return PortSpec{Name: name, Medium: Air, Room: room, Optional: true, About: about}
}

// ventPort opens to the atmosphere.
func ventPort(name, about string) PortSpec {
	return PortSpec{Name: name, Medium: Air, Room: Atmosphere, Vent: true, About: about}
}
