package circuit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// FormatVersion leads every circuit file: airpath = 1.
const FormatVersion = 1

// Classes of vehicles, which decide which published limits apply.
var Classes = []string{"truck", "bus", "trailer", "combination"}

// Read takes a circuit file apart. The error, if any, is a [Problems] that lists everything found, errors and warnings,
// each with file:line:column; the name is what it calls the file. What is merely unfinished (an open port, a part that
// nothing feeds) does not stop reading: [Check] lists it.
func Read(name string, text []byte) (*Circuit, error) { return ReadIncluding(name, text, nil) }

// ReadIncluding is [Read] for a file that may include others, which load finds.
func ReadIncluding(name string, text []byte, load Loader) (*Circuit, error) {
	doc, problems := parseDocument(name, text)
	if doc == nil {
		return nil, problems
	}
	r := newReader(doc, load, []string{name})
	r.read()
	r.problems = append(r.problems, check(r.circuit, r.unsure, len(r.problems.Errors()) > 0)...)
	r.problems.sort()
	if err := r.problems.Err(); err != nil {
		return nil, err
	}
	return r.circuit, nil
}

// reader fills a circuit from a document.
type reader struct {
	doc      *document
	circuit  *Circuit
	problems Problems
	unsure   map[string]bool // ids whose kind could not be read: nothing can be said about their ports
	load     Loader          // of included files; nil where none can be included
	inside   []string        // this file and those that include it
}

func newReader(doc *document, load Loader, inside []string) *reader {
	return &reader{doc: doc, circuit: &Circuit{source: doc}, unsure: map[string]bool{}, load: load, inside: inside}
}

// sectionNames are the headers that a circuit file may have.
var sectionNames = []string{"include", "engine", "vehicle", "vehicle.axle", "sheet", "sheet.axle", "component", "line"}

// arrays are those of them that stand once for each thing.
var arrays = []string{"include", "vehicle.axle", "sheet.axle", "component", "line"}

func (r *reader) read() {
	if !r.head() {
		return
	}
	single := map[string]*section{}
	for _, s := range r.doc.sections[1:] {
		wantArray := slices.Contains(arrays, s.name)
		switch {
		case !slices.Contains(sectionNames, s.name):
			right := Suggest(s.name, sectionNames)
			if strings.HasPrefix(s.name, "component.") || strings.HasPrefix(s.name, "line.") {
				right = "write parameters as keys of the component itself"
			}
			r.problems.add(s.at, "", fmt.Sprintf("unknown section [%s]", s.name), right)
			continue
		case s.array != wantArray && wantArray:
			r.problems.add(s.at, "", fmt.Sprintf("[%s] is one of several", s.name), fmt.Sprintf("write [[%s]]", s.name))
		case s.array != wantArray:
			r.problems.add(s.at, "", fmt.Sprintf("[[%s]] can stand only once", s.name), fmt.Sprintf("write [%s]", s.name))
		case !wantArray && single[s.name] != nil:
			r.problems.add(s.at, "", fmt.Sprintf("[%s] stands twice, first at line %d", s.name, single[s.name].at.Line), "keep one of them")
			continue
		case s.name == "sheet.axle" && single["sheet"] == nil:
			r.problems.add(s.at, "", "[[sheet.axle]] stands before [sheet]", "move it after")
		case s.name == "vehicle.axle" && single["vehicle"] == nil:
			r.problems.add(s.at, "", "[[vehicle.axle]] stands before [vehicle]", "move it after")
		}
		switch s.name {
		case "include":
			r.include(s)
		case "engine":
			single[s.name] = s
			r.engine(s)
		case "vehicle":
			single[s.name] = s
			r.vehicle(s)
		case "vehicle.axle":
			r.vehicleAxle(s)
		case "sheet":
			single[s.name] = s
			r.sheet(s)
		case "sheet.axle":
			r.axle(s)
		case "component":
			r.component(s)
		case "line":
			r.line(s)
		}
	}
	end := r.doc.sections[0].at
	if r.circuit.Class != "trailer" && single["engine"] == nil && !r.circuit.engineIncluded {
		r.problems.add(end, "", "[engine] is missing", `write [engine] with idle = "700 rpm" and rated = "2000 rpm"`)
	}
	if single["sheet"] == nil {
		r.problems.add(end, "", "[sheet] is missing", "write [sheet] with size = [150, 96]")
	}
}

