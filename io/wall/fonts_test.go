package wall

import (
	"bytes"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"unicode"

	"codeberg.org/go-fonts/dejavu/dejavusansmono"
	"codeberg.org/go-fonts/liberation/liberationsansregular"

	"primaprova/model"
)

// Letters of European languages, from memory; the signs of flats and naturals.
var letters = map[string]string{
	"Norwegian": "æøåÆØÅ", "Sami": "áčđŋšŧž", "Icelandic": "ðþÐÞ", "Czech": "ěščřžýáíéúůďťňĚŠČŘŽÝÁÍÉÚŮĎŤŇ", "Slovak": "ĺľŕôä",
	"Polish": "ąćęłńóśźżĄĆĘŁŃÓŚŹŻ", "Hungarian": "őűŐŰ", "Romanian": "șțȘȚăâî", "Turkish": "ğıİşç", "Maltese": "ħġċżĦĠĊŻ",
	"Latvian": "ģķļņūĢĶĻŅŪ", "Lithuanian": "ėįųĖĮŲ", "Welsh": "ŵŷŴŶ", "German": "äöüßẞ", "French": "œçéèêëîïûÿŒ",
	"Greek": "αβγδεζηθικλμνξοπρστυφχψωάέήίόύώϊϋΐΰςΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩΆΈΉΊΌΎΏ", "old Greek": "ἀἁὰᾶῆ",
	"Russian": "абвгдеёжзийклмнопрстуфхцчшщъыьэюя", "Ukrainian": "іїєґ", "Serbian": "љњћџђј", "Georgian": "აბგ", "Armenian": "ԱԲաբ",
	"signs": "♭♮♯–—‘’“”„«»…·×½№",
}

func TestLettersOfEurope(t *testing.T) {
	f, err := newFonts(nil)
	if err != nil {
		t.Fatal(err)
	}
	for language, all := range letters {
		for _, bold := range []bool{false, true} {
			for _, r := range f.split(all, bold) {
				if strings.Contains(r.text, "?") {
					t.Errorf("%s, bold %v: letters are missing: %q", language, bold, string(f.missing()))
				}
			}
		}
	}
	if m := f.missing(); len(m) > 0 {
		t.Errorf("missing: %q", string(m))
	}
}

// What no font has is told. A programme's or a part's id takes its title's place, a
// number that of a passage; nothing stands as ?.
func TestMissingLetters(t *testing.T) {
	s, p := full()
	s.Title, s.Programmes[0].Title, s.Programmes[0].ID = "音 in C 🎻", "交響曲 in C", "tide"
	var b bytes.Buffer
	missing, err := Write(&b, s, p, nil, Options{Locale: model.DefaultLocale(), Sheets: []Sheet{Season}})
	if err != nil {
		t.Fatal(err)
	}
	if want := []rune("交曲音響🎻"); !slices.Equal(missing, want) {
		t.Errorf("missing: %q, want %q", string(missing), string(want))
	}
	path := written(t, s, p, Options{Locale: model.DefaultLocale(), Sheets: []Sheet{Season}})
	if text := read(t, file{Path: path})[0].Texts[0]; !strings.Contains(text, "The season") || !strings.Contains(text, "tide") || strings.Contains(text, "?") {
		t.Errorf("read: %q", text)
	}
}

// Scripts whose letters join, turn round or change places are not set letter by
// letter, whatever letters a font has: ids and numbers stand in place of such
// names, in every place of every sheet.
func TestScriptsThatNeedAShaper(t *testing.T) {
	for _, name := range []string{"منارة الشمال", "גלי הים", "दीपस्तम्भ", "ประภาคาร", "灯台 \u200fא"} {
		s, p := full()
		s.Title, s.Instrument = name, name
		for i := range s.Programmes {
			q := &s.Programmes[i]
			q.Title = name
			for j := range q.Parts {
				q.Parts[j].Work = name
				for k := range q.Parts[j].Passages {
					q.Parts[j].Passages[k].Bars = name
				}
			}
		}
		l := model.DefaultLocale()
		l.Weekdays = []string{name, name, name, name, name, name, name}
		for _, sh := range laid(t, s, p, Options{Locale: l, Sheets: Sheets, Days: model.Range{From: s.From, To: s.From + 13}}) {
			for _, i := range sh.items {
				w, ok := i.(word)
				if !ok {
					continue
				}
				for _, r := range w.text {
					if r == '?' || unicode.Is(unicode.Bidi_Control, r) || unicode.In(r, unicode.Arabic, unicode.Hebrew, unicode.Devanagari, unicode.Thai) {
						t.Fatalf("%s: %s: %q is written", name, sh.title, w.text)
					}
				}
			}
		}
	}
}

