package model

// A work's length gives a first estimate of what is heard and read: it is heard once at
// its duration, and read through in one and a half times that, with what is looked at
// again, but not for more than 90 minutes, since nobody reads an opera in one go;
// recordings are returned to for as long as it lasts, at most as long as habits say. Bars without a duration count 30 a minute, four quarters at 120. All of it is
// common practice, no source, and stands only where a part says nothing itself.

const (
	barsAMinute = 30
	mostRead    = 90 // minutes
)

// Lasting gives a part the lengths that follow from the duration or the bars of its work.
func (p *Part) Lasting(duration Minutes, bars int, h *Habits) {
	if duration == 0 {
		duration = Minutes((bars + barsAMinute - 1) / barsAMinute)
	}
	if duration == 0 {
		return
	}
	p.Duration = duration
	p.Listening = duration
	p.ReadThrough = (min(mostRead, 3*duration/2) + h.Step - 1) / h.Step * h.Step
	p.Recordings = min(duration, h.Recordings)
}
