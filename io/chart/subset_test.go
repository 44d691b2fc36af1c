package chart

import (
	"encoding/binary"
	"reflect"
	"testing"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"
)

// A smaller face draws and spaces the letters it was made for as the whole one
// does, draws no others, and its sums are right.
func TestSubset(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		letters := []rune(rapid.StringMatching(`[ -~¡-žΑ-ωА-я…×]{1,30}`).Draw(t, "letters"))
		f := faces[rapid.IntRange(0, 1).Draw(t, "face")]
		small, err := subset(f.ttf, letters)
		if err != nil {
			t.Fatal(err)
		}
		if len(small) > len(f.ttf)/4 {
			t.Errorf("%d bytes of %d", len(small), len(f.ttf))
		}
		whole, err := sfnt.Parse(f.ttf)
		if err != nil {
			t.Fatal(err)
		}
		got, err := sfnt.Parse(small)
		if err != nil {
			t.Fatal(err)
		}
		outline := func(x *sfnt.Font, r rune) (sfnt.Segments, fixed.Int26_6) {
			var buf sfnt.Buffer
			g, err := x.GlyphIndex(&buf, r)
			if err != nil {
				t.Fatal(err)
			}
			width, err := x.GlyphAdvance(&buf, g, fixed.I(40), 0)
			if err != nil {
				t.Fatal(err)
			}
			s, err := x.LoadGlyph(&buf, g, fixed.I(40), nil)
			if err != nil {
				t.Fatal(err)
			}
			return append(sfnt.Segments{}, s...), width
		}
		kept := map[rune]bool{}
		for _, r := range letters {
			kept[r] = true
			a, w := outline(whole, r)
			if b, v := outline(got, r); !reflect.DeepEqual(a, b) || w != v {
				t.Errorf("%q is drawn otherwise", r)
			}
		}
		if s, _ := outline(got, 'Ж'); !kept['Ж'] && len(s) > 0 {
			t.Error("Ж is there and was not asked for")
		}
		// The whole file adds up to this, checksums included (OpenType 1.9, "head").
		if s := sum(small); s != 0xB1B0AFBA {
			t.Errorf("the file adds up to %08x", s)
		}
		tables, err := tablesOf(small)
		if err != nil {
			t.Fatal(err)
		}
		for i := range int(binary.BigEndian.Uint16(small[4:])) {
			entry := small[12+16*i:]
			name := string(entry[:4])
			b := tables[name]
			if name == "head" {
				binary.BigEndian.PutUint32(b[8:], 0)
			}
			if want := binary.BigEndian.Uint32(entry[4:]); sum(b) != want {
				t.Errorf("%s adds up to %08x, not %08x", name, sum(b), want)
			}
		}
	})
}

func TestADamagedFaceIsAFault(t *testing.T) {
	for _, n := range []int{0, 11, 12, 100, 5000, 100_000} {
		if _, err := subset(faces[0].ttf[:n], []rune("a")); err == nil {
			t.Errorf("%d bytes are taken for a face", n)
		}
	}
}
