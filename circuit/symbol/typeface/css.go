package typeface

import (
	"encoding/base64"
	"fmt"
	"slices"
	"strings"
)

// CSS puts both weights into a style sheet, so that a file looks the same where the typeface is not installed: one rule a weight,
// with the outlines of the letters that a text is written in and of all plain ones, since markup and escapes make some of others.
func CSS(text string) string {
	letters := lettersOf(text)
	var out strings.Builder
	for _, face := range []struct {
		weight int
		ttf    []byte
	}{{400, Regular}, {600, SemiBold}} {
		few, err := subset(face.ttf, letters)
		if err != nil {
			panic("typeface: the embedded file is damaged: " + err.Error())
		}
		fmt.Fprintf(&out, "@font-face { font-family: '%s'; font-weight: %d; src: url(data:font/ttf;base64,%s) format('truetype'); }\n",
			Family, face.weight, base64.StdEncoding.EncodeToString(few))
	}
	return out.String()
}

// lettersOf a text and all plain ones, each once.
func lettersOf(text string) string {
	var out []rune
	for r := rune(' '); r <= '~'; r++ {
		out = append(out, r)
	}
	out = append(out, '•', '–', '…', '·', '“', '”', '’')
	more := map[rune]bool{}
	for _, r := range text {
		if r > '~' && !more[r] && !slices.Contains(out, r) {
			more[r] = true
			out = append(out, r)
		}
	}
	return string(out)
}
