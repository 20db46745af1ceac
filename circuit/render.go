package circuit

import (
	"slices"
	"strconv"
	"strings"
)

// # Saving without losing what a person wrote
//
// A writer says what the file should hold: sections with keys and values, in order. Where the text that was read already
// says the same, it is left as it is, letter by letter; only what differs is written anew. So comments, blank lines, the
// order of keys, alignment, and the person's own units survive an edit in the window.

// A wanted section is one that the file should have.
type wanted struct {
	name    string
	array   bool
	was     *section // the section that it was read from, if any
	entries []wantedEntry
	follows *wanted // where it is new: it comes after this one, whatever its name; nil where only its own kind matters
}

type wantedEntry struct {
	key   string
	value value
	plain bool // says nothing: only written where the file has the key already
}

// render writes the sections: the head first, then as close to the order of the document as the order among sections of
// one name allows. doc is nil for a new file. ranks orders the names of sections that have no place yet.
func render(doc *document, sections []*wanted, ranks []string) []byte {
	var b strings.Builder
	carry := "" // comments of what was dropped, which stand by themselves
	var was []*section
	if doc != nil {
		was = doc.sections
	}
	order := arrange(was, sections, ranks)
	next := 0 // in was: sections before it are written or dropped
	for i, w := range order {
		if w.was != nil {
			for j := next; j < len(was); j++ {
				if was[j] == w.was {
					next = j + 1
					break
				}
				if !slices.ContainsFunc(order, func(o *wanted) bool { return o.was == was[j] }) {
					carry += standing(was[j].lead)
					next = j + 1
				}
			}
		}
		b.WriteString(carry)
		carry = ""
		switch {
		case w.was != nil && i > 0:
			b.WriteString(w.was.lead + w.was.raw + "\n")
		case w.name != "":
			if b.Len() > 0 {
				b.WriteString("\n")
			}
			if w.array {
				b.WriteString("[[" + w.name + "]]\n")
			} else {
				b.WriteString("[" + w.name + "]\n")
			}
		}
		w.render(&b)
	}
	for ; next < len(was); next++ {
		if !slices.ContainsFunc(order, func(o *wanted) bool { return o.was == was[next] }) {
			carry += standing(was[next].lead)
		}
	}
	b.WriteString(carry)
	if doc != nil {
		b.WriteString(doc.end)
	}
	return []byte(strings.TrimRight(b.String(), "\n") + "\n")
}

// arrange puts the wanted sections into the order of the file. Sections of one name keep the order in which they are
// wanted; each new one follows the one wanted before it.
func arrange(was []*section, sections []*wanted, ranks []string) []*wanted {
	rank := func(name string) int { return slices.Index(ranks, name) }
	kept := map[string][]*wanted{}
	matched := map[*section]bool{}
	for _, w := range sections {
		if w.was != nil {
			kept[w.name] = append(kept[w.name], w)
			matched[w.was] = true
		}
	}
	var out []*wanted
	for _, s := range was {
		if matched[s] {
			out = append(out, kept[s.name][0])
			kept[s.name] = kept[s.name][1:]
		}
	}
	last := map[string]*wanted{} // the one wanted before, by name
	for _, w := range sections {
		if w.was == nil {
			out = slices.Insert(out, place(out, w, last[w.name], rank), w)
		}
		last[w.name] = w
	}
	return out
}

// place finds where a new section goes: after the one of its name wanted before it, and after the one that it follows.
func place(out []*wanted, w, before *wanted, rank func(string) int) int {
	if at := max(slices.Index(out, before), slices.Index(out, w.follows)) + 1; at > 0 {
		return at
	}
	if i := slices.IndexFunc(out, func(o *wanted) bool { return o.name == w.name }); i >= 0 {
		return i
	}
	at := 0
	for i, o := range out {
		if rank(o.name) <= rank(w.name) {
			at = i + 1
		}
	}
	return at
}

// standing keeps of the lines before something those comments that stand by themselves, with a blank line after them.
// A comment right above a key or header belongs to it, and goes with it.
func standing(lead string) string {
	i := strings.LastIndex(lead, "\n\n")
	if i < 0 || strings.TrimSpace(lead[:i]) == "" {
		return ""
	}
	return lead[:i+1]
}

