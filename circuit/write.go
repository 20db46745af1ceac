package circuit

// Write gives the text of a circuit's file. Reading it again gives the same circuit. A circuit that was read keeps the
// comments, order and units of its file wherever they still fit; see render.go.
func Write(c *Circuit) []byte {
	m := newMatcher(c.source)
	sections := []*wanted{{
		was: m.head(),
		entries: []wantedEntry{
			key("airpath", numberOf(FormatVersion)), key("name", textOf(c.Name)), key("title", textOf(c.Title)), key("class", textOf(c.Class)),
			maybe("notes", textOf(c.Notes), c.Notes != ""),
		},
	}}
	for _, inc := range c.Includes {
		sections = append(sections, &wanted{name: "include", array: true, was: m.next("include"), entries: inc.entries()})
	}
	if engine := m.next("engine"); engine != nil || c.Engine != (Engine{}) && !c.engineIncluded {
		sections = append(sections, &wanted{name: "engine", was: engine, entries: []wantedEntry{
			key("idle", quantityOf(c.Engine.Idle)), key("rated", quantityOf(c.Engine.Rated)),
		}})
	}
	sections = append(sections, c.Vehicle.sections(m)...)
	s := c.Sheet
	sections = append(sections, &wanted{name: "sheet", was: m.next("sheet"), entries: []wantedEntry{
		key("size", pairOf(s.Width, s.Height)), maybe("rails", pairOf(s.Rails[0], s.Rails[1]), s.Rails != [2]float64{}),
	}})
	for _, a := range s.Axles {
		if a.Included {
			continue
		}
		sections = append(sections, &wanted{name: "sheet.axle", array: true, was: m.next("sheet.axle"), entries: []wantedEntry{
			key("name", textOf(a.Name)), key("x", numberOf(a.X)), key("y", pairOf(a.Y0, a.Y1)),
		}})
	}
	var parts []*Component
	var lines []*Line
	for _, comp := range c.Components {
		if comp.Included {
			continue
		}
		parts = append(parts, comp)
		sections = append(sections, &wanted{name: "component", array: true, was: m.byID("component", comp.ID), entries: comp.entries()})
	}
	for _, l := range c.Lines {
		if l.Included {
			continue
		}
		lines = append(lines, l)
		sections = append(sections, &wanted{name: "line", array: true, was: m.byID("line", l.ID), entries: l.entries()})
	}
	// What was renamed is found by its place in the file, once everything that kept its id has been found.
	for i, comp := range parts {
		m.renamed(sections[len(sections)-len(lines)-len(parts)+i], comp.Source)
	}
	for i, l := range lines {
		m.renamed(sections[len(sections)-len(lines)+i], l.Source)
	}
	return render(c.source, sections, []string{"", "include", "engine", "vehicle", "vehicle.axle", "sheet", "sheet.axle", "component", "line"})
}

func (c *Component) entries() []wantedEntry {
	kind := ""
	if c.Kind != nil {
		kind = c.Kind.Name
	}
	out := []wantedEntry{
		key("id", textOf(c.ID)), key("kind", textOf(kind)), key("name", textOf(c.Name)), key("place", textOf(c.Place)),
		key("at", pairOf(c.At.X, c.At.Y)), maybe("turn", numberOf(float64(c.Turn)), c.Turn != 0), maybe("note", textOf(c.Note), c.Note != ""),
	}
	if c.Kind == nil {
		return out
	}
	for _, p := range c.Kind.Params {
		if q, ok := c.Given[p.Name]; ok {
			out = append(out, key(p.Name, quantityOf(q)))
		}
	}
	return out
}

func (l *Line) entries() []wantedEntry {
	out := []wantedEntry{
		key("id", textOf(l.ID)), key("name", textOf(l.Name)), key("type", textOf(string(l.Type))),
		key("from", textOf(l.From.String())), key("to", textOf(l.To.String())),
	}
	if l.Type.Medium() == Air {
		out = append(out, key("length", quantityOf(l.Length)), key("bore", quantityOf(l.Bore)))
	}
	route := listOf()
	for _, p := range l.Route {
		route.items = append(route.items, pairOf(p.X, p.Y))
	}
	return append(out, maybe("route", route, len(l.Route) > 0))
}

// quantityOf keeps the person's own unit.
func quantityOf(q Quantity) value { return textOf(q.exactText()) }

// A matcher finds the sections of a document that wanted ones were read from, each once.
type matcher struct {
	doc  *document
	used map[*section]bool
}

func newMatcher(doc *document) *matcher { return &matcher{doc: doc, used: map[*section]bool{}} }

func (m *matcher) first(fits func(*section) bool) *section {
	if m.doc == nil {
		return nil
	}
	for _, s := range m.doc.sections {
		if !m.used[s] && fits(s) {
			m.used[s] = true
			return s
		}
	}
	return nil
}

func (m *matcher) head() *section { return m.first(func(s *section) bool { return s.name == "" }) }

func (m *matcher) next(name string) *section {
	return m.first(func(s *section) bool { return s.name == name })
}

func (m *matcher) byID(name, id string) *section {
	return m.first(func(s *section) bool {
		e, ok := s.entry("id")
		return s.name == name && ok && e.value.kind == textValue && e.value.text == id
	})
}

func (m *matcher) renamed(w *wanted, source Position) {
	if w.was == nil && source.Line > 0 {
		w.was = m.first(func(s *section) bool { return s.name == w.name && s.at == source })
	}
}
