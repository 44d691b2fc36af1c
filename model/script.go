package model

import "unicode"

// scripts are those whose letters stand one after the other from left to right,
// each as its font draws it.
var scripts = []*unicode.RangeTable{unicode.Common, unicode.Inherited, unicode.Latin, unicode.Greek, unicode.Cyrillic, unicode.Armenian,
	unicode.Georgian, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul, unicode.Bopomofo}

// NeedsShaper tells whether a letter is of a script in which letters join, turn
// round or change places. That is the work of a shaper, such as browsers have; where
// there is none, a name with such letters gives way to another.
func NeedsShaper(r rune) bool {
	return !unicode.In(r, scripts...) || unicode.Is(unicode.Bidi_Control, r)
}
