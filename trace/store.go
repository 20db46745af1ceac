package trace

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"os"
	"path/filepath"
	"slices"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// A table on disk: what was simulated of a vehicle, for the next time that the program is started. A file belongs to one
// vehicle as it is, down to the last number, and to this program's laws, solver and procedures: its name is the digest of all
// that. It is replaced as a whole or not at all. One that is not what it should be counts for nothing, and what it would have
// told is worked out again. All numbers are little-endian:
//
//	storeMagic, the digest (32 bytes)
//	number of vehicles, then for each the vehicle that stands for it (uint32 each)
//	number of records, then for each
//	    the vehicle (uint32), which of those scattered around it (uint32, 0 for itself; after them, at how many parts of the way to
//	    the next vehicle), the procedure (uint32),
//	    the number of values (uint32), the values (float64); or instead of both storeFailed for a run that could not be
//	    followed, or storeHealthy for one that gave what the healthy vehicle gives, which is told before it
//	CRC-32C of all before (uint32)
const (
	storeMagic   = "airpath table 3\n"
	storeFailed  = math.MaxUint32
	storeHealthy = math.MaxUint32 - 1
	storeSuffix  = ".table"
	mostStored   = 24 // files that are kept, the latest
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// CacheDir is where tables are kept for the user; "" where the system names no place for such things.
func CacheDir() string {
	dir, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "airpath", "tables")
}

// record is what one vehicle came to in one procedure.
type record struct {
	vehicle, scattered, procedure uint32
	values                        []float64 // nil where it could not be followed, or healthy
	healthy                       bool
}

// stored is the content of a file.
type stored struct {
	alias   []uint32
	records []record
}

// digest of all that a table's values hang on.
func (t *table) digest() [sha256.Size]byte {
	sum := sha256.New()
	fmt.Fprintln(sum, storeMagic, airflow.Version(), procedure.Version(), screening)
	fmt.Fprintln(sum, t.network.Circuit().Engine)
	t.network.Fingerprint(sum)
	for _, v := range t.vehicles[:t.own] {
		for _, f := range v.faults {
			fmt.Fprintf(sum, "%s/%s=%x ", f.Target, f.Mode, math.Float64bits(f.Severity))
		}
	}
	for _, v := range t.scatter(vehicle{}) {
		fmt.Fprintf(sum, "%v", v)
	}
	for _, p := range t.procedures {
		fmt.Fprintf(sum, "\n%s", p.ID)
		for i := range p.Readings {
			fmt.Fprintf(sum, " %s@%s", p.Readings[i].ID, p.Readings[i].Place)
		}
	}
	return [sha256.Size]byte(sum.Sum(nil))
}

func storeName(digest [sha256.Size]byte) string { return fmt.Sprintf("%x", digest[:16]) + storeSuffix }

// encode a content.
func (s *stored) encode(digest [sha256.Size]byte) []byte {
	size := len(storeMagic) + len(digest) + 12 + 4*len(s.alias)
	for i := range s.records {
		size += 16 + 8*len(s.records[i].values)
	}
	out := append(append(make([]byte, 0, size), storeMagic...), digest[:]...)
	put := func(v uint32) { out = binary.LittleEndian.AppendUint32(out, v) }
	put(uint32(len(s.alias)))
	for _, a := range s.alias {
		put(a)
	}
	put(uint32(len(s.records)))
	for i := range s.records {
		r := &s.records[i]
		put(r.vehicle)
		put(r.scattered)
		put(r.procedure)
		switch {
		case r.healthy:
			put(storeHealthy)
			continue
		case r.values == nil:
			put(storeFailed)
			continue
		}
		put(uint32(len(r.values)))
		for _, v := range r.values {
			out = binary.LittleEndian.AppendUint64(out, math.Float64bits(v))
		}
	}
	put(crc32.Checksum(out, castagnoli))
	return out
}

var errStored = errors.New("not a table of this vehicle, or damaged")

// decodeStored reads a content; anything that is not as it should be is errStored.
func decodeStored(text []byte, digest [sha256.Size]byte) (*stored, error) {
	head := len(storeMagic) + len(digest)
	if len(text) < head+12 || string(text[:len(storeMagic)]) != storeMagic || !slices.Equal(text[len(storeMagic):head], digest[:]) {
		return nil, errStored
	}
	body, sum := text[:len(text)-4], binary.LittleEndian.Uint32(text[len(text)-4:])
	if crc32.Checksum(body, castagnoli) != sum {
		return nil, errStored
	}
	return decodeBody(body[head:])
}

func decodeBody(body []byte) (*stored, error) {
	short := false
	take := func() uint32 {
		if len(body) < 4 {
			short = true
			return 0
		}
		v := binary.LittleEndian.Uint32(body)
		body = body[4:]
		return v
	}
	var s stored
	count := take()
	if uint64(count)*4 > uint64(len(body)) {
		return nil, errStored
	}
	s.alias = make([]uint32, count)
	for i := range s.alias {
		s.alias[i] = take()
	}
	count = take()
	if uint64(count)*16 > uint64(len(body)) {
		return nil, errStored
	}
	s.records = make([]record, count)
	slab := make([]float64, 0, (len(body)-16*int(count))/8)
	for i := range s.records {
		r := &s.records[i]
		r.vehicle, r.scattered, r.procedure = take(), take(), take()
		n := take()
		if n == storeFailed || n == storeHealthy {
			r.healthy = n == storeHealthy
			continue
		}
		if uint64(n)*8 > uint64(len(body)) || len(slab)+int(n) > cap(slab) {
			return nil, errStored
		}
		first := len(slab)
		for k := range int(n) {
			slab = append(slab, math.Float64frombits(binary.LittleEndian.Uint64(body[8*k:])))
		}
		body = body[8*n:]
		r.values = slab[first:len(slab):len(slab)]
	}
	if short || len(body) > 0 {
		return nil, errStored
	}
	return &s, nil
}

