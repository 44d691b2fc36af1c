package chart

import (
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"slices"

	"golang.org/x/image/font/sfnt"
)

// subset gives a TrueType face with the outlines of some letters alone: a tenth
// of the bytes or less. Glyphs keep their numbers, so that every other table
// stays true; those that are not needed become empty. What browsers use for
// kerning and ligatures is left away, since texts are measured without them.
// Of libraries, fpdf's subsetter is not to be had alone and makes faces for PDF, with glyphs renumbered
// and no cmap; github.com/tdewolff/font has no released version, and seehuhn.de/go/sfnt one whose
// requirements the checksum database lacks. Tables and checksums: OpenType 1.9, "glyf", "loca", "head", "post".
func subset(ttf []byte, letters []rune) ([]byte, error) {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, err
	}
	tables, err := tablesOf(ttf)
	if err != nil {
		return nil, err
	}
	wanted := map[int]bool{0: true} // glyph 0 stands for what is missing
	var buf sfnt.Buffer
	for _, r := range letters {
		g, err := f.GlyphIndex(&buf, r)
		if err != nil {
			return nil, err
		}
		wanted[int(g)] = true
	}
	if err := outlines(tables, wanted); err != nil {
		return nil, err
	}
	post := make([]byte, 32) // version 3: without the glyphs' names
	copy(post, tables["post"])
	binary.BigEndian.PutUint32(post, 0x00030000)
	tables["post"] = post
	return assembled(tables), nil
}

// kept are the tables of the smaller face, in the order they have to stand in.
var kept = []string{"OS/2", "cmap", "cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "name", "post", "prep"}

var errFace = errors.New("the typeface is damaged")

func tablesOf(ttf []byte) (map[string][]byte, error) {
	out := map[string][]byte{}
	if len(ttf) < 12 {
		return nil, errFace
	}
	for i := range int(binary.BigEndian.Uint16(ttf[4:])) {
		at := 12 + 16*i
		if at+16 > len(ttf) {
			return nil, errFace
		}
		from, n := uint64(binary.BigEndian.Uint32(ttf[at+8:])), uint64(binary.BigEndian.Uint32(ttf[at+12:]))
		if from+n > uint64(len(ttf)) {
			return nil, errFace
		}
		if name := string(ttf[at : at+4]); slices.Contains(kept, name) {
			out[name] = slices.Clone(ttf[from : from+n])
		}
	}
	if len(out["head"]) < 54 || len(out["post"]) < 32 || out["glyf"] == nil || out["loca"] == nil {
		return nil, fmt.Errorf("%w: a table is missing", errFace)
	}
	return out, nil
}

// outlines leaves in "glyf" the wanted glyphs and those they are put together
// from, and rewrites "loca", in its long form.
func outlines(tables map[string][]byte, wanted map[int]bool) error {
	head, glyf, loca := tables["head"], tables["glyf"], tables["loca"]
	long := binary.BigEndian.Uint16(head[50:]) == 1
	count := len(loca)/4 - 1
	at := func(g int) int { return int(binary.BigEndian.Uint32(loca[4*g:])) }
	if !long {
		count = len(loca)/2 - 1
		at = func(g int) int { return 2 * int(binary.BigEndian.Uint16(loca[2*g:])) }
	}
	outline := func(g int) ([]byte, error) {
		if g >= count || at(g) > at(g+1) || at(g+1) > len(glyf) {
			return nil, errFace
		}
		return glyf[at(g):at(g+1)], nil
	}
	for todo := slices.Sorted(maps.Keys(wanted)); len(todo) > 0; todo = todo[1:] {
		b, err := outline(todo[0])
		if err != nil {
			return err
		}
		for _, g := range components(b) {
			if !wanted[g] {
				wanted[g] = true
				todo = append(todo, g)
			}
		}
	}
	var out []byte
	places := make([]byte, 4*(count+1))
	for g := range count {
		binary.BigEndian.PutUint32(places[4*g:], uint32(len(out)))
		if wanted[g] {
			b, err := outline(g)
			if err != nil {
				return err
			}
			out = append(out, b...)
			out = append(out, make([]byte, -len(b)&3)...)
		}
	}
	binary.BigEndian.PutUint32(places[4*count:], uint32(len(out)))
	binary.BigEndian.PutUint16(head[50:], 1)
	tables["glyf"], tables["loca"] = out, places
	return nil
}

// components gives the glyphs that a composite one is put together from; a
// simple one has none.
func components(b []byte) []int {
	const (
		wordArguments = 1 << 0
		oneScale      = 1 << 3
		more          = 1 << 5
		twoScales     = 1 << 6
		matrix        = 1 << 7
	)
	if len(b) < 10 || int16(binary.BigEndian.Uint16(b)) >= 0 {
		return nil
	}
	var out []int
	for b = b[10:]; len(b) >= 4; {
		flags := binary.BigEndian.Uint16(b)
		out = append(out, int(binary.BigEndian.Uint16(b[2:])))
		n := 6
		if flags&wordArguments != 0 {
			n += 2
		}
		switch {
		case flags&oneScale != 0:
			n += 2
		case flags&twoScales != 0:
			n += 4
		case flags&matrix != 0:
			n += 8
		}
		if flags&more == 0 || n > len(b) {
			break
		}
		b = b[n:]
	}
	return out
}

// assembled puts the tables into a file, with its directory and checksums.
func assembled(tables map[string][]byte) []byte {
	var names []string
	for _, name := range kept {
		if tables[name] != nil {
			names = append(names, name)
		}
	}
	binary.BigEndian.PutUint32(tables["head"][8:], 0) // while sums are made
	n, power, log := len(names), 1, 0
	for power*2 <= n {
		power, log = power*2, log+1
	}
	out := binary.BigEndian.AppendUint32(nil, 0x00010000)
	for _, v := range []int{n, 16 * power, log, 16 * (n - power)} {
		out = binary.BigEndian.AppendUint16(out, uint16(v))
	}
	from, head := 12+16*n, 0
	for _, name := range names {
		b := tables[name]
		if name == "head" {
			head = from
		}
		out = append(out, name...)
		for _, v := range []uint32{sum(b), uint32(from), uint32(len(b))} {
			out = binary.BigEndian.AppendUint32(out, v)
		}
		from += (len(b) + 3) &^ 3
	}
	for _, name := range names {
		out = append(out, tables[name]...)
		out = append(out, make([]byte, -len(tables[name])&3)...)
	}
	binary.BigEndian.PutUint32(out[head+8:], 0xB1B0AFBA-sum(out))
	return out
}

// sum adds a table up in words of 32 bits, as if zeros followed its end.
func sum(b []byte) uint32 {
	var s uint32
	for len(b) >= 4 {
		s += binary.BigEndian.Uint32(b)
		b = b[4:]
	}
	var last [4]byte
	copy(last[:], b)
	return s + binary.BigEndian.Uint32(last[:])
}
