package circuit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
)

// fields reads the keys of one section, each once, and at the end complains about every key that nobody asked for.
type fields struct {
	problems *Problems
	where    string
	at       Position
	entries  []*entry
	known    []string // keys asked for, in the order asked
}

// newFields starts on a section or an inline table; a key that stands twice is a problem at once.
func newFields(problems *Problems, where string, at Position, entries []*entry) *fields {
	f := &fields{problems: problems, where: where, at: at}
	first := map[string]*entry{}
	for _, e := range entries {
		if before := first[e.key]; before != nil {
			problems.add(e.at, where, fmt.Sprintf("%q is given twice, first at line %d", e.key, before.at.Line), "keep one of them")
			continue
		}
		first[e.key] = e
		f.entries = append(f.entries, e)
	}
	return f
}

// take finds a key; a missing one is a problem where it is required.
func (f *fields) take(key string, required bool, example string) (*entry, bool) {
	if !slices.Contains(f.known, key) {
		f.known = append(f.known, key)
	}
	for _, e := range f.entries {
		if e.key == key {
			return e, true
		}
	}
	if required {
		f.problems.add(f.at, f.where, fmt.Sprintf("%q is missing", key), "write "+key+" = "+example)
	}
	return nil, false
}

// text reads a string.
func (f *fields) text(key string, required bool, example string) (string, *entry) {
	e, ok := f.take(key, required, strconv.Quote(example))
	if !ok {
		return "", nil
	}
	if e.value.kind != textValue {
		f.problems.add(e.value.at, f.where, fmt.Sprintf("%q must be text in quotes", key), "such as "+key+" = "+strconv.Quote(example))
		return "", nil
	}
	if required && e.value.text == "" {
		f.problems.add(e.value.at, f.where, fmt.Sprintf("%q is empty", key), "such as "+key+" = "+strconv.Quote(example))
		return "", nil
	}
	return e.value.text, e
}

// texts reads a list of strings that may be left out.
func (f *fields) texts(key, example string) []string {
	e, ok := f.take(key, false, example)
	if !ok {
		return nil
	}
	var out []string
	good := e.value.kind == listValue
	for _, v := range e.value.items {
		good = good && v.kind == textValue && v.text != ""
		out = append(out, v.text)
	}
	if !good {
		f.problems.add(e.value.at, f.where, fmt.Sprintf("%q must be a list of texts in quotes", key), "such as "+key+" = "+example)
		return nil
	}
	return out
}

// choice reads a string that must be one of a list.
func (f *fields) choice(key string, required bool, known []string) string {
	s, e := f.text(key, required, known[0])
	if e == nil {
		return ""
	}
	if !slices.Contains(known, s) {
		f.problems.add(e.value.at, f.where, fmt.Sprintf("unknown %s %q", key, s), Suggest(s, known))
		return ""
	}
	return s
}

// number reads a plain number within bounds.
func (f *fields) number(key string, required bool, example string, low, high float64) (float64, *entry) {
	e, ok := f.take(key, required, example)
	if !ok {
		return 0, nil
	}
	if !f.inBounds(key, e.value, example, low, high) {
		return 0, nil
	}
	return e.value.number, e
}

func (f *fields) inBounds(key string, v value, example string, low, high float64) bool {
	if v.kind != numberValue || math.IsInf(v.number, 0) || math.IsNaN(v.number) {
		f.problems.add(v.at, f.where, fmt.Sprintf("%q must be a plain number", key), "such as "+key+" = "+example)
		return false
	}
	if v.number < low || v.number > high {
		f.problems.add(v.at, f.where, fmt.Sprintf("%q is out of range: %v", key, v.text), fmt.Sprintf("it goes from %v to %v", low, high))
		return false
	}
	return true
}

// pair reads a list of two numbers within bounds.
func (f *fields) pair(key string, required bool, example string, low, high float64) ([2]float64, bool) {
	e, ok := f.take(key, required, example)
	if !ok {
		return [2]float64{}, false
	}
	return f.pairOf(key, e.value, example, low, high)
}

func (f *fields) pairOf(key string, v value, example string, low, high float64) ([2]float64, bool) {
	if v.kind != listValue || len(v.items) != 2 {
		f.problems.add(v.at, f.where, fmt.Sprintf("%q must be a list of two numbers", key), "such as "+key+" = "+example)
		return [2]float64{}, false
	}
	if !f.inBounds(key, v.items[0], example, low, high) || !f.inBounds(key, v.items[1], example, low, high) {
		return [2]float64{}, false
	}
	return [2]float64{v.items[0].number, v.items[1].number}, true
}

// quantity reads text such as "35 L" within inclusive bounds.
func (f *fields) quantity(key string, d Dimension, required bool, low, high string) (Quantity, *entry) {
	example := exampleOf(d)
	e, ok := f.take(key, required, strconv.Quote(example))
	if !ok {
		return Quantity{}, nil
	}
	if e.value.kind == numberValue {
		right := "such as " + key + " = " + strconv.Quote(e.value.text+" "+firstUnit(d))
		if firstUnit(d) == "" {
			right = "such as " + key + " = " + strconv.Quote(e.value.text)
		}
		f.problems.add(e.value.at, f.where, fmt.Sprintf("%q needs its unit, in quotes", key), right)
		return Quantity{}, nil
	}
	if e.value.kind != textValue {
		f.problems.add(e.value.at, f.where, fmt.Sprintf("%q must be a %s in quotes", key, d), "such as "+key+" = "+strconv.Quote(example))
		return Quantity{}, nil
	}
	q, err := ParseQuantity(e.value.text, d)
	if err != nil {
		f.problems.add(e.value.at, f.where, fmt.Sprintf("%q: %v", key, err), "")
		return Quantity{}, nil
	}
	if what, right := outOfBounds(key, q, low, high); what != "" {
		f.problems.add(e.value.at, f.where, what, right)
		return Quantity{}, nil
	}
	return q, e
}

// outOfBounds words the breach of a bound, if there is one. A bound itself passes, whatever its unit.
func outOfBounds(key string, q Quantity, low, high string) (what, right string) {
	const slack = 1e-9 // of the bound: "4 in" must pass a bound that was written as "101.6 mm"
	from, to := MustQuantity(low, q.Dimension).SI, MustQuantity(high, q.Dimension).SI
	switch {
	case q.SI < from-slack*math.Abs(from):
		what = fmt.Sprintf("%q is too low: %s", key, q.Text)
	case q.SI > to+slack*math.Abs(to):
		what = fmt.Sprintf("%q is too high: %s", key, q.Text)
	default:
		return "", ""
	}
	return what, "it goes from " + low + " to " + high
}

// finish complains about the keys that nobody asked for. extra are names that may also be written here.
func (f *fields) finish(extra ...string) {
	known := append(slices.Clone(f.known), extra...)
	for _, e := range f.entries {
		if !slices.Contains(known, e.key) {
			f.problems.add(e.at, f.where, fmt.Sprintf("unknown key %q", e.key), Suggest(e.key, known))
		}
	}
}
