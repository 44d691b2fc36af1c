package main

import (
	"fmt"
	"strings"

	"primaprova/io/seasonfile"
	"primaprova/model"
)

// After a read-through one knows more: the passages, and how long all of it will
// take. Passages found go into the record, as those found at any other time; a new
// estimate is the player's own word on the part and goes into the season file.

// knowMore adds to what is said of sessions the passages that were found in them, and
// notes new estimates. At a terminal it asks after a read-through of a part that has
// nothing but an estimate.
func (b *book) knowMore(all []*sayings, ask bool) ([]*sayings, error) {
	out := all
	var faults []string
	for _, o := range all {
		if o.fault != nil || len(o.what) == 0 {
			if o.fault == nil && (len(o.passages) > 0 || o.estimate != "") {
				faults = append(faults, o.where+"--passage and --estimate are said of a session: of the read-through in which they were found")
			}
			continue
		}
		parts, err := b.partsOf(o)
		switch {
		case err != nil: // said where the sessions are recorded
			continue
		case len(o.passages) == 0 && o.estimate == "":
			if ask && !o.notDone && !o.notHeld {
				out = append(out, b.askRead(o, parts)...)
			}
			continue
		case o.notDone:
			faults = append(faults, o.where+"--passage and --estimate are not said of what was not done")
			continue
		case len(parts) != 1:
			faults = append(faults, fmt.Sprintf("%s--passage and --estimate are said of one part at a time, not of %d", o.where, len(parts)))
			continue
		}
		for _, text := range o.passages {
			q, err := passageOf("--passage", text)
			if err != nil {
				faults = append(faults, o.where+err.Error())
				continue
			}
			out = append(out, found(o, parts[0].Part, q, parts[0].Stage == model.ListeningStage))
		}
		if o.estimate != "" {
			m, err := model.ParseMinutes(o.estimate)
			if err != nil {
				faults = append(faults, fmt.Sprintf("%s--estimate: %q is not a length like 80 min or 1 h 20 min", o.where, o.estimate))
				continue
			}
			b.estimates = append(b.estimates, estimated{parts[0].Part, m})
		}
	}
	if len(faults) > 0 {
		return nil, &trouble{code: exitInput, lines: faults, next: "record --help"}
	}
	return out, nil
}

// estimated is a new estimate of a part.
type estimated struct {
	part    string
	minutes model.Minutes
}

// found says a passage found as --found does.
func found(o *sayings, part string, q model.Passage, heard bool) *sayings {
	return &sayings{on: o.on, where: o.where, found: q.Bars, part: part, hard: q.Hard, exposed: q.Exposed, minutes: int(q.Minutes), heard: heard}
}

// partsOf gives a session of each part that is spoken of.
func (b *book) partsOf(o *sayings) ([]*model.Session, error) {
	on, err := b.day(o)
	if err != nil {
		return nil, err
	}
	var out []*model.Session
	seen := map[string]int{}
	for _, word := range o.what {
		if word == "all" && (b.plan == nil || len(b.view.Days[on]) == 0) {
			continue
		}
		sessions, err := b.named(word, on)
		if err != nil {
			return nil, err
		}
		for _, v := range sessions {
			if word == "all" && b.view.Recorded[v.Key()] != nil {
				continue
			}
			i, known := seen[v.Part]
			switch {
			case !known:
				seen[v.Part] = len(out)
				out = append(out, v)
			case v.Stage == model.ReadStage:
				out[i] = v // of several sessions of a part the read-through counts
			}
		}
	}
	return out, nil
}

// askRead asks what was found in the parts that were read, where nothing is known of
// them but an estimate.
func (b *book) askRead(o *sayings, sessions []*model.Session) (out []*sayings) {
	for _, v := range sessions {
		w := b.view.Parts[v.Part]
		if v.Stage != model.ReadStage || w == nil || w.Part.Estimate == 0 || len(w.Part.Passages) > 0 {
			continue
		}
		b.a.say.aside("What was found in %s? Bars, then easy or hard, exposed, minutes, like 45-61, hard. Return where there is nothing more.", b.view.ShortTitle(v.Part))
		for more := true; more; {
			err := b.a.ask("Passage", "", func(answer string) error {
				if more = answer != ""; !more {
					return nil
				}
				q, err := passageOf("passage", answer)
				if err == nil {
					out = append(out, found(o, v.Part, q, false))
				}
				return err
			})
			if err != nil {
				return out
			}
		}
		_ = b.a.ask("Minutes of all its visits together", w.Part.Estimate.String(), func(answer string) error {
			m, err := model.ParseMinutes(answer)
			if err == nil && m != w.Part.Estimate {
				b.estimates = append(b.estimates, estimated{v.Part, m})
			}
			return err
		})
	}
	return out
}

// reestimated gives the season file with the new estimates.
func (b *book) reestimated() (*seasonfile.File, error) {
	f := b.f
	for _, e := range b.estimates {
		var err error
		if f, err = f.Reestimate(e.part, e.minutes); err != nil {
			return nil, editTrouble(err)
		}
	}
	return f, nil
}

// keepEstimates writes the season file after the record: should it fail, what is
// recorded stands and is said.
func (b *book) keepEstimates(edited *seasonfile.File) error {
	if edited == b.f || edited.Changed(b.f) == "" {
		return nil
	}
	err := b.a.alone(b.f.Path, func() error { return edited.Replace(b.f) })
	if err != nil {
		return &trouble{code: exitInput, lines: append([]string{"Recorded; but the new estimate was not written:"}, strings.Split(err.Error(), "\n")...)}
	}
	for _, e := range b.estimates {
		b.a.say.line("%s: %s for all its visits together. Wrote %s.", b.view.ShortTitle(e.part), e.minutes, edited.Changed(b.f))
	}
	return nil
}