// render writes the keys of one section.
func (w *wanted) render(b *strings.Builder) {
	var out []string
	at := map[string]int{} // where in out a key stands
	carry := ""
	if w.was != nil {
		for _, e := range w.was.entries {
			i := slices.IndexFunc(w.entries, func(x wantedEntry) bool { return x.key == e.key })
			if i < 0 {
				carry += standing(e.lead)
				continue
			}
			text := e.raw
			if !sameValue(e.value, w.entries[i].value) {
				text = e.raw[:e.from] + encode(w.entries[i].value) + e.raw[e.to:]
			}
			at[e.key] = len(out)
			out = append(out, carry+e.lead+text+"\n")
			carry = ""
		}
	}
	before := -1 // where the key wanted before stands
	for _, e := range w.entries {
		if i, ok := at[e.key]; ok {
			before = i
			continue
		}
		if e.plain {
			continue
		}
		before++
		out = slices.Insert(out, before, e.key+" = "+encode(e.value)+"\n")
		for key, i := range at {
			if i >= before {
				at[key] = i + 1
			}
		}
		at[e.key] = before
	}
	for _, text := range out {
		b.WriteString(text)
	}
	b.WriteString(carry)
}

// sameValue compares what two values say, not how they are written.
func sameValue(a, b value) bool {
	if a.kind != b.kind || len(a.items) != len(b.items) || len(a.fields) != len(b.fields) {
		return false
	}
	switch a.kind {
	case textValue:
		return a.text == b.text
	case numberValue:
		return a.number == b.number
	}
	for i := range a.items {
		if !sameValue(a.items[i], b.items[i]) {
			return false
		}
	}
	for _, f := range a.fields {
		i := slices.IndexFunc(b.fields, func(g *entry) bool { return g.key == f.key })
		if i < 0 || !sameValue(f.value, b.fields[i].value) {
			return false
		}
	}
	return true
}

// encode writes a value as TOML.
func encode(v value) string {
	switch v.kind {
	case textValue:
		return encodeText(v.text)
	case numberValue:
		return strconv.FormatFloat(v.number, 'f', -1, 64)
	case listValue:
		parts := make([]string, len(v.items))
		for i, item := range v.items {
			parts[i] = encode(item)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case tableValue:
		parts := make([]string, len(v.fields))
		for i, f := range v.fields {
			parts[i] = f.key + " = " + encode(f.value)
		}
		return "{ " + strings.Join(parts, ", ") + " }"
	}
	return v.text
}

// encodeText writes a string: over several lines where it has any, on one line else.
func encodeText(s string) string {
	s = strings.ToValidUTF8(s, "\ufffd")
	long := strings.Contains(s, "\n")
	var b strings.Builder
	if long {
		b.WriteString("\"\"\"\n")
	} else {
		b.WriteByte('"')
	}
	quotes := 0
	for i, r := range s {
		switch {
		case r == '"' && (!long || quotes == 2 || i == len(s)-1):
			b.WriteString(`\"`)
			quotes = 0
			continue
		case r == '\\':
			b.WriteString(`\\`)
		case r == '\n' && long, r == '\t':
			b.WriteRune(r)
		case r < 0x20 || r == 0x7f:
			b.WriteString(`\u` + hex4(r))
		default:
			b.WriteRune(r)
		}
		if r == '"' {
			quotes++
		} else {
			quotes = 0
		}
	}
	if long {
		b.WriteString("\"\"\"")
	} else {
		b.WriteByte('"')
	}
	return b.String()
}

func hex4(r rune) string {
	s := strconv.FormatInt(int64(r), 16)
	return strings.Repeat("0", 4-len(s)) + s
}

// Values to be written.
func textOf(s string) value    { return value{kind: textValue, text: s} }
func numberOf(f float64) value { return value{kind: numberValue, number: f} }
func listOf(items ...value) value {
	return value{kind: listValue, items: items}
}
func pairOf(x, y float64) value { return listOf(numberOf(x), numberOf(y)) }

// key is an entry that must be written; maybe is one that is left out where it says nothing and the file lacks it.
func key(name string, v value) wantedEntry { return wantedEntry{key: name, value: v} }
func maybe(name string, v value, says bool) wantedEntry {
	return wantedEntry{key: name, value: v, plain: !says}
}
