package circuit

import (
	"fmt"
	"slices"
)

// A Vehicle is what a circuit's brakes have to stop: masses and axles. A circuit need not tell it; without, no brake force
// can be set against a load.
type Vehicle struct {
	Mass         Quantity // Mass, laden
	TyreRadius   Quantity // Length, under load
	CentreHeight Quantity // Length, of the laden vehicle's centre of mass above the road; SI 0 where not given
	Axles        []VehicleAxle
}

// A VehicleAxle carries a share of the vehicle and has up to two brakes.
type VehicleAxle struct {
	Name   string   // "rear axle"
	Role   string   // one of AxleRoles
	Load   Quantity // Mass, of the laden vehicle standing on level ground
	Rating Quantity // Mass, the most that the axle is made for (GAWR); SI 0 where not given: then it is the load
	Behind Quantity // Length, behind the first axle; SI 0 where not given
	Left   string   // id of the brake on the left; "" for none
	Right  string   // id of the brake on the right; "" for none
}

// AxleRoles are what an axle can be: steered, driven, or neither.
var AxleRoles = []string{"steered", "driven", "carried"}

// Known tells whether the file has a [vehicle] table.
func (v Vehicle) Known() bool { return v.Mass.Text != "" || v.Mass.SI > 0 || len(v.Axles) > 0 }

// RatingOrLoad is the axle's rating in kg, or where none is given its load.
func (a VehicleAxle) RatingOrLoad() float64 {
	if a.Rating.SI > 0 {
		return a.Rating.SI
	}
	return a.Load.SI
}

// Bounds of a vehicle's numbers.
const (
	massMin, massMax     = "100 kg", "200 t"
	tyreMin, tyreMax     = "0.15 m", "1 m"
	heightMin, heightMax = "0.1 m", "4 m"
	behindMin, behindMax = "0 m", "30 m"
)

func (r *reader) vehicle(s *section) {
	f := newFields(&r.problems, "vehicle", s.at, s.entries)
	v := &r.circuit.Vehicle
	v.Mass, _ = f.quantity("mass", Mass, true, massMin, massMax)
	v.TyreRadius, _ = f.quantity("tyre_radius", Length, true, tyreMin, tyreMax)
	v.CentreHeight, _ = f.quantity("centre_height", Length, false, heightMin, heightMax)
	f.finish()
}

func (r *reader) vehicleAxle(s *section) {
	axles := &r.circuit.Vehicle.Axles
	f := newFields(&r.problems, axleName(len(*axles)), s.at, s.entries)
	var a VehicleAxle
	a.Name, _ = f.text("name", true, "rear axle")
	a.Role = f.choice("role", true, AxleRoles)
	a.Load, _ = f.quantity("load", Mass, true, massMin, massMax)
	a.Rating, _ = f.quantity("rating", Mass, false, massMin, massMax)
	a.Behind, _ = f.quantity("behind", Length, false, behindMin, behindMax)
	a.Left, _ = f.text("left", false, "rear_left_brake")
	a.Right, _ = f.text("right", false, "rear_right_brake")
	f.finish()
	*axles = append(*axles, a)
}

func axleName(i int) string { return fmt.Sprintf("vehicle axle %d", i+1) }

// sections of the file that tell of the vehicle.
func (v Vehicle) sections(m *matcher) []*wanted {
	if !v.Known() {
		return nil
	}
	out := []*wanted{{name: "vehicle", was: m.next("vehicle"), entries: []wantedEntry{
		key("mass", quantityOf(v.Mass)), key("tyre_radius", quantityOf(v.TyreRadius)),
		maybe("centre_height", quantityOf(v.CentreHeight), v.CentreHeight.SI > 0),
	}}}
	for _, a := range v.Axles {
		out = append(out, &wanted{name: "vehicle.axle", array: true, was: m.next("vehicle.axle"), entries: []wantedEntry{
			key("name", textOf(a.Name)), key("role", textOf(a.Role)), key("load", quantityOf(a.Load)),
			maybe("rating", quantityOf(a.Rating), a.Rating.SI > 0), maybe("behind", quantityOf(a.Behind), a.Behind.SI > 0),
			maybe("left", textOf(a.Left), a.Left != ""), maybe("right", textOf(a.Right), a.Right != ""),
		}})
	}
	return out
}

