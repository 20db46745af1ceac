package reason

import (
	"cmp"
	"encoding/binary"
	"hash/maphash"
	"math"
	"slices"
)

// Alike groups columns that no row tells apart: columns[i][r] is what hypothesis i makes of row r, and step[r] the
// difference that row r can show. Values of a row are put into the same class where each lies within a step of the next,
// so that no pair is torn apart by where a fixed grid happens to lie; columns with the same classes in all rows are a
// group. NaN (never reached) is a class of its own. Groups and members come in the order of the columns; single columns
// are groups of one.
func Alike(columns [][]float64, step []float64) [][]int {
	classes := make([][]uint32, len(columns))
	for i := range classes {
		classes[i] = make([]uint32, len(step))
	}
	order := make([]int, len(columns))
	for r, s := range step {
		for i := range order {
			order[i] = i
		}
		slices.SortFunc(order, func(a, b int) int { return cmp.Compare(columns[a][r], columns[b][r]) }) // NaN first
		class := uint32(0)
		for k, i := range order {
			if k > 0 && apart(columns[order[k-1]][r], columns[i][r], s) {
				class++
			}
			classes[i][r] = class
		}
	}
	seed := maphash.MakeSeed()
	buckets := map[uint64][]int{} // hash of the classes → groups that have it
	var groups [][]int
	buf := make([]byte, 4*len(step))
	for i := range columns {
		for r, c := range classes[i] {
			binary.LittleEndian.PutUint32(buf[4*r:], c)
		}
		key := maphash.Bytes(seed, buf)
		found := false
		for _, g := range buckets[key] {
			if slices.Equal(classes[groups[g][0]], classes[i]) {
				groups[g] = append(groups[g], i)
				found = true
				break
			}
		}
		if !found {
			buckets[key] = append(buckets[key], len(groups))
			groups = append(groups, []int{i})
		}
	}
	return groups
}

func apart(a, b, step float64) bool {
	if math.IsNaN(a) || math.IsNaN(b) {
		return math.IsNaN(a) != math.IsNaN(b)
	}
	return b-a > step
}
