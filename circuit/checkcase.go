package circuit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// CheckCase says what of a case does not fit a circuit: another circuit's name, ids that it lacks, and ids whose part has
// been changed since the case was written.
func CheckCase(k *Case, c *Circuit) Problems {
	var problems Problems
	at := k.at("circuit", k.Source)
	isPath := strings.ContainsAny(k.Circuit, `/\`) || strings.HasSuffix(k.Circuit, ".toml")
	if !isPath && k.Circuit != c.Name {
		problems.add(at, "", fmt.Sprintf("this case is about the circuit %q, not %q", k.Circuit, c.Name), "open it with its own circuit")
		return problems
	}
	for _, f := range k.Findings {
		id, port := f.Target()
		if id == "" {
			continue
		}
		place, where := f.at(k, "place"), fmt.Sprintf("finding %q", f.ID)
		comp := c.Component(id)
		switch {
		case comp == nil && c.Line(id) == nil:
			problems.add(place, where, fmt.Sprintf("the circuit %q has no component or line %q", c.Name, id), Suggest(id, c.ids()))
		case comp == nil && port != "":
			problems.add(place, where, fmt.Sprintf("%q is a line, which has no ports", id), fmt.Sprintf("write the place as %q", id))
		case comp != nil && port != "" && comp.Kind != nil:
			if _, ok := comp.Kind.Port(port); !ok {
				var names []string
				for _, p := range comp.Kind.Ports {
					names = append(names, p.Name)
				}
				problems.add(place, where, fmt.Sprintf("%s has no port %q", withArticle(comp.Kind.Title), port), Suggest(port, names))
			}
		}
	}
	checkRepairsFit(&problems, k, c)
	var changed []string
	for _, part := range strings.Fields(k.Digest) {
		id, _, _ := strings.Cut(part, ":")
		if now := c.Digest(id); now != "" && now != part {
			changed = append(changed, strconv.Quote(id))
		}
	}
	if slices.Sort(changed); len(changed) > 0 {
		problems.warn(k.at("digest", k.Source), "", "the circuit has changed since this case was written: "+strings.Join(changed, ", "),
			"look whether the findings still hold, then save the case again")
	}
	problems.sort()
	return problems
}

// at finds where a key of the case's head stands.
func (k *Case) at(key string, fallback Position) Position {
	if k.source == nil {
		return fallback
	}
	if e, ok := k.source.sections[0].entry(key); ok {
		return e.value.at
	}
	return fallback
}

// at finds where a key of a finding stands.
func (f Finding) at(k *Case, key string) Position { return sourceOf(k, f.Source, key) }

// sourceOf finds where a key stands in the section that begins somewhere.
func sourceOf(k *Case, section Position, key string) Position {
	if k.source == nil {
		return section
	}
	for _, s := range k.source.sections[1:] {
		if e, ok := s.entry(key); ok && s.at == section {
			return e.value.at
		}
	}
	return section
}
