package circuit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A Problem is one thing that is wrong with a file or a circuit: where, what, and what would be right.
type Problem struct {
	Position
	Where   string // the part of the file in the person's words: `component "dryer"`; may be empty
	What    string // "unknown kind \"air-drier\""
	Right   string // "did you mean \"air-dryer\"?"; may be empty
	Warning bool   // the circuit can be used as it is, but is not what a finished vehicle should be
}

// Error prints the problem as file:line:column: where: what; right.
func (p Problem) Error() string {
	var b strings.Builder
	if p.Position != (Position{}) {
		b.WriteString(p.Position.String() + ": ")
	}
	if p.Warning {
		b.WriteString("warning: ")
	}
	if p.Where != "" {
		b.WriteString(p.Where + ": ")
	}
	b.WriteString(p.What)
	if p.Right != "" {
		b.WriteString("; " + p.Right)
	}
	return b.String()
}

// Problems is the error that readers return: everything that was found, in the order of the file.
type Problems []Problem

// Error prints one problem a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Errors are the problems that are more than warnings.
func (ps Problems) Errors() Problems {
	var out Problems
	for _, p := range ps {
		if !p.Warning {
			out = append(out, p)
		}
	}
	return out
}

// Err is the list as an error, or nil where it holds nothing worse than warnings.
func (ps Problems) Err() error {
	if len(ps.Errors()) == 0 {
		return nil
	}
	return ps
}

// sort puts the list into the order of the file; problems at one place keep the order in which they were found.
func (ps Problems) sort() {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
}

// add notes an error.
func (ps *Problems) add(at Position, where, what, right string) {
	*ps = append(*ps, Problem{Position: at, Where: where, What: what, Right: right})
}

// warn notes a warning.
func (ps *Problems) warn(at Position, where, what, right string) {
	*ps = append(*ps, Problem{Position: at, Where: where, What: what, Right: right, Warning: true})
}

// String prints file:line:column, leaving out what is unknown.
func (p Position) String() string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}
