package trace

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// A table on disk: what was simulated of a vehicle, for the next time that the program is started. A file belongs to one
// vehicle as it is, down to the last number, and to this program's laws, solver and procedures: its name is the digest of all
// that. It is replaced as a whole or not at all. One that is not what it should be counts for nothing, and what it would have
// told is worked out again.
const (
	storeSuffix = ".table"
	mostStored  = 24 // files that are kept, the latest
)

// CacheDir is where tables are kept for the user; "" where the system names no place for such things.
func CacheDir() string {
	dir, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "airpath", "tables")
}

// digest of all that a table's values hang on.
func (t *table) digest() [sha256.Size]byte {
	sum := sha256.New()
	fmt.Fprintln(sum, storeMagic, airflow.Version(), procedure.Version(), screening)
	fmt.Fprintln(sum, t.network.Circuit().Engine)
	t.network.Fingerprint(sum)
	var line []byte // there are thousands
	for _, v := range t.vehicles[:t.own] {
		for _, f := range v.faults {
			line = append(append(append(line[:0], f.Target...), '/'), f.Mode...)
			line = append(strconv.AppendUint(append(line, '='), math.Float64bits(f.Severity), 16), ' ')
			sum.Write(line)
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
	if len(s.alias) != t.own || len(s.procedures) != len(t.procedures) {
		return fmt.Errorf("%w: it has %d vehicles and %d procedures, where there are %d and %d", errStored, len(s.alias), len(s.procedures), t.own, len(t.procedures))
	}
	around := uint32(len(t.scatter(vehicle{})))
	for v, a := range s.alias {
		if int(a) > v && t.between[int(a)] != (neighbours{}) || int(a) >= t.own || s.alias[a] != a {
			return fmt.Errorf("%w: vehicle %d can't stand for vehicle %d", errStored, a, v)
		}
	}
	for _, v := range s.vehicles {
		if int(v.vehicle) >= t.own || v.scattered >= around+parts*(1+around) || v.scattered > around && !t.hasNext(int(v.vehicle)) {
			return fmt.Errorf("%w: there is no vehicle %d around vehicle %d", errStored, v.scattered, v.vehicle)
		}
	}
	for p := range s.procedures {
		if s.procedures[p].readings != len(t.procedures[p].Readings) {
			return fmt.Errorf("%w: %s has %d readings, where there are %d", errStored, t.procedures[p].ID, s.procedures[p].readings, len(t.procedures[p].Readings))
		}
	}
	for v, a := range s.alias {
		t.alias[v] = int(a)
	}
	t.aliased = true
	at := make([]int, len(s.vehicles))
	for i, v := range s.vehicles {
		at[i] = int(v.vehicle)
		switch {
		case v.scattered >= around+parts: // around one between two others
			k := v.scattered - around - parts
			at[i] = t.aroundLocked(t.vehicleBetweenLocked(place{at[i], int(k/around) + 1})) + int(k%around)
		case v.scattered > around:
			at[i] = t.vehicleBetweenLocked(place{at[i], int(v.scattered - around)})
		case v.scattered > 0:
			at[i] = t.aroundLocked(at[i]) + int(v.scattered) - 1
		}
	}
	for p := range s.procedures {
		rows := &s.procedures[p]
		for i, w := range rows.which {
			switch w {
			case storeUnknown:
			case storeFailed:
				t.failed[p][at[i]] = true
			default:
				t.known[p][at[i]] = rows.rows[w]
			}
		}
	}
	t.saved = t.count()
	return nil
}

// content of the table for the disk.
func (t *table) content() *stored {
	s := &stored{alias: make([]uint32, t.own), procedures: make([]storedRows, len(t.procedures))}
	for v := range s.alias {
		s.alias[v] = uint32(t.alias[v])
	}
	var at []int
	add := func(v, base, scattered int) {
		at = append(at, v)
		s.vehicles = append(s.vehicles, storedVehicle{uint32(base), uint32(scattered)})
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
			between, ok := t.places[place{v, part}]
			if !ok {
				continue
			}
			add(between, v, around+part)
			if first, ok := t.first[between]; ok {
				for k := range around {
					add(first+k, v, around+parts+(part-1)*around+k)
				}
			}
		}
	}
	onAllCores(len(t.procedures), func(p int) { s.procedures[p] = t.rowsOf(p, at) })
	return s
}

// rowsOf some vehicles in a procedure, each once.
func (t *table) rowsOf(p int, vehicles []int) storedRows {
	s := storedRows{readings: len(t.procedures[p].Readings), which: make([]uint32, len(vehicles))}
	if t.sources[p] != p { // they are there already
		for i := range s.which {
			s.which[i] = storeUnknown
		}
		return s
	}
	rows := map[string]uint32{}
	var key []byte
	for i, v := range vehicles {
		values := t.known[p][v]
		switch {
		case t.failed[p][v]:
			s.which[i] = storeFailed
			continue
		case values == nil:
			s.which[i] = storeUnknown
			continue
		}
		key = key[:0]
		for _, x := range values {
			key = binary.LittleEndian.AppendUint64(key, math.Float64bits(x))
		}
		k, ok := rows[string(key)]
		if !ok {
			k = uint32(len(s.rows))
			rows[string(key)] = k
			s.rows = append(s.rows, values)
		}
		s.which[i] = k
	}
	return s
}

// hasNext tells whether there is a worse vehicle with the same fault.
func (t *table) hasNext(v int) bool {
	a, b := t.vehicles[v].faults, t.vehicles[min(v+1, t.own-1)].faults
	return len(a) == 1 && len(b) == 1 && v+1 < t.own && a[0].Target == b[0].Target && a[0].Mode == b[0].Mode
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
