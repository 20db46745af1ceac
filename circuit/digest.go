package circuit

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
)

// digestLength is the number of hexadecimal digits for one id: a case is to be told that its circuit was edited, not to be
// kept from forgery.
const digestLength = 8

// Digest sums up what matters to some components and lines: kinds, the parameters that differ from the kind's own, and
// what is fastened to which port; not layout, names, places or notes. It has one part for each id that the circuit has,
// "dryer:0a1b2c3d", sorted, so that it can be said which of them changed.
func (c *Circuit) Digest(ids ...string) string {
	ids = slices.Clone(ids)
	slices.Sort(ids)
	var parts []string
	for _, id := range slices.Compact(ids) {
		var matters string
		if comp := c.Component(id); comp != nil {
			matters = c.componentMatters(comp)
		} else if l := c.Line(id); l != nil {
			matters = l.matters()
		} else {
			continue
		}
		sum := sha256.Sum256([]byte(matters))
		parts = append(parts, id+":"+hex.EncodeToString(sum[:])[:digestLength])
	}
	return strings.Join(parts, " ")
}

func (c *Circuit) componentMatters(comp *Component) string {
	if comp.Kind == nil {
		return "no kind"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "kind %s\n", comp.Kind.Name)
	for _, p := range comp.Kind.Params {
		q, given := comp.Given[p.Name]
		if !given {
			continue
		}
		// Nine digits, so that the same value in another unit is the same value.
		value := fmt.Sprintf("%.9g", q.SI)
		if p.Default == "" || value != fmt.Sprintf("%.9g", MustQuantity(p.Default, p.Dimension).SI) {
			fmt.Fprintf(&b, "%s %s\n", p.Name, value)
		}
	}
	for _, p := range comp.Kind.Ports {
		port := PortRef{comp.ID, p.Name}
		if l := c.LineAt(port); l != nil {
			fmt.Fprintf(&b, "port %s by %s to %s\n", p.Name, l.ID, l.Other(port))
		}
	}
	return b.String()
}

func (l *Line) matters() string {
	return fmt.Sprintf("%s from %s to %s, %.9g long, %.9g wide", l.Type, l.From, l.To, l.Length.SI, l.Bore.SI)
}
