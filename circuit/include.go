package circuit

import (
	"fmt"
	"slices"
	"strings"
)

// # One file in another
//
// A combination of vehicles is written as a file that includes the files of its vehicles. Every id of an included file gets
// a prefix, every place on its sheet is moved by an offset, and a part that stands for the open end of the vehicle (half of a
// coupling) may be left out, with the lines on it joined to a part of the including file instead.

// An Include is one vehicle's file inside another's.
type Include struct {
	File   string // as written: a name that the [Loader] knows
	Prefix string // of its ids: "tractor" makes "tractor_tank"
	At     Point  // what its sheet is moved by
	Joins  []Join
	Source Position
}

// A Join takes the lines on a port of an included part to a port of the including file. The part is left out.
type Join struct {
	Port, To PortRef // Port with the ids of the included file, To with those of the including one
}

// A Loader finds the text of a file that another one includes. The name it gives is what problems call it.
type Loader func(file string) (name string, text []byte, err error)

// mostIncludes bounds how deep files may include one another.
const mostIncludes = 4

// include reads one [[include]] section and takes over what its file holds.
func (r *reader) include(s *section) {
	where := fmt.Sprintf("include %d", len(r.circuit.Includes)+1)
	f := newFields(&r.problems, where, s.at, s.entries)
	inc := Include{Source: s.at}
	file, e := f.text("file", true, "tractor")
	inc.File = file
	var prefix *entry
	inc.Prefix, prefix = f.text("prefix", true, "tractor")
	if prefix != nil && !validID(inc.Prefix) {
		r.problems.add(prefix.value.at, where, fmt.Sprintf("%q cannot be a prefix", inc.Prefix), idRule(inc.Prefix))
		prefix = nil
	}
	at, _ := f.pair("at", false, "[150, 0]", 0, sheetMax)
	inc.At = Point{at[0], at[1]}
	if j, ok := f.take("join", false, ""); ok {
		inc.Joins = r.joins(where, j)
	}
	f.finish()
	r.circuit.Includes = append(r.circuit.Includes, inc)
	if e == nil || prefix == nil {
		return
	}
	if r.load == nil {
		r.problems.add(e.value.at, where, "another file can't be included here", "read it with the files that it includes")
		return
	}
	name, text, err := r.load(file)
	if err != nil {
		r.problems.add(e.value.at, where, err.Error(), "")
		return
	}
	switch {
	case slices.Contains(r.inside, name):
		r.problems.add(e.value.at, where, fmt.Sprintf("%s includes itself", name), "")
		return
	case len(r.inside) >= mostIncludes:
		r.problems.add(e.value.at, where, "files include one another too deep", fmt.Sprintf("at most %d inside one another", mostIncludes))
		return
	}
	doc, problems := parseDocument(name, text)
	if doc == nil {
		r.problems = append(r.problems, problems...)
		return
	}
	sub := newReader(doc, r.load, append(slices.Clone(r.inside), name))
	sub.read()
	r.problems = append(r.problems, sub.problems...)
	r.takeOver(sub, inc, where, e.value.at)
}

// joins reads a list of pairs of ports.
func (r *reader) joins(where string, e *entry) []Join {
	const example = `[["gladhand_supply.1", "couplings.11"]]`
	var joins []Join
	ok := e.value.kind == listValue
	for _, pair := range e.value.items {
		if ok = ok && pair.kind == listValue && len(pair.items) == 2; !ok {
			break
		}
		var ports [2]PortRef
		for i, v := range pair.items {
			component, port, cut := strings.Cut(v.text, ".")
			ok = ok && v.kind == textValue && cut && component != "" && port != ""
			ports[i] = PortRef{component, port}
		}
		joins = append(joins, Join{ports[0], ports[1]})
	}
	if !ok {
		r.problems.add(e.value.at, where, `"join" must be a list of pairs of ports`, "such as join = "+example)
		return nil
	}
	return joins
}

// takeOver moves the parts of an included file into the circuit that is being read.
func (r *reader) takeOver(sub *reader, inc Include, where string, at Position) {
	c := r.circuit
	if c.Engine == (Engine{}) {
		c.Engine, c.engineIncluded = sub.circuit.Engine, sub.circuit.Engine != (Engine{})
	}
	for _, a := range sub.circuit.Sheet.Axles {
		a.X, a.Y0, a.Y1, a.Included = a.X+inc.At.X, a.Y0+inc.At.Y, a.Y1+inc.At.Y, true
		c.Sheet.Axles = append(c.Sheet.Axles, a)
	}
	if s := sub.circuit.Sheet; len(s.Frames) > 0 {
		for _, f := range s.Frames {
			c.Sheet.Frames = append(c.Sheet.Frames, f.moved(inc.At))
		}
	} else if s.Rails != [2]float64{} {
		c.Sheet.Frames = append(c.Sheet.Frames, Frame{0, s.Width, s.Rails}.moved(inc.At))
	}
	own := func(id string) string { return inc.Prefix + "_" + id }
	var left []string // parts that a join leaves out
	to := map[PortRef]PortRef{}
	for _, j := range inc.Joins {
		if sub.circuit.Component(j.Port.Component) == nil {
			r.problems.add(at, where, fmt.Sprintf("%s has no component %q to join", inc.File, j.Port.Component), Suggest(j.Port.Component, sub.circuit.ids()))
			continue
		}
		left = append(left, j.Port.Component)
		to[j.Port] = j.To
	}
	for _, part := range sub.circuit.Components {
		if slices.Contains(left, part.ID) {
			continue
		}
		part.ID, part.Included = own(part.ID), true
		part.At = Point{part.At.X + inc.At.X, part.At.Y + inc.At.Y}
		c.Components = append(c.Components, part)
	}
	for _, l := range sub.circuit.Lines {
		for _, end := range []*PortRef{&l.From, &l.To} {
			if joined, ok := to[*end]; ok {
				*end = joined
			} else if end.Component != "" {
				end.Component = own(end.Component)
			}
		}
		l.ID, l.Included = own(l.ID), true
		for i := range l.Route {
			l.Route[i] = Point{l.Route[i].X + inc.At.X, l.Route[i].Y + inc.At.Y}
		}
		c.Lines = append(c.Lines, l)
	}
	for id := range sub.unsure {
		r.unsure[own(id)] = true
	}
}

func (f Frame) moved(by Point) Frame {
	return Frame{f.X0 + by.X, f.X1 + by.X, [2]float64{f.Rails[0] + by.Y, f.Rails[1] + by.Y}}
}

// entries of the section that the include is written as.
func (inc Include) entries() []wantedEntry {
	joins := listOf()
	for _, j := range inc.Joins {
		pair := listOf()
		pair.items = append(pair.items, textOf(j.Port.String()), textOf(j.To.String()))
		joins.items = append(joins.items, pair)
	}
	return []wantedEntry{
		key("file", textOf(inc.File)), key("prefix", textOf(inc.Prefix)), maybe("at", pairOf(inc.At.X, inc.At.Y), inc.At != Point{}),
		maybe("join", joins, len(inc.Joins) > 0),
	}
}
