package model

import "fmt"

// Paper is the size of a sheet.
type Paper string

// The papers: A sizes of ISO 216, and Letter and Tabloid of ANSI/ASME Y14.1.
const (
	A4      Paper = "a4"
	A3      Paper = "a3"
	A2      Paper = "a2"
	Letter  Paper = "letter"
	Tabloid Paper = "tabloid"
)

// Papers lists the papers by name.
var Papers = []Paper{A4, A3, A2, Letter, Tabloid}

const pointsPerMillimetre = 72 / 25.4

// Size gives the sheet's short and long side in points (1/72 inch). An unknown
// paper has no size.
func (p Paper) Size() (short, long float64) {
	switch p {
	case A4:
		return 210 * pointsPerMillimetre, 297 * pointsPerMillimetre
	case A3:
		return 297 * pointsPerMillimetre, 420 * pointsPerMillimetre
	case A2:
		return 420 * pointsPerMillimetre, 594 * pointsPerMillimetre
	case Letter:
		return 8.5 * 72, 11 * 72
	case Tabloid:
		return 11 * 72, 17 * 72
	}
	return 0, 0
}

// Larger gives the paper of twice the size or more for what has to be read from
// across a room; the largest of a family is its own.
func (p Paper) Larger() Paper {
	switch p {
	case A4:
		return A3
	case A3:
		return A2
	case Letter:
		return Tabloid
	}
	return p
}

// ParsePaper reads a paper's name.
func ParsePaper(s string) (Paper, error) {
	for _, p := range Papers {
		if s == string(p) {
			return p, nil
		}
	}
	return "", fmt.Errorf("%q is none of the papers a4, a3, a2, letter, tabloid", s)
}
