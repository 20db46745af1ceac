// Package gaugelog reads gauge logs: CSV files with a column of time and columns of pressure, as data loggers write them.
//
// The first row names the columns, each with its unit in brackets or after the name: "time [s]", "Primary (psi)", "p2_bar".
// Fields are parted by commas, semicolons or tabs; with semicolons or tabs a comma may be the decimal point. Lines that begin
// with # are passed over. Errors name the line and the column, and what would be right.
package gaugelog

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"airpath/circuit"
)

// Bounds of what is read: more is no gauge log of a brake test.
const (
	MostRows    = 200000
	MostColumns = 64
)

// A Log is what was recorded.
type Log struct {
	Seconds []float64 // rising, from the log's own zero
	Columns []Column
}

// A Column is one gauge.
type Column struct {
	Name     string    // as the head says, without the unit
	Pressure []float64 // Pa absolute, one for each of the seconds; NaN where the field is empty
}

// A head is a column of the file.
type head struct {
	name string
	unit string
	kind circuit.Dimension // Time or Pressure
}

// Read a log. name is what errors call the file.
func Read(name string, text []byte) (*Log, error) {
	lines := strings.Split(strings.ReplaceAll(strings.TrimPrefix(string(text), "\uFEFF"), "\r\n", "\n"), "\n")
	var heads []head
	separator := ""
	timeAt := -1
	log := &Log{}
	for i, l := range lines {
		if strings.TrimSpace(l) == "" || strings.HasPrefix(l, "#") {
			continue
		}
		where := fmt.Sprintf("%s:%d", name, i+1)
		if heads == nil {
			separator = separatorOf(l)
			var err error
			if heads, timeAt, err = readHeads(where, strings.Split(l, separator)); err != nil {
				return nil, err
			}
			for k, h := range heads {
				if k != timeAt {
					log.Columns = append(log.Columns, Column{Name: h.name})
				}
			}
			continue
		}
		if len(log.Seconds) == MostRows {
			return nil, fmt.Errorf("%s: more than %d rows; thin the log out", where, MostRows)
		}
		if err := log.row(where, strings.Split(l, separator), separator, heads, timeAt); err != nil {
			return nil, err
		}
	}
	switch {
	case heads == nil:
		return nil, fmt.Errorf(`%s: the file is empty; its first line names the columns, such as "time [s],primary [psi]"`, name)
	case len(log.Seconds) < 2:
		return nil, fmt.Errorf("%s: there are %d rows of figures; a curve needs two at least", name, len(log.Seconds))
	}
	return log, nil
}

// separatorOf a line: a tab where there is one, else a semicolon, else a comma.
func separatorOf(l string) string {
	for _, s := range []string{"\t", ";"} {
		if strings.Contains(l, s) {
			return s
		}
	}
	return ","
}

func readHeads(where string, fields []string) (heads []head, timeAt int, err error) {
	if len(fields) > MostColumns {
		return nil, 0, fmt.Errorf("%s: %d columns; at most %d are read", where, len(fields), MostColumns)
	}
	timeAt = -1
	for k, f := range fields {
		h, err := readHead(strings.Trim(strings.TrimSpace(f), `"`))
		if err != nil {
			return nil, 0, fmt.Errorf("%s, column %d: %w", where, k+1, err)
		}
		if h.kind == circuit.Time {
			if timeAt >= 0 {
				return nil, 0, fmt.Errorf("%s, column %d: a second column of time; there can be one", where, k+1)
			}
			timeAt = k
		}
		heads = append(heads, h)
	}
	switch {
	case timeAt < 0:
		return nil, 0, fmt.Errorf(`%s: no column of time; name one with its unit, such as "time [s]"`, where)
	case len(heads) < 2:
		return nil, 0, fmt.Errorf(`%s: no column of pressure; name one with its unit, such as "primary [psi]"`, where)
	}
	return heads, timeAt, nil
}

// readHead parts a name from its unit: the last word, or what stands in brackets.
func readHead(text string) (head, error) {
	words := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" _[](),", r) })
	if len(words) == 0 {
		return head{}, fmt.Errorf(`the column has no name; write one with its unit, such as "primary [psi]"`)
	}
	unit := words[len(words)-1]
	name := strings.TrimRight(strings.TrimSpace(text[:strings.LastIndex(text, unit)]), " _[(")
	for _, d := range []circuit.Dimension{circuit.Time, circuit.Pressure} {
		for _, u := range circuit.UnitsOf(d) {
			if (strings.EqualFold(u.Name, unit) || spelled[strings.ToLower(unit)] == u.Name) && (len(words) > 1 || d == circuit.Time) {
				return head{name: name, unit: u.Name, kind: d}, nil
			}
		}
	}
	return head{}, fmt.Errorf(`%q names no unit; write the name and the unit, such as "time [s]", "primary [psi]", "primary [bar]" or "primary [kPa]"`, text)
}

