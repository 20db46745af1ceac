package circuit

import (
	"errors"
	"fmt"
	"strings"
)

// ResultKind is the form of a result.
type ResultKind string

const (
	Number       ResultKind = "number"        // "70 s", "118 psi"
	Range        ResultKind = "range"         // "60..75 s"
	WithinLimits ResultKind = "within limits" // no figure noted, but the published limit was met
	Yes          ResultKind = "yes"
	No           ResultKind = "no"
	Never        ResultKind = "never" // the level or event was not reached
	NotSure      ResultKind = "not sure"
)

// resultWords are the results that are words.
var resultWords = []ResultKind{WithinLimits, Yes, No, Never, NotSure}

// A Result is what was read. Which dimension a number has is the reading's to say; see [Result.Bounds]. The text is kept
// so that the unit of the person is kept.
type Result struct {
	Kind ResultKind
	Text string // as written: "70 s", "60..75 s", "yes"
}

// ParseResult reads a result: a number with its unit, a range, or one of the words.
func ParseResult(text string) (Result, error) {
	trimmed := strings.TrimSpace(text)
	for _, w := range resultWords {
		if strings.EqualFold(trimmed, string(w)) {
			return Result{Kind: w, Text: string(w)}, nil
		}
	}
	if strings.Contains(trimmed, "..") {
		low, high, err := splitRange(trimmed)
		if err != nil {
			return Result{}, err
		}
		// Which way it runs can only be seen once the units are alike; a reading's dimension settles the rest.
		for _, d := range unitDimensions(high) {
			if _, _, err = boundsOf(low, high, d); err == nil {
				return Result{Kind: Range, Text: trimmed}, nil
			}
		}
		if err == nil {
			err = unknownUnit(text, high)
		}
		return Result{}, err
	}
	if written.MatchString(trimmed) {
		if len(unitDimensions(trimmed)) == 0 {
			return Result{}, unknownUnit(text, trimmed)
		}
		return Result{Kind: Number, Text: trimmed}, nil
	}
	words := resultNames()
	right := `want a number with its unit, such as "70 s", a range, such as "60..75 s", or one of the words ` + strings.Join(words, ", ")
	if near := nearest(trimmed, words); near != "" {
		right = fmt.Sprintf("did you mean %q?", near)
	}
	return Result{}, fmt.Errorf("%q is no result; %s", text, right)
}

func resultNames() []string {
	words := make([]string, len(resultWords))
	for i, w := range resultWords {
		words[i] = string(w)
	}
	return words
}

// Bounds of a number or range in SI; they are equal for a number. The dimension is the reading's.
func (r Result) Bounds(d Dimension) (low, high float64, err error) {
	switch r.Kind {
	case Number:
		q, err := ParseQuantity(r.Text, d)
		return q.SI, q.SI, err
	case Range:
		from, to, err := splitRange(r.Text)
		if err != nil {
			return 0, 0, err
		}
		return boundsOf(from, to, d)
	}
	return 0, 0, fmt.Errorf("%q is no number", r.Text)
}

// splitRange takes "60..75 s" or "60 s..2 min" apart. A low end without a unit has the high end's.
func splitRange(text string) (low, high string, err error) {
	low, high, _ = strings.Cut(text, "..")
	low, high = strings.TrimSpace(low), strings.TrimSpace(high)
	lowParts, highParts := written.FindStringSubmatch(low), written.FindStringSubmatch(high)
	if lowParts == nil || highParts == nil || strings.HasPrefix(high, ".") || strings.HasSuffix(lowParts[1], ".") {
		return "", "", fmt.Errorf(`%q is no range; want two numbers and a unit, such as "60..75 s"`, text)
	}
	if unit := strings.TrimSpace(highParts[2]); strings.TrimSpace(lowParts[2]) == "" && unit != "" {
		low += " " + unit
	}
	return low, high, nil
}

var errDownwards = errors.New("the range runs downwards; write the lower number first")

func boundsOf(low, high string, d Dimension) (float64, float64, error) {
	a, err := ParseQuantity(low, d)
	if err != nil {
		return 0, 0, err
	}
	b, err := ParseQuantity(high, d)
	if err != nil {
		return 0, 0, err
	}
	if a.SI > b.SI {
		return 0, 0, errDownwards
	}
	return a.SI, b.SI, nil
}

// unitDimensions lists the dimensions that a quantity's text can be read in, in a fixed order.
func unitDimensions(text string) []Dimension {
	var ds []Dimension
	for _, d := range Dimensions() {
		if _, err := ParseQuantity(text, d); err == nil {
			ds = append(ds, d)
		}
	}
	return ds
}

func unknownUnit(text, quantity string) error {
	m := written.FindStringSubmatch(quantity)
	unit := strings.TrimSpace(m[2])
	var names []string
	for _, d := range Dimensions() {
		for _, u := range units[d] {
			if u.Name != "" {
				names = append(names, u.Name)
			}
		}
	}
	if near := nearest(unit, names); near != "" && near != unit {
		return fmt.Errorf("%q: unknown unit %q; did you mean %q?", text, unit, near)
	}
	return fmt.Errorf(`%q is no result; want a number with its unit, such as "70 s" or "118 psi"`, text)
}
