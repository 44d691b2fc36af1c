package wall

import (
	"cmp"

	"primaprova/model"
)

// share is a part of a day's load. A programme of -1 is the warm-up's, of a service
// other playing.
type share struct {
	programme int
	service   bool
	minutes   model.Minutes
}

// byKind orders shares: services, other playing, the warm-up, then planned playing
// by programme.
func byKind(a, b share) int {
	other := func(s share) int { return b2i(s.service && s.programme < 0) }
	return cmp.Or(cmp.Compare(b2i(b.service), b2i(a.service)), cmp.Compare(other(a), other(b)), cmp.Compare(a.programme, b.programme))
}

func (d *day) add(s share) {
	for i := range d.shares {
		if d.shares[i].programme == s.programme && d.shares[i].service == s.service {
			d.shares[i].minutes += s.minutes
			return
		}
	}
	d.shares = append(d.shares, s)
}

// share draws a part of a load: services solid, planned playing in its pattern.
func (d *diary) share(s *sheet, sh share, at box) {
	switch {
	case sh.service && sh.programme < 0:
		s.add(area{box: at, ink: quiet}, area{box: at.in(min(1, at.w/4), min(1, at.h/4)), ink: paper})
	case sh.service:
		s.add(area{box: at, ink: d.programmes[sh.programme].look.tone})
	case sh.programme < 0:
		s.add(area{box: at, ink: faint})
	default:
		s.add(texture{at, d.programmes[sh.programme].look})
	}
}