// head reads what stands before the first section. Without a version that this program knows, nothing else is read.
func (r *reader) head() bool {
	s := r.doc.sections[0]
	f := newFields(&r.problems, "", s.at, s.entries)
	if !readVersion(f, s, "airpath", FormatVersion) {
		return false
	}
	c := r.circuit
	c.Name, _ = f.text("name", true, "gritter")
	if e, ok := s.entry("name"); ok && c.Name != "" && !validID(c.Name) {
		r.problems.add(e.value.at, "", fmt.Sprintf("%q cannot be the name of a circuit", c.Name), idRule(c.Name))
	}
	c.Title, _ = f.text("title", true, "Gritter 7, two-axle 16 t")
	c.Class = f.choice("class", true, Classes)
	c.Notes, _ = f.text("notes", false, "a page about the vehicle")
	f.finish()
	return true
}

// readVersion checks that a file leads with the version of its format.
func readVersion(f *fields, s *section, key string, version int) bool {
	example := fmt.Sprintf("%s = %d", key, version)
	e, ok := s.entry(key)
	switch {
	case !ok:
		f.problems.add(s.at, "", fmt.Sprintf("the version %q is missing", key), "the file starts with "+example)
		return false
	case e.value.kind != numberValue || e.value.number != float64(version):
		f.problems.add(e.value.at, "", fmt.Sprintf("unknown version %s", shown(e.value)), "this program reads "+example)
		return false
	case s.entries[0] != e:
		f.problems.add(e.at, "", "the version is not the first key", "the file starts with "+example)
	}
	f.known = append(f.known, key)
	return true
}

func shown(v value) string {
	switch v.kind {
	case textValue:
		return strconv.Quote(v.text)
	case listValue:
		return "(a list)"
	case tableValue:
		return "(a table)"
	}
	return v.text
}

func (r *reader) engine(s *section) {
	f := newFields(&r.problems, "engine", s.at, s.entries)
	var e *entry
	r.circuit.Engine.Idle, _ = f.quantity("idle", Speed, true, "100 rpm", "3000 rpm")
	r.circuit.Engine.Rated, e = f.quantity("rated", Speed, true, "200 rpm", "10000 rpm")
	if e != nil && r.circuit.Engine.Idle.SI >= r.circuit.Engine.Rated.SI {
		r.problems.add(e.value.at, "engine", `"rated" is not above "idle"`, `"idle" is the lower of the two`)
	}
	f.finish()
}

// Bounds of the drawing in grid steps: far more than any vehicle needs, and few enough to draw.
const (
	sheetMin = 8
	sheetMax = 2000
)

func (r *reader) sheet(s *section) {
	f := newFields(&r.problems, "sheet", s.at, s.entries)
	if size, ok := f.pair("size", true, "[150, 96]", sheetMin, sheetMax); ok {
		r.circuit.Sheet.Width, r.circuit.Sheet.Height = size[0], size[1]
	}
	r.circuit.Sheet.Rails, _ = f.pair("rails", false, "[40, 56]", 0, sheetMax)
	f.finish()
}

func (r *reader) axle(s *section) {
	where := fmt.Sprintf("axle %d", len(r.circuit.Sheet.Axles)+1)
	f := newFields(&r.problems, where, s.at, s.entries)
	var a Axle
	a.Name, _ = f.text("name", true, "front axle")
	a.X, _ = f.number("x", true, "34", 0, sheetMax)
	y, _ := f.pair("y", true, "[10, 86]", 0, sheetMax)
	a.Y0, a.Y1 = y[0], y[1]
	f.finish()
	r.circuit.Sheet.Axles = append(r.circuit.Sheet.Axles, a)
}

// label names a component or line in problems: by id where it has one, else by its number in the file.
func label(what string, s *section, number int) string {
	if e, ok := s.entry("id"); ok && e.value.kind == textValue && e.value.text != "" {
		return fmt.Sprintf("%s %q", what, e.value.text)
	}
	return fmt.Sprintf("%s %d", what, number)
}

func (r *reader) id(f *fields, example string) string {
	id, e := f.text("id", true, example)
	if e != nil && !validID(id) {
		r.problems.add(e.value.at, f.where, fmt.Sprintf("%q cannot be an id", id), idRule(id))
	}
	return id
}