func vehicleSchema(id, text object) object {
	return object{
		"type": "object", "required": []string{"mass", "tyre_radius"}, "additionalProperties": false,
		"properties": object{
			"mass":          quantitySchema(Mass, "laden, from "+massMin+" to "+massMax),
			"tyre_radius":   quantitySchema(Length, "under load, from "+tyreMin+" to "+tyreMax),
			"centre_height": quantitySchema(Length, "of the centre of mass above the road, laden, from "+heightMin+" to "+heightMax),
			"axle": object{"type": "array", "items": object{
				"type": "object", "required": []string{"name", "role", "load"}, "additionalProperties": false,
				"properties": object{
					"name":   text,
					"role":   object{"enum": AxleRoles},
					"load":   quantitySchema(Mass, "carried on level ground, from "+massMin+" to "+massMax),
					"rating": quantitySchema(Mass, "the most that the axle is made for; the load where not given"),
					"behind": quantitySchema(Length, "behind the first axle, from "+behindMin+" to "+behindMax),
					"left":   id, "right": id,
				},
			}},
		},
	}
}

// vehicle looks at the axles: that their brakes are there, each once, and that they carry no more than there is.
func (k *checker) vehicle() {
	v := k.circuit.Vehicle
	if !v.Known() {
		return
	}
	sum, behind := 0.0, 0.0
	taken := map[string]int{}
	for i, a := range v.Axles {
		at, where := k.atAxle(i, ""), axleName(i)
		for _, side := range []struct{ key, id string }{{"left", a.Left}, {"right", a.Right}} {
			if side.id == "" {
				continue
			}
			at := k.atAxle(i, side.key)
			comp := k.circuit.Component(side.id)
			before, twice := taken[side.id]
			switch {
			case comp == nil:
				k.problems.add(at, where, fmt.Sprintf("%q names %q, and there is no such component", side.key, side.id), Suggest(side.id, k.brakes()))
			case comp.Kind != nil && !isBrake(comp.Kind):
				k.problems.add(at, where, fmt.Sprintf("%q names %q, which is %s", side.key, side.id, withArticle(comp.Kind.Title)), "name the brake itself, what the cam turns")
			case twice:
				k.problems.add(at, where, fmt.Sprintf("%q names %q, which is on axle %d already", side.key, side.id, before+1), "a brake sits at one wheel")
			}
			taken[side.id] = i
		}
		if i > 0 && a.Behind.SI <= behind {
			k.problems.add(at, where, "it is not behind the axle before it", `"behind" is the distance from the first axle, and axles are told from the front`)
		}
		behind = a.Behind.SI
		sum += a.Load.SI
	}
	const slack = 1.01 // loads are rounded
	if sum > slack*v.Mass.SI && v.Mass.SI > 0 {
		k.problems.warn(k.atAxle(-1, "mass"), "vehicle", fmt.Sprintf("its axles carry %.0f kg, more than its mass of %.0f kg", sum, v.Mass.SI), "the loads are those of the laden vehicle at rest")
	}
	for _, id := range k.brakes() {
		if _, ok := taken[id]; !ok {
			k.problems.warn(k.circuit.Component(id).Source, fmt.Sprintf("component %q", id), "no axle of the vehicle names this brake", `write it as "left" or "right" of a [[vehicle.axle]]`)
		}
	}
}

// isBrake knows a brake by what turns it.
func isBrake(k *Kind) bool {
	p, ok := k.Port("cam")
	return ok && p.Medium == Motion && !p.Optional
}

func (k *checker) brakes() []string {
	var ids []string
	for _, c := range k.circuit.Components {
		if c.Kind != nil && isBrake(c.Kind) {
			ids = append(ids, c.ID)
		}
	}
	return ids
}

// atAxle finds where a key of an axle, or of the vehicle itself for -1, stands in the file.
func (k *checker) atAxle(axle int, key string) Position {
	if k.circuit.source == nil {
		return Position{}
	}
	name := "vehicle.axle"
	if axle < 0 {
		name = "vehicle"
	}
	of := slices.DeleteFunc(slices.Clone(k.circuit.source.sections), func(s *section) bool { return s.name != name })
	if axle = max(axle, 0); axle >= len(of) {
		return Position{File: k.circuit.source.file, Line: 1, Column: 1}
	}
	if e, ok := of[axle].entry(key); ok {
		return e.value.at
	}
	return of[axle].at
}
