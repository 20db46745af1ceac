package procedure

import (
	"fmt"
	"strconv"
	"strings"
)

// suggest the known name that was probably meant, or say which there are.
func suggest(given string, known []string) string {
	best, fewest := "", len(given)/2+1
	for _, k := range known {
		if given != "" && strings.HasPrefix(plain(k), plain(given)) {
			return fmt.Sprintf("did you mean %q?", k)
		}
		if d := edits(plain(given), plain(k)); d < fewest {
			best, fewest = k, d
		}
	}
	if best != "" {
		return fmt.Sprintf("did you mean %q?", best)
	}
	return "it can be " + oneOf(known)
}

// oneOf lists names; long lists are cut, because a person reads them on one line.
func oneOf(known []string) string {
	const most = 12
	shown, more := known, ""
	if len(known) > most {
		shown, more = known[:most], fmt.Sprintf(" and %d more", len(known)-most)
	}
	quoted := make([]string, len(shown))
	for i, k := range shown {
		quoted[i] = strconv.Quote(k)
	}
	return strings.Join(quoted, ", ") + more
}

func plain(s string) string {
	if len(s) > 64 {
		s = s[:64] // no name is that long
	}
	return strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(s))
}

// edits counts insertions, deletions and replacements that turn a into b (Levenshtein 1966).
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := diagonal
			if a[i-1] != b[j-1] {
				cost++
			}
			diagonal = row[j]
			row[j] = min(cost, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}
