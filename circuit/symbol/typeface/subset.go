package typeface

import (
	"encoding/binary"
	"fmt"
	"slices"

	"golang.org/x/image/font/sfnt"
)

// subsetTables are those that a browser needs to draw plain text. Kerning, alternates and glyph names stay out: the paper has none
// either, and they are more than half of the file.
var subsetTables = []string{"OS/2", "cmap", "cvt ", "fpgm", "gasp", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "name", "post", "prep"}

// subset is a TrueType typeface with the outlines of some letters only. Glyphs keep their numbers; those left out are empty.
// The format is that of ISO/IEC 14496-22 (Open Font Format).
func subset(ttf []byte, letters string) ([]byte, error) {
	tables, err := tablesOf(ttf)
	if err != nil {
		return nil, err
	}
	used, err := glyphsOf(ttf, letters)
	if err != nil {
		return nil, err
	}
	long := binary.BigEndian.Uint16(tables["head"][50:]) == 1
	count := int(binary.BigEndian.Uint16(tables["maxp"][4:]))
	loca, glyf := tables["loca"], tables["glyf"]
	at := func(i int) int {
		if long {
			return int(binary.BigEndian.Uint32(loca[4*i:]))
		}
		return 2 * int(binary.BigEndian.Uint16(loca[2*i:]))
	}
	for todo := slices.Clone(used); len(todo) > 0; todo = todo[1:] { // what a glyph is put together of
		for _, part := range partsOf(glyf[at(todo[0]):at(todo[0]+1)]) {
			if !slices.Contains(used, part) {
				used, todo = append(used, part), append(todo, part)
			}
		}
	}
	var outlines, places []byte
	for i := range count + 1 {
		places = binary.BigEndian.AppendUint32(places, uint32(len(outlines)))
		if i < count && slices.Contains(used, i) {
			outlines = padded(append(outlines, glyf[at(i):at(i+1)]...))
		}
	}
	head := slices.Clone(tables["head"])
	binary.BigEndian.PutUint16(head[50:], 1) // places of four bytes each
	post := slices.Clone(tables["post"][:32])
	binary.BigEndian.PutUint32(post, 0x00030000) // without names
	tables["glyf"], tables["loca"], tables["head"], tables["post"] = outlines, places, head, post
	return assemble(ttf[:4], tables), nil
}

func tablesOf(ttf []byte) (map[string][]byte, error) {
	tables := map[string][]byte{}
	for i := range int(binary.BigEndian.Uint16(ttf[4:])) {
		entry := ttf[12+16*i:]
		from, length := binary.BigEndian.Uint32(entry[8:]), binary.BigEndian.Uint32(entry[12:])
		tables[string(entry[:4])] = ttf[from : from+length]
	}
	for _, name := range []string{"head", "maxp", "loca", "glyf", "post"} {
		if tables[name] == nil {
			return nil, fmt.Errorf("typeface: no table %q; want TrueType outlines", name)
		}
	}
	return tables, nil
}

// glyphsOf some letters, and the one for letters that there are not.
func glyphsOf(ttf []byte, letters string) ([]int, error) {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("typeface: %w", err)
	}
	used := []int{0}
	var b sfnt.Buffer
	for _, r := range letters {
		g, err := f.GlyphIndex(&b, r)
		if err != nil {
			return nil, fmt.Errorf("typeface: %w", err)
		}
		if !slices.Contains(used, int(g)) {
			used = append(used, int(g))
		}
	}
	return used, nil
}

// partsOf are the glyphs that a glyph is put together of; none for one with outlines of its own.
func partsOf(glyph []byte) []int {
	if len(glyph) < 10 || int16(binary.BigEndian.Uint16(glyph)) >= 0 {
		return nil
	}
	var out []int
	for rest := glyph[10:]; ; {
		flags := binary.BigEndian.Uint16(rest)
		out = append(out, int(binary.BigEndian.Uint16(rest[2:])))
		size := 6
		for _, f := range []struct{ flag, bytes uint16 }{{0x0001, 2}, {0x0008, 2}, {0x0040, 4}, {0x0080, 8}} { // words, a scale, two, a matrix
			if flags&f.flag != 0 {
				size += int(f.bytes)
			}
		}
		if flags&0x0020 == 0 { // no more of them
			return out
		}
		rest = rest[size:]
	}
}

// assemble a file of tables, with its directory and sums.
func assemble(kind []byte, tables map[string][]byte) []byte {
	names := slices.DeleteFunc(slices.Clone(subsetTables), func(n string) bool { return tables[n] == nil })
	power, log := 1, 0
	for power*2 <= len(names) {
		power, log = power*2, log+1
	}
	out := slices.Clone(kind)
	for _, v := range []int{len(names), 16 * power, log, 16 * (len(names) - power)} {
		out = binary.BigEndian.AppendUint16(out, uint16(v))
	}
	from := len(out) + 16*len(names)
	var body []byte
	head := 0
	for _, n := range names {
		table := slices.Clone(tables[n])
		if n == "head" {
			binary.BigEndian.PutUint32(table[8:], 0) // the sum of the whole comes here, and counts as nothing in itself
			head = from + len(body)
		}
		out = append(out, n...)
		for _, v := range []uint32{sumOf(table), uint32(from + len(body)), uint32(len(table))} {
			out = binary.BigEndian.AppendUint32(out, v)
		}
		body = padded(append(body, table...))
	}
	out = append(out, body...)
	binary.BigEndian.PutUint32(out[head+8:], 0xB1B0AFBA-sumOf(out))
	return out
}

func padded(b []byte) []byte {
	for len(b)%4 != 0 {
		b = append(b, 0)
	}
	return b
}

func sumOf(table []byte) uint32 {
	var sum uint32
	for b := padded(slices.Clone(table)); len(b) > 0; b = b[4:] {
		sum += binary.BigEndian.Uint32(b)
	}
	return sum
}