// load what is on disk of this table, if there is anything sound.
func (t *table) load() error {
	digest := t.digest()
	text, err := os.ReadFile(filepath.Join(t.dir, storeName(digest)))
	if err != nil {
		return err
	}
	s, err := decodeStored(text, digest)
	if err != nil {
		return err
	}
	return t.take(s)
}

// take a content over, all of it or nothing.
func (t *table) take(s *stored) error {
	if len(s.alias) != t.own {
		return errStored
	}
	around := uint32(len(t.scatter(vehicle{})))
	for v, a := range s.alias {
		if int(a) > v && t.between[int(a)] != (neighbours{}) || int(a) >= t.own || s.alias[a] != a {
			return errStored
		}
	}
	told := make([]bool, len(t.procedures))
	for _, r := range s.records {
		if int(r.vehicle) >= t.own || r.scattered >= around+parts || r.scattered > around && !t.hasNext(int(r.vehicle)) || int(r.procedure) >= len(t.procedures) ||
			r.values != nil && len(r.values) != len(t.procedures[r.procedure].Readings) {
			return errStored
		}
		if r.vehicle == 0 && r.scattered == 0 && r.values != nil {
			told[r.procedure] = true
		} else if r.healthy && !told[r.procedure] {
			return errStored
		}
	}
	for v, a := range s.alias {
		t.alias[v] = int(a)
	}
	t.aliased = true
	if err := t.findElsewhere(); err != nil {
		return err
	}
	for _, r := range s.records {
		v := int(r.vehicle)
		if r.scattered > around {
			v = t.vehicleBetweenLocked(place{v, int(r.scattered - around)})
		} else if r.scattered > 0 {
			v = t.aroundLocked(v) + int(r.scattered) - 1
		}
		if r.healthy {
			r.values = t.known[r.procedure][0]
		}
		t.known[r.procedure][v], t.failed[r.procedure][v] = r.values, r.values == nil
	}
	t.saved = t.count()
	return nil
}

// content of the table for the disk.
func (t *table) content() *stored {
	s := &stored{alias: make([]uint32, t.own)}
	for v := range s.alias {
		s.alias[v] = uint32(t.alias[v])
	}
	add := func(v, base, scattered int) {
		for p := range t.procedures {
			if t.known[p][v] != nil || t.failed[p][v] {
				r := record{vehicle: uint32(base), scattered: uint32(scattered), procedure: uint32(p), values: t.known[p][v]}
				if v > 0 && r.values != nil && sameBits(r.values, t.known[p][0]) {
					r.values, r.healthy = nil, true
				}
				s.records = append(s.records, r)
			}
		}
	}
	around := len(t.scatter(vehicle{}))
	for v := range t.own {
		add(v, v, 0)
		if first, ok := t.first[v]; ok {
			for k := range around {
				add(first+k, v, k+1)
			}
		}
		for part := 1; part < parts; part++ {
			if at, ok := t.places[place{v, part}]; ok {
				add(at, v, around+part)
			}
		}
	}
	return s
}

// hasNext tells whether there is a worse vehicle with the same fault.
func (t *table) hasNext(v int) bool {
	a, b := t.vehicles[v].faults, t.vehicles[min(v+1, t.own-1)].faults
	return len(a) == 1 && len(b) == 1 && v+1 < t.own && a[0].Target == b[0].Target && a[0].Mode == b[0].Mode
}

func sameBits(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) })
}

// count what is known.
func (t *table) count() int {
	n := 0
	for p := range t.known {
		for v := range t.known[p] {
			if t.known[p][v] != nil || t.failed[p][v] {
				n++
			}
		}
	}
	return n
}

// save the table where more is known than the disk has. The file is written beside its place and then moved there, so that no
// reader, and no other program that does the same, ever sees half of one.
func (t *table) save() error {
	t.mu.Lock()
	defer t.mu.Unlock()
	count := t.count()
	if t.dir == "" || count == t.saved || !t.aliased {
		return nil
	}
	digest := t.digest()
	if err := os.MkdirAll(t.dir, 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(t.dir, "new-*")
	if err != nil {
		return err
	}
	_, err = f.Write(t.content().encode(digest))
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(f.Name(), filepath.Join(t.dir, storeName(digest)))
	}
	if err != nil {
		os.Remove(f.Name())
		return err
	}
	t.saved = count
	return tidyStore(t.dir)
}

// tidyStore keeps the latest of the tables: what a changed program or vehicle left behind is of no use.
func tidyStore(dir string) error {
	names, err := filepath.Glob(filepath.Join(dir, "*"+storeSuffix))
	if err != nil || len(names) <= mostStored {
		return err
	}
	age := func(name string) int64 {
		info, err := os.Stat(name)
		if err != nil {
			return 0
		}
		return info.ModTime().UnixNano()
	}
	slices.SortStableFunc(names, func(a, b string) int {
		switch x, y := age(a), age(b); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	for _, name := range names[mostStored:] {
		err = errors.Join(err, os.Remove(name))
	}
	return err
}
