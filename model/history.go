package model

// History is what the record says happened, by the names of the parts and
// passages it happened to.
type History struct {
	Today   Date                 // days before it are past
	Stages  map[string]Date      // stage id -> the day it was done
	Visits  map[string][]Date    // passage name -> days of visits done, in order
	Found   map[string][]Passage // part name -> passages found since the season file was written
	Dropped map[string]bool      // passage name -> no longer needed
	Again   map[string]int       // passage name -> visit (from 1) that comes next after a check that did not hold
	Played  map[Date]Minutes     // planned playing minutes that past days really took, warm-up apart
}

func (h *History) stageDays(part string) (listened, read, recorded Date) {
	return h.Stages[StageID(part, ListeningStage)], h.Stages[StageID(part, ReadStage)], h.Stages[StageID(part, RecordingsStage)]
}

func (h *History) found(part string) []Passage { return h.Found[part] }

// apply takes off a passage what was done.
func (h *History) apply(w *PassageWork, s *Season) {
	w.Done = h.Visits[w.Name]
	if h.Dropped[w.Name] {
		w.Recipe = w.Recipe[:min(len(w.Done), len(w.Recipe))]
		return
	}
	if again := h.Again[w.Name]; again > 0 && again <= len(w.Recipe) {
		// The visits from `again` on are wanted once more, after those done.
		tail := append([]Visit(nil), w.Recipe[again-1:]...)
		// A recipe's first visit has no gap; taken again it follows another.
		tail[0].Least = max(1, tail[0].Least)
		tail[0].Preferred = max(tail[0].Preferred, at(s.Habits.PreferredGaps, 0))
		full := append([]Visit(nil), w.Recipe[:min(len(w.Done), len(w.Recipe))]...)
		for len(full) < len(w.Done) {
			full = append(full, w.Recipe[len(w.Recipe)-1])
		}
		w.Recipe = append(full, tail...)
	}
}