// A font of the reader's own serves what the others lack: here the flat, with
// DejaVu Sans, which has one, left out.
func TestOwnFont(t *testing.T) {
	f, err := newFonts(dejavusansmono.TTF)
	if err != nil {
		t.Fatal(err)
	}
	f.regular = []*face{f.regular[0], f.regular[2]}
	runs := f.split("B♭ minor", false)
	if len(runs) != 3 || runs[1].face != f.regular[1] || runs[1].text != "♭" || runs[1].width != 602 || len(f.missing()) > 0 {
		t.Errorf("runs %+v, missing %q", runs, string(f.missing()))
	}
	if runs[0].face != f.regular[0] || runs[2].text != " minor" {
		t.Errorf("runs %+v", runs)
	}
}

// Fonts that cannot be embedded are refused in words, without a line of the
// library's own.
func TestFontsRefused(t *testing.T) {
	spoilt := func(at int, b ...byte) []byte {
		ttf := slices.Clone(liberationsansregular.TTF)
		copy(ttf[at:], b)
		return ttf
	}
	table := func(name string) int {
		at := bytes.Index(liberationsansregular.TTF[:400], []byte(name))
		b := liberationsansregular.TTF[at+8:]
		return int(b[0])<<24 | int(b[1])<<16 | int(b[2])<<8 | int(b[3])
	}
	for want, ttf := range map[string][]byte{
		"too short":             []byte("\x00\x01"),
		"not a TrueType font":   spoilt(0, 'O', 'T', 'T', 'O'),
		"ends before its table": liberationsansregular.TTF[:9000],
		"ends before its list":  liberationsansregular.TTF[:20],
		`no table "glyf"`:       bytes.Replace(liberationsansregular.TTF, []byte("glyf"), []byte("glyg"), 1),
		"may not be embedded":   spoilt(table("OS/2")+8, 0, 2),
		"of a kind":             spoilt(table("name"), 0, 1),
		"no character map":      spoilt(table("cmap")+2, 0, 0),
	} {
		if _, err := newFonts(ttf); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q: %v", want, err)
		}
	}
}

// Whatever a font file holds, it is taken or refused; a page is written with it
// or an error told.
func FuzzFont(f *testing.F) {
	f.Add([]byte{}, uint64(0))
	f.Add(liberationsansregular.TTF[:2000], uint64(0))
	for seed := range uint64(40) {
		f.Add([]byte(nil), seed+1)
	}
	s, p := full()
	s.Title = "A title in Ωmega and ж and ⲁ"
	f.Fuzz(func(t *testing.T, b []byte, seed uint64) {
		if seed > 0 { // a real font with some bytes of its tables spoilt
			r := rand.New(rand.NewPCG(seed, 1))
			b = slices.Clone(liberationsansregular.TTF)
			for range 1 + r.IntN(40) {
				b[r.IntN(len(b))] = byte(r.UintN(256))
			}
			if r.IntN(2) == 0 {
				b[12+r.IntN(300)] ^= 1 << r.UintN(8)
			}
		}
		var out bytes.Buffer
		o := Options{Locale: model.DefaultLocale(), Sheets: []Sheet{Season}, Days: model.Range{From: s.From, To: s.From + 6}, Font: b}
		if _, err := Write(&out, s, p, nil, o); err == nil && out.Len() == 0 {
			t.Error("neither page nor error")
		}
	})
}
