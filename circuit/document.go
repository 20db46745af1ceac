package circuit

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"
)

// A document is a TOML file as it was written: its sections in order, each key with its place, and between them the
// comments and blank lines, so that saving can leave alone what was not changed. It is never altered after parsing.
//
// Only the TOML that the two formats need is taken apart: a head of keys, [section] and [[section]] headers, strings,
// numbers, lists, and inline tables. What else TOML allows (dates, dotted keys) is parsed, and refused where it is read.
type document struct {
	file     string
	sections []*section // the first is the head, before any header
	end      string     // comments and blank lines after the last key
}

// A section is a header with the keys under it.
type section struct {
	name    string // "component", "sheet.axle"; "" for the head
	array   bool   // written [[name]]
	at      Position
	entries []*entry
	lead    string // lines between what came before and this header
	raw     string // the header's line as written
}

// An entry is one key and its value.
type entry struct {
	key   string
	at    Position
	value value
	lead  string // lines between what came before and this key
	raw   string // the whole line or lines as written, comment included
	from  int    // where in raw the value starts
	to    int    // and ends
}

type valueKind int

const (
	textValue valueKind = iota
	numberValue
	listValue
	tableValue
	otherValue // true, dates: nothing that the formats use
)

// A value is what stands on the right of a key.
type value struct {
	kind   valueKind
	at     Position
	text   string // the text, or the number as written
	number float64
	items  []value
	fields []*entry
}

// entry finds a key.
func (s *section) entry(key string) (*entry, bool) {
	for _, e := range s.entries {
		if e.key == key {
			return e, true
		}
	}
	return nil, false
}

// parser turns byte offsets of one text into places.
type parser struct {
	unstable.Parser
	file  string
	text  []byte
	lines []int // offset of the start of each line
}

// largest file that is read. A vehicle takes some 20 kB; far more is another sort of file, and would only take long.
const largest = 4 << 20

// parseDocument reads TOML. A text that is not TOML gives one problem, since nothing after it can be trusted.
func parseDocument(file string, text []byte) (*document, Problems) {
	if len(text) > largest {
		return nil, Problems{{Position: Position{File: file, Line: 1, Column: 1}, What: fmt.Sprintf("the file is too large: %d bytes", len(text)), Right: fmt.Sprintf("at most %d are read", largest)}}
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	p := &parser{file: file, text: text, lines: []int{0}}
	for i, c := range text {
		if c == '\n' {
			p.lines = append(p.lines, i+1)
		}
	}
	var problems Problems
	if bad := firstBadByte(text); bad >= 0 {
		problems.add(p.position(bad), "", "the file is not text in UTF-8", "save it as UTF-8")
		return nil, problems
	}
	if len(bytes.TrimSpace(text)) == 0 {
		problems.add(Position{File: file, Line: 1, Column: 1}, "", "the file is empty", "")
		return nil, problems
	}
	p.Reset(text)
	doc := &document{file: file}
	current := &section{at: Position{File: file, Line: 1, Column: 1}}
	doc.sections = append(doc.sections, current)
	done := 0 // everything before this offset is stored
	for p.NextExpression() {
		e := p.Expression()
		key := e.Key()
		var names []string
		first, keyEnd := -1, 0
		for key.Next() {
			n := key.Node()
			names = append(names, string(n.Data))
			if first < 0 {
				first = int(n.Raw.Offset)
			}
			keyEnd = int(n.Raw.Offset + n.Raw.Length)
		}
		name := strings.Join(names, ".")
		start := bytes.LastIndexByte(text[:first], '\n') + 1
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			stop := p.lineEnd(keyEnd)
			current = &section{
				name: name, array: e.Kind == unstable.ArrayTable, at: p.position(start + indent(text[start:first])),
				lead: string(text[done:start]), raw: string(text[start:stop]),
			}
			doc.sections = append(doc.sections, current)
			done = min(stop+1, len(text))
		case unstable.KeyValue:
			valueEnd := int(e.Raw.Offset + e.Raw.Length)
			stop := p.lineEnd(valueEnd)
			current.entries = append(current.entries, &entry{
				key: name, at: p.position(first), value: p.value(e.Value(), p.valueStart(keyEnd)),
				lead: string(text[done:start]), raw: string(text[start:stop]), from: p.valueStart(keyEnd) - start, to: valueEnd - start,
			})
			done = min(stop+1, len(text))
		}
	}
	if err := p.Error(); err != nil {
		problems = append(problems, p.syntaxProblem(err))
		return nil, problems
	}
	doc.end = string(text[done:])
	return doc, nil
}