// spelled are units of time as people write them out.
var spelled = map[string]string{"seconds": "s", "sec": "s", "minutes": "min", "hours": "h"}

func (l *Log) row(where string, fields []string, separator string, heads []head, timeAt int) error {
	if len(fields) != len(heads) {
		hint := ""
		if separator == "," && len(fields) > len(heads) {
			hint = "; with commas as decimal points the columns must be parted by semicolons"
		}
		return fmt.Errorf("%s: %d fields, but the head has %d%s", where, len(fields), len(heads), hint)
	}
	at := 0
	for k, f := range fields {
		v, err := number(f, separator)
		switch {
		case err != nil:
			return fmt.Errorf("%s, column %d (%s): %w", where, k+1, heads[k].name, err)
		case k == timeAt && math.IsNaN(v):
			return fmt.Errorf("%s, column %d (%s): no time", where, k+1, heads[k].name)
		}
		if !math.IsNaN(v) {
			q, err := circuit.ParseQuantity(strconv.FormatFloat(v, 'g', -1, 64)+" "+heads[k].unit, heads[k].kind)
			if err != nil {
				return fmt.Errorf("%s, column %d (%s): %w", where, k+1, heads[k].name, err)
			}
			v = q.SI
		}
		if k == timeAt {
			if n := len(l.Seconds); n > 0 && !(v > l.Seconds[n-1]) {
				return fmt.Errorf("%s, column %d (%s): time goes from %g s to %g s; it must rise", where, k+1, heads[k].name, l.Seconds[n-1], v)
			}
			l.Seconds = append(l.Seconds, v)
			continue
		}
		l.Columns[at].Pressure = append(l.Columns[at].Pressure, v)
		at++
	}
	return nil
}

// number reads a field; an empty one is NaN.
func number(f, separator string) (float64, error) {
	f = strings.Trim(strings.TrimSpace(f), `"`)
	if f == "" {
		return math.NaN(), nil
	}
	if separator != "," {
		f = strings.Replace(f, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(f, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, fmt.Errorf("%q is no number; want one such as 118.5", f)
	}
	return v, nil
}

// Match finds the columns of some gauges, given by id and name: by the columns named by hand, in order; else by the same name;
// else, where there are as many columns as gauges, in order. at[i] is the gauge of column i, -1 for none.
func (l *Log) Match(ids, names, byHand []string) (at []int, err error) {
	at = make([]int, len(l.Columns))
	for i := range at {
		at[i] = -1
	}
	if len(byHand) > 0 {
		if len(byHand) != len(l.Columns) {
			return nil, fmt.Errorf("%d gauges are named for the %d pressure columns %s", len(byHand), len(l.Columns), l.named())
		}
		for i, id := range byHand {
			if id == "-" {
				continue
			}
			for g := range ids {
				if ids[g] == id {
					at[i] = g
				}
			}
			if at[i] < 0 {
				return nil, fmt.Errorf("there is no gauge %q in this procedure; %s", id, circuit.Suggest(id, ids))
			}
		}
		return at, nil
	}
	found := 0
	for i, c := range l.Columns {
		plain := plainly(c.Name)
		for g := range ids {
			if plain != "" && (plain == plainly(ids[g]) || plain == plainly(names[g]) || plain+"gauge" == plainly(names[g]) || "gauge"+plain == plainly(ids[g])) {
				at[i] = g
				found++
			}
		}
	}
	if found == 0 {
		return nil, fmt.Errorf("no column is named like a gauge: the columns are %s, the gauges %s; name the gauges in order: columns = [...]", l.named(), circuit.Listed(ids))
	}
	return at, nil
}

func (l *Log) named() string {
	var names []string
	for _, c := range l.Columns {
		names = append(names, c.Name)
	}
	return circuit.Listed(names)
}

func plainly(s string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(" _-.", r) {
			return -1
		}
		return r
	}, strings.ToLower(s))
}
