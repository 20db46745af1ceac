package drill

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"
)

// WriteClass writes the marks of a class as CSV, a row for each work, by trainee and then by exercise.
func WriteClass(out io.Writer, class []*Marks) error {
	class = slices.Clone(class)
	slices.SortStableFunc(class, func(a, b *Marks) int {
		switch {
		case a.Trainee != b.Trainee && a.Trainee < b.Trainee, a.Trainee == b.Trainee && a.Title < b.Title:
			return -1
		case a.Trainee == b.Trainee && a.Title == b.Title:
			return 0
		}
		return 1
	})
	w := csv.NewWriter(out)
	rows := [][]string{{
		"trainee", "exercise", "score", "parts right", "faults right", "parts", "minutes", "minutes making sure", "best minutes", "minutes lost",
		"good parts fitted", "wrong clearings", "clearings", "clearings borne out", "bits", "best bits", "unsafe steps",
	}}
	for _, m := range class {
		rows = append(rows, []string{
			plain(m.Trainee), plain(m.Title), fmt.Sprintf("%.0f", m.Score), fmt.Sprint(m.Right), fmt.Sprint(m.RightModes), fmt.Sprint(m.Parts),
			fmt.Sprintf("%.0f", m.Minutes), fmt.Sprintf("%.0f", m.Sure), fmt.Sprintf("%.0f", m.Best), fmt.Sprintf("%.0f", m.Lost), fmt.Sprint(m.GoodParts),
			fmt.Sprint(m.WrongClears), fmt.Sprint(m.Clears), fmt.Sprint(m.BackedClears), fmt.Sprintf("%.1f", m.Bits),
			fmt.Sprintf("%.1f", m.BestBits), fmt.Sprint(len(m.Unsafe)),
		})
	}
	return w.WriteAll(rows)
}

// plain keeps a name from being taken for a formula by a spreadsheet: one that begins like a formula gets an apostrophe.
func plain(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}
