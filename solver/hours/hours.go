package hours

import (
	"cmp"
	"slices"

	"primaprova/model"
)

// hours are what sessions have before something is tried with them.
type hours struct {
	sessions []*model.Session
	were     []model.Session
}

func clockOf(sessions []*model.Session) hours {
	h := hours{sessions: sessions}
	for _, v := range sessions {
		h.were = append(h.were, *v)
	}
	return h
}

func (h hours) restore() {
	for i, v := range h.sessions {
		*v = h.were[i]
	}
}

func sortByStart(sessions []*model.Session) {
	slices.SortStableFunc(sessions, func(a, b *model.Session) int {
		return cmp.Or(cmp.Compare(*a.Start, *b.Start), cmp.Compare(a.ID, b.ID))
	})
}
