package model

import (
	"fmt"
	"strings"

	"airpath/circuit"
)

// ReadResult understands what was typed for a measured reading: "70", "70 s", "60 to 75", "60..75 s", "never". A bare
// number gets the unit that is shown beside the field, a number with a unit keeps its own. Comma and point both divide.
func (u Units) ReadResult(typed string, d circuit.Dimension) (circuit.Result, error) {
	text := strings.ReplaceAll(strings.TrimSpace(typed), ",", ".")
	text = strings.Replace(text, " to ", "..", 1)
	unit := u.UnitOf(d)
	if text == "" {
		return circuit.Result{}, fmt.Errorf("nothing entered: type a number of %s", unit)
	}
	if last := text[len(text)-1]; last >= '0' && last <= '9' {
		text = join(text, unit)
	}
	r, err := circuit.ParseResult(text)
	if err != nil {
		return circuit.Result{}, err
	}
	if r.Kind == circuit.Number || r.Kind == circuit.Range {
		_, _, err = r.Bounds(d)
	}
	return r, err
}