func (r *reader) component(s *section) {
	f := newFields(&r.problems, label("component", s, len(r.circuit.Components)+1), s.at, s.entries)
	c := &Component{Source: s.at, Given: map[string]Quantity{}}
	c.ID = r.id(f, "rear_relay")
	if kind := f.choice("kind", true, kindNames()); kind != "" {
		c.Kind = kindByName[kind]
	}
	c.Name, _ = f.text("name", true, "rear relay valve")
	c.Place = f.choice("place", true, Places)
	at, _ := f.pair("at", true, "[20, 45]", 0, sheetMax)
	c.At = Point{at[0], at[1]}
	turn, e := f.number("turn", false, "0", 0, 3)
	c.Turn = int(turn)
	if e != nil && float64(c.Turn) != turn {
		r.problems.add(e.value.at, f.where, fmt.Sprintf("%q must be a whole number of quarter turns", "turn"), "it can be 0, 1, 2 or 3")
	}
	c.Note, _ = f.text("note", false, "changed last winter")
	if c.Kind == nil {
		r.unsure[c.ID] = true // its other keys can't be judged
	} else {
		for _, p := range c.Kind.Params {
			if q, e := f.quantity(p.Name, p.Dimension, p.Default == "", p.Min, p.Max); e != nil {
				c.Given[p.Name] = q
			}
		}
		f.finish()
	}
	r.circuit.Components = append(r.circuit.Components, c)
}

// Bounds of an air line.
const (
	lengthMin, lengthMax = "0.01 m", "100 m"
	boreMin, boreMax     = "1 mm", "60 mm"
)

func (r *reader) line(s *section) {
	f := newFields(&r.problems, label("line", s, len(r.circuit.Lines)+1), s.at, s.entries)
	l := &Line{Source: s.at}
	l.ID = r.id(f, "discharge_line")
	l.Name, _ = f.text("name", true, "discharge line")
	l.Type = LineType(f.choice("type", true, lineTypeNames()))
	l.From = r.portRef(f, "from", "compressor.2")
	l.To = r.portRef(f, "to", "dryer.1")
	if l.Type == "" || l.Type.Medium() == Air {
		required := l.Type != ""
		l.Length, _ = f.quantity("length", Length, required, lengthMin, lengthMax)
		l.Bore, _ = f.quantity("bore", Length, required, boreMin, boreMax)
	} else {
		for _, key := range []string{"length", "bore"} {
			if e, ok := f.take(key, false, ""); ok {
				r.problems.add(e.at, f.where, fmt.Sprintf("a %s has no %q", l.Type, key), "leave the key out")
			}
		}
	}
	if e, ok := f.take("route", false, ""); ok {
		l.Route = r.route(f, e)
	}
	f.finish()
	r.circuit.Lines = append(r.circuit.Lines, l)
}

func (r *reader) route(f *fields, e *entry) []Point {
	const example = "[[22, 45], [30, 45]]"
	if e.value.kind != listValue {
		r.problems.add(e.value.at, f.where, `"route" must be a list of corners`, "such as route = "+example)
		return nil
	}
	var route []Point
	for _, item := range e.value.items {
		xy, ok := f.pairOf("route", item, example, 0, sheetMax)
		if !ok {
			return nil
		}
		route = append(route, Point{xy[0], xy[1]})
	}
	return route
}

// portRef reads "tank.11"; whether there is such a port is for check to say, when all components are known.
func (r *reader) portRef(f *fields, key, example string) PortRef {
	s, e := f.text(key, true, example)
	if e == nil {
		return PortRef{}
	}
	component, port, ok := strings.Cut(s, ".")
	if !ok || component == "" || port == "" || strings.Contains(port, ".") {
		r.problems.add(e.value.at, f.where, fmt.Sprintf("%q: %q is not a port", key, s), "write component, dot, port, such as "+strconv.Quote(example))
		return PortRef{}
	}
	return PortRef{Component: component, Port: port}
}

// lineTypes in the order in which they are offered.
var lineTypes = []LineType{Tube, Hose, Rod, Wire}

func lineTypeNames() []string {
	names := make([]string, len(lineTypes))
	for i, t := range lineTypes {
		names[i] = string(t)
	}
	return names
}
