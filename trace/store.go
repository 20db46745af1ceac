package trace

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
)

// A table as it lies in a file. Most vehicles read in most procedures as the healthy one does, and many of the others differ from it in a few
// readings only, so that each row of readings is there once, and of a row only what it has other than the first. A procedure's rows need
// nothing of another's, and are read on all cores. All numbers are little-endian:
//
//	storeMagic, the digest (32 bytes)
//	number of vehicles, then for each the vehicle that stands for it
//	number of simulated vehicles, then for each the vehicle, and which of those scattered around it (0 for itself; after them, at how many parts
//	of the way to the next vehicle; after those, which of those scattered around each of these)
//	number of procedures, then for each the number of its readings, of its rows, and of the bytes that the rows take
//	for each procedure
//	    for each simulated vehicle its row, or storeUnknown, or storeFailed for a run that could not be followed
//	    the first row (float64 each), which is the healthy vehicle's where that is known
//	    the other rows: a bit for each reading that is not the first row's, the lowest first, in whole bytes; those readings (float64 each)
//	CRC-32C of all before
//
// where no more is said, uint32.
const (
	storeMagic   = "airpath table 4\n"
	storeUnknown = math.MaxUint32
	storeFailed  = math.MaxUint32 - 1
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// stored is the content of a file.
type stored struct {
	alias      []uint32
	vehicles   []storedVehicle
	procedures []storedRows
}

// A storedVehicle is a vehicle of the table, or one around it.
type storedVehicle struct{ vehicle, scattered uint32 }

// storedRows are what the vehicles came to in one procedure.
type storedRows struct {
	readings int
	rows     [][]float64 // each once
	which    []uint32    // by simulated vehicle
}

// encode a content.
func (s *stored) encode(digest [sha256.Size]byte) []byte {
	little := binary.LittleEndian
	out := append([]byte(storeMagic), digest[:]...)
	put := func(v int) { out = little.AppendUint32(out, uint32(v)) }
	put(len(s.alias))
	for _, a := range s.alias {
		out = little.AppendUint32(out, a)
	}
	put(len(s.vehicles))
	for _, v := range s.vehicles {
		out = little.AppendUint32(little.AppendUint32(out, v.vehicle), v.scattered)
	}
	var all []byte
	put(len(s.procedures))
	for i := range s.procedures {
		p := &s.procedures[i]
		for _, w := range p.which {
			all = little.AppendUint32(all, w)
		}
		before := len(all)
		all = p.encodeRows(all)
		put(p.readings)
		put(len(p.rows))
		put(len(all) - before)
	}
	out = append(out, all...)
	return little.AppendUint32(out, crc32.Checksum(out, castagnoli))
}

func (p *storedRows) encodeRows(out []byte) []byte {
	for i, row := range p.rows {
		marks := len(out)
		if i > 0 {
			out = append(out, make([]byte, (p.readings+7)/8)...)
		}
		for r, v := range row {
			was := math.Float64bits(p.rows[0][r])
			if is := math.Float64bits(v); i == 0 || is != was {
				out = binary.LittleEndian.AppendUint64(out, is)
				if i > 0 {
					out[marks+r/8] |= 1 << (r % 8)
				}
			}
		}
	}
	return out
}

var errStored = errors.New("not a table of this vehicle, or damaged")

// decodeStored reads a content; anything that is not as it should be is errStored.
func decodeStored(text []byte, digest [sha256.Size]byte) (*stored, error) {
	head := len(storeMagic) + len(digest)
	switch {
	case len(text) < head+4:
		return nil, fmt.Errorf("%w: it is cut short, at %d bytes", errStored, len(text))
	case string(text[:len(storeMagic)]) != storeMagic:
		return nil, fmt.Errorf("%w: it does not begin with %q", errStored, storeMagic)
	case !slices.Equal(text[len(storeMagic):head], digest[:]):
		return nil, fmt.Errorf("%w: it is of another vehicle, or of another version of the program", errStored)
	}
	body, sum := text[:len(text)-4], binary.LittleEndian.Uint32(text[len(text)-4:])
	if got := crc32.Checksum(body, castagnoli); got != sum {
		return nil, fmt.Errorf("%w: its checksum is %08x, where %08x is written", errStored, got, sum)
	}
	return decodeBody(body[head:])
}

func decodeBody(body []byte) (*stored, error) {
	cut := fmt.Errorf("%w: it holds less than it says", errStored)
	// list takes a number and as many entries of some words.
	list := func(words int) ([]byte, bool) {
		if len(body) < 4 {
			return nil, false
		}
		size := uint64(binary.LittleEndian.Uint32(body)) * uint64(4*words)
		if body = body[4:]; size > uint64(len(body)) {
			return nil, false
		}
		out := body[:size]
		body = body[size:]
		return out, true
	}
	word := func(list []byte, i int) uint32 { return binary.LittleEndian.Uint32(list[4*i:]) }
	alias, ok := list(1)
	if !ok {
		return nil, cut
	}
	vehicles, ok := list(2)
	if !ok {
		return nil, cut
	}
	procedures, ok := list(3)
	if !ok {
		return nil, cut
	}
	s := &stored{alias: make([]uint32, len(alias)/4), vehicles: make([]storedVehicle, len(vehicles)/8), procedures: make([]storedRows, len(procedures)/12)}
	for i := range s.alias {
		s.alias[i] = word(alias, i)
	}
	for i := range s.vehicles {
		s.vehicles[i] = storedVehicle{word(vehicles, 2*i), word(vehicles, 2*i+1)}
	}
	sections := make([][]byte, len(s.procedures))
	for i := range sections {
		size := 4*uint64(len(s.vehicles)) + uint64(word(procedures, 3*i+2))
		if size > uint64(len(body)) {
			return nil, cut
		}
		sections[i], body = body[:size], body[size:]
	}
	if len(body) > 0 {
		return nil, fmt.Errorf("%w: %d bytes are left over", errStored, len(body))
	}
	var wrong atomic.Bool
	onAllCores(len(sections), func(i int) {
		if !s.procedures[i].decode(sections[i], word(procedures, 3*i), word(procedures, 3*i+1), len(s.vehicles)) {
			wrong.Store(true)
		}
	})
	if wrong.Load() {
		return nil, fmt.Errorf("%w: its rows are not as they should be", errStored)
	}
	return s, nil
}

// decode a procedure, whose readings and rows are given, of so many vehicles.
func (p *storedRows) decode(section []byte, readings, rows uint32, vehicles int) bool {
	p.which = make([]uint32, vehicles)
	for i := range p.which {
		w := binary.LittleEndian.Uint32(section[4*i:])
		if p.which[i] = w; w >= rows && w < storeFailed {
			return false
		}
	}
	section = section[4*vehicles:]
	n, marks := int(readings), (int(readings)+7)/8
	p.readings = n
	if rows == 0 {
		return len(section) == 0
	}
	if uint64(rows) > uint64(vehicles) || 8*uint64(n)+uint64(rows-1)*uint64(marks) > uint64(len(section)) {
		return false
	}
	slab := make([]float64, n*int(rows))
	p.rows = make([][]float64, rows)
	for i := range p.rows {
		p.rows[i] = slab[i*n : (i+1)*n : (i+1)*n]
	}
	first := p.rows[0]
	for r := range first {
		first[r] = math.Float64frombits(binary.LittleEndian.Uint64(section[8*r:]))
	}
	section = section[8*n:]
	for _, row := range p.rows[1:] {
		if len(section) < marks {
			return false
		}
		copy(row, first)
		others := section[marks:]
		for k, mark := range section[:marks] {
			for r := 8 * k; mark != 0; r, mark = r+1, mark>>1 {
				if mark&1 == 0 {
					continue
				}
				if r >= n || len(others) < 8 {
					return false
				}
				v := binary.LittleEndian.Uint64(others)
				if others = others[8:]; v == math.Float64bits(first[r]) {
					return false
				}
				row[r] = math.Float64frombits(v)
			}
		}
		section = others
	}
	return len(section) == 0
}

// onAllCores does something for each number below n. What is done for one must not hang on another.
func onAllCores(n int, do func(i int)) {
	var next atomic.Int64
	var work sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		work.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	work.Wait()
}

func sameBits(a, b []float64) bool {
	if len(a) > 0 && len(a) == len(b) && &a[0] == &b[0] {
		return true
	}
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) })
}
