package symbol

import (
	"strings"

	"airpath/circuit"
)

// Unbroken splits a text into what may not be broken over two lines: words, and numbers with their units.
func Unbroken(text string) []string {
	words := strings.Fields(text)
	out := words[:0]
	for i, w := range words {
		if i > 0 && isUnit[strings.TrimRight(w, ".,;:)]”")] && endsInDigit(words[i-1]) {
			out[len(out)-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

func endsInDigit(word string) bool {
	return word != "" && word[len(word)-1] >= '0' && word[len(word)-1] <= '9'
}

// isUnit are the units that quantities are written in.
var isUnit = func() map[string]bool {
	known := map[string]bool{"%": true}
	for _, d := range circuit.Dimensions() {
		for _, u := range circuit.UnitsOf(d) {
			known[u.Name] = u.Name != ""
		}
	}
	return known
}()