// syntaxProblem words the TOML parser's error.
func (p *parser) syntaxProblem(err error) Problem {
	at, cut := len(p.text), true
	what := err.Error()
	var pe *unstable.ParserError
	if errors.As(err, &pe) {
		// The highlight is a slice of the text, so its capacity tells how far from the end it starts.
		if o := cap(p.text) - cap(pe.Highlight); len(pe.Highlight) > 0 && o >= 0 && o < len(p.text) {
			at = o
			if r, n := utf8.DecodeRune(p.text[o:]); n > 1 {
				what = fmt.Sprintf("%q stands outside quotes", r) // the parser knows bytes only
			}
			cut = len(bytes.TrimSpace(p.text[o:])) <= 1 && o+2 >= len(p.text)
		}
	}
	right := "text stands in quotes, numbers without, lists in [ ], and each key on a line of its own"
	if cut {
		right = "the file seems to be cut off here"
	}
	return Problem{Position: p.position(at), What: "this is not TOML: " + what, Right: right}
}

var plainNumber = regexp.MustCompile(`^[+-]?(0|[1-9](_?[0-9])*)(\.[0-9](_?[0-9])*)?([eE][+-]?[0-9](_?[0-9])*)?$`)

// value copies a node out of the parser, which reuses its nodes. Lists carry no place of their own there.
func (p *parser) value(n *unstable.Node, at int) value {
	if n.Raw.Length > 0 {
		at = int(n.Raw.Offset)
	}
	v := value{kind: otherValue, at: p.position(at), text: string(n.Data)}
	switch n.Kind {
	case unstable.String:
		v.kind = textValue
	case unstable.Integer, unstable.Float:
		if f, err := strconv.ParseFloat(strings.ReplaceAll(v.text, "_", ""), 64); err == nil && plainNumber.MatchString(v.text) {
			v.kind, v.number = numberValue, f
		}
	case unstable.Array:
		v.kind = listValue
		for c := n.Children(); c.Next(); {
			v.items = append(v.items, p.value(c.Node(), at))
		}
	case unstable.InlineTable:
		v.kind = tableValue
		for c := n.Children(); c.Next(); {
			kv := c.Node()
			var names []string
			var first *unstable.Node
			for k := kv.Key(); k.Next(); {
				if first == nil {
					first = k.Node()
				}
				names = append(names, string(k.Node().Data))
			}
			v.fields = append(v.fields, &entry{
				key: strings.Join(names, "."), at: p.position(int(first.Raw.Offset)), value: p.value(kv.Value(), int(first.Raw.Offset)),
			})
		}
	}
	return v
}

// valueStart finds where the value after a key starts.
func (p *parser) valueStart(keyEnd int) int {
	i := keyEnd
	for i < len(p.text) && strings.IndexByte(" \t=", p.text[i]) >= 0 {
		i++
	}
	return i
}

func (p *parser) lineEnd(from int) int {
	if i := bytes.IndexByte(p.text[from:], '\n'); i >= 0 {
		return from + i
	}
	return len(p.text)
}

// position counts columns in characters, as editors do.
func (p *parser) position(offset int) Position {
	lo, hi := 0, len(p.lines)
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; p.lines[mid] <= offset {
			lo = mid
		} else {
			hi = mid
		}
	}
	return Position{File: p.file, Line: lo + 1, Column: utf8.RuneCount(p.text[p.lines[lo]:offset]) + 1}
}

func indent(line []byte) int { return len(line) - len(bytes.TrimLeft(line, " \t")) }

func firstBadByte(text []byte) int {
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && n <= 1 {
			return i
		}
		i += n
	}
	return -1
}
