package model

import (
	"cmp"
	"slices"
)

// PartChanges is how much a change of part on the stand counts within a block.
// What research says does not settle it, so it is the player's. Practice in turns
// is learned better than one thing after the other in the laboratory, almost not
// at all in applied settings (Czyż et al., Scientific Reports 14, 15974, 2024). Ten
// clarinettists were rated better after turns of three minutes where the raters
// saw a difference (Carter & Grahn, Frontiers in Psychology 7, 1251, 2016), twenty
// violinists a day after one thing at a time (Mathias & Goldman, Journal of
// Research in Music Education 72, 357-375, 2025).
type PartChanges int

// The kinds of wish for changes of part. FewChanges is the default; it is common
// practice, no source.
const (
	FewChanges     PartChanges = iota // few of them, where that costs no other wish
	MixedParts                        // they cost nothing
	OneWorkAtATime                    // few of them, before strains, hard places and the day's end
)

// PartChangesNames are the kinds as they are written in a season file, by kind.
var PartChangesNames = []string{"few", "mixed", "one work at a time"}

// String writes the kind as in a season file.
func (c PartChanges) String() string { return PartChangesNames[c] }

// partChanges counts the times within a block that what is played next belongs
// to another part. The warm-up belongs to none.
func partChanges(sessions []*Session, blocks []Span) (n int) {
	type piece struct {
		Span
		part string
	}
	var pieces []piece
	for _, v := range sessions {
		if v.Stage.Playing() && v.Part != "" {
			for _, p := range v.Pieces() {
				pieces = append(pieces, piece{p, v.Part})
			}
		}
	}
	slices.SortFunc(pieces, func(a, b piece) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To)) })
	for i := 1; i < len(pieces); i++ {
		a, b := pieces[i-1], pieces[i]
		if a.part != b.part && slices.ContainsFunc(blocks, func(k Span) bool { return k.From <= a.From && b.To <= k.To }) {
			n++
		}
	}
	return n
}
