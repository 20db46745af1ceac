package model

import (
	"fmt"
	"strings"

	"airpath/circuit"
)

// ReadResult understands what was typed for a measured reading: "70", "70 s", "60 to 75", "60..75 s".
func (u Units) ReadResult(typed string, d circuit.Dimension) (circuit.Result, error) {
	text := strings.ReplaceAll(strings.TrimSpace(typed), ",", ".")
	low, high, isRange := strings.Cut(strings.Replace(text, " to ", "..", 1), "..")
	if !isRange {
		one, err := u.Read(text, d)
		return circuit.Result{Kind: circuit.Number, Text: one}, err
	}
	high, err := u.Read(high, d)
	if err != nil {
		return circuit.Result{}, fmt.Errorf("the upper end of the range: %w", err)
	}
	unit := unitIn(high)
	low = strings.TrimSpace(low)
	if unitIn(low) == "" {
		low = join(low, unit)
	}
	a, err := circuit.ParseQuantity(low, d)
	if err != nil {
		return circuit.Result{}, fmt.Errorf("the lower end of the range: %w", err)
	}
	b := circuit.MustQuantity(high, d)
	if a.SI > b.SI {
		return circuit.Result{}, fmt.Errorf("%q runs downwards: write the lower number first", typed)
	}
	if unitIn(low) == unit {
		low = strings.TrimSpace(strings.TrimSuffix(low, unit))
	}
	return circuit.Result{Kind: circuit.Range, Text: low + ".." + high}, nil
}

// unitIn is what follows the number.
func unitIn(text string) string {
	return strings.TrimSpace(strings.TrimLeft(strings.TrimSpace(text), "0123456789.+-"))
}
