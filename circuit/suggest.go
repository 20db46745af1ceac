package circuit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Suggest says what was probably meant: the nearest of the known names, or all of them where none is near. The first of
// equally near names in the order given wins, so that an answer never depends on chance.
func Suggest(given string, known []string) string {
	if near := nearest(given, known); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return oneOf(known)
}

// oneOf says what may be written.
func oneOf(known []string) string {
	switch len(known) {
	case 0:
		return "there are none here"
	case 1:
		return "it can only be " + Listed(known)
	}
	return "it can be " + Listed(known)
}

// Listed quotes names, one after the other; long lists are cut, because a person reads them on one line.
func Listed(names []string) string {
	const most = 12
	shown, more := names, ""
	if len(names) > most {
		shown, more = names[:most], fmt.Sprintf(" and %d more", len(names)-most)
	}
	quoted := make([]string, len(shown))
	for i, k := range shown {
		quoted[i] = strconv.Quote(k)
	}
	return strings.Join(quoted, ", ") + more
}

// nearest finds the first known name that begins as given, or the one that differs by the fewest typing slips, as long as
// they are few for its length.
func nearest(given string, known []string) string {
	if len(given) > 64 {
		return "" // no name is that long, and the table of slips would only cost time
	}
	plain := plainName(given)
	best, bestSlips := "", 1<<30
	for _, k := range known {
		if len(plain) >= 3 && strings.HasPrefix(plainName(k), plain) {
			return k
		}
		d := slips(plain, plainName(k))
		if allowed := max(1, len(k)/3); d <= allowed && d < bestSlips {
			best, bestSlips = k, d
		}
	}
	return best
}

// plainName makes names comparable that differ in case or in the sign between words only.
func plainName(s string) string {
	return strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(s))
}

// slips counts insertions, deletions, replacements and swaps of neighbours that turn a into b (Damerau 1964, restricted
// to one edit per place).
func slips(a, b string) int {
	ra, rb := []rune(a), []rune(b)
	rows := make([][]int, len(ra)+1)
	for i := range rows {
		rows[i] = make([]int, len(rb)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(ra); i++ {
		for j := 1; j <= len(rb); j++ {
			cost := 1
			if ra[i-1] == rb[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && ra[i-1] == rb[j-2] && ra[i-2] == rb[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(ra)][len(rb)]
}

// portNames lists a kind's ports that a line of the given medium can go to.
func portNames(k *Kind, m Medium) []string {
	var names []string
	for _, p := range k.Ports {
		if !p.Vent && (m == "" || p.Medium == m) {
			names = append(names, p.Name)
		}
	}
	return names
}

// kindNames lists all kinds.
func kindNames() []string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = k.Name
	}
	return slices.Clip(names)
}

// withArticle puts "a" or "an" before a name.
func withArticle(name string) string {
	if name != "" && strings.ContainsRune("aeiou", rune(name[0])) {
		return "an " + name
	}
	return "a " + name
}
