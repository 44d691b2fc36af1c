package pdf

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// embeddable tells why a font file cannot be embedded, nil where it can. The PDF
// library takes TrueType outlines with a character map of format 4; on others it
// goes on with what it has, and writes to standard output. Field positions are
// those of the OpenType specification (ISO/IEC 14496-22).
func embeddable(b []byte) error {
	u16 := func(at int) int {
		if at < 0 || at+2 > len(b) {
			return -1
		}
		return int(binary.BigEndian.Uint16(b[at:]))
	}
	if len(b) < 12 {
		return errors.New("is too short for a font")
	}
	if kind := string(b[:4]); kind != "\x00\x01\x00\x00" && kind != "true" {
		return errors.New("is not a TrueType font (.ttf); a collection or one with PostScript outlines cannot be embedded")
	}
	tables := map[string]int{}
	for i := range u16(4) {
		at := 12 + 16*i
		if at+16 > len(b) {
			return errors.New("ends before its list of tables does")
		}
		from, size := int64(binary.BigEndian.Uint32(b[at+8:])), int64(binary.BigEndian.Uint32(b[at+12:]))
		if from+size > int64(len(b)) {
			return fmt.Errorf("ends before its table %q does", b[at:at+4])
		}
		tables[string(b[at:at+4])] = int(from)
	}
	for _, name := range []string{"cmap", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "name", "OS/2", "post"} {
		if _, ok := tables[name]; !ok {
			return fmt.Errorf("has no table %q", name)
		}
	}
	if rights := u16(tables["OS/2"] + 8); rights&0x000f == 2 || rights&0x0300 != 0 {
		return errors.New("may not be embedded in part, by what its maker wrote into it")
	}
	if u16(tables["name"]) != 0 || u16(tables["head"]+52) != 0 || u16(tables["hhea"]+32) != 0 ||
		u16(tables["hhea"]+34) < 1 || u16(tables["head"]+50) > 1 || u16(tables["head"]+18) < 16 {
		return errors.New("has tables of a kind that cannot be embedded")
	}
	maps := tables["cmap"]
	for i := range max(0, u16(maps+2)) {
		at := maps + 4 + 8*i
		if at+8 > len(b) {
			break
		}
		system, coding := u16(at), u16(at+2)
		if (system == 0 || system == 3 && coding == 1) && u16(maps+int(binary.BigEndian.Uint32(b[at+4:]))) == 4 {
			return nil
		}
	}
	return errors.New("has no character map of Unicode in format 4")
}
