package stand

import (
	"bytes"
	"cmp"
	_ "embed"
	"fmt"
	"html/template"
	"net/http"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"primaprova/model"
)

// maker makes days of what they are made of.
type maker struct {
	*model.View
	locale model.Locale
	loads  *model.Loads  // of the days shown alone
	live   []model.Event // of the record, what counts
}

func (m *maker) day(d model.Date) Day {
	sheet, load := m.Sheet(d), m.loads.On(d)
	out := Day{Date: d, Title: m.locale.Long(d), Services: m.services(d), Free: m.Season.RestWord(d, m.History), Load: load.Said(model.Minutes.String),
		Marks: m.Season.Marked(d, m.locale.Day), Ahead: m.firstRehearsal(d), Lines: []Line{}, Also: []Also{}, Found: []Found{}, Mind: sheet.Mind}
	if out.Mind == nil {
		out.Mind = []string{}
	}
	if out.Marks == nil {
		out.Marks = []string{}
	}
	there := map[model.SessionDay]bool{}
	for i := range sheet.Lines {
		out.Lines = append(out.Lines, m.line(&sheet.Lines[i]))
		if v := sheet.Lines[i].Session; v != nil {
			there[v.Key()] = true
		}
	}
	for i := range m.live {
		switch e := &m.live[i]; {
		case e.Date != d:
		case e.Session != "" && !there[e.Key()]:
			out.Also = append(out.Also, Also{e.Session, saidBy(e)})
		case e.Kind == model.Pain:
			out.Pain = entry(e)
		case e.Kind == model.Found:
			out.Found = append(out.Found, Found{e.Part, m.ShortTitle(e.Part), e.Bars, entry(e)})
		}
	}
	return out
}

func saidBy(e *model.Event) *Said { return &Said{e.Kind, e.Took, e.Tempo, entry(e)} }

// entry is what an undo names.
func entry(e *model.Event) string { return cmp.Or(e.ID, strconv.Itoa(e.Entry)) }

func (m *maker) line(l *model.SheetLine) Line {
	v := l.Session
	if v == nil {
		out := Line{Minutes: l.Rest, Do: l.Do}
		if l.From != nil {
			out.At = m.locale.Clock(*l.From)
		}
		return out
	}
	out := Line{ID: v.ID, Number: v.Number, Stage: v.Stage, Part: v.Part, Work: model.ShortTitle(l.Work), Bars: l.Bars, Check: l.Check, Minutes: v.Minutes,
		Playing: v.Playing, Do: m.locale.Doing(l), Tempo: l.Tempo, Nature: model.Nature(l.Hard, l.Exposed)}
	if v.Visit != nil && v.Visits != nil {
		out.Visit = fmt.Sprintf("%d of %d", *v.Visit, *v.Visits)
	}
	if v.Start != nil {
		out.At = m.locale.Clock(*v.Start)
	}
	if e := m.Recorded[v.Key()]; e != nil {
		out.Said = saidBy(e)
	}
	return out
}

// services says the day's services and what else is played, in the order of the day.
func (m *maker) services(d model.Date) []string {
	type at struct {
		from model.Clock
		text string
	}
	var all []at
	for i := range m.Season.Programmes {
		p := &m.Season.Programmes[i]
		for _, s := range p.Services {
			if s.Date != d {
				continue
			}
			what := s.Kind.String()
			if d == p.FirstRehearsal() && s.Kind.Rehearses() {
				what = "first " + what
			}
			text := fmt.Sprintf("%s %s, %s", m.locale.Hours(model.Span{From: s.Start, To: s.Start + model.Clock(s.Lasts)}), what, p.Title)
			if s.Missed {
				text += ": not played"
			}
			all = append(all, at{s.Start, text})
		}
	}
	for _, o := range m.Season.OtherOn(d) {
		when := ""
		if o.At.To > 0 {
			when = m.locale.Hours(o.At) + " "
		}
		all = append(all, at{o.At.From, when + o.Title})
	}
	slices.SortStableFunc(all, func(a, b at) int { return cmp.Compare(a.from, b.from) })
	out := []string{}
	for _, x := range all {
		out = append(out, x.text)
	}
	return out
}

// firstRehearsal says how far away the next programme's first rehearsal is, or what
// stands in its place.
func (m *maker) firstRehearsal(d model.Date) string {
	next := m.Season.NextFirst(d)
	if next == nil {
		return ""
	}
	what := next.FirstIs()
	switch n := int(next.FirstRehearsal() - d); n {
	case 0:
		return "Today: " + what + ", " + next.Title
	case 1:
		return "Tomorrow: " + what + ", " + next.Title
	default:
		return fmt.Sprintf("In %d days: %s, %s", n, what, next.Title)
	}
}

// moves gives what the names of a part's passages begin with, where that is the
// number of a movement.
func moves(passages []model.PassageWork) []string {
	out := []string{}
	for i := range passages {
		first, _, more := strings.Cut(passages[i].Passage.Bars, " ")
		if more && strings.Trim(first, "IVX") == "" && first != "" && !slices.Contains(out, first) {
			out = append(out, first)
		}
	}
	return out
}

// letter is a rehearsal letter among the words of a passage's bars.
var letter = regexp.MustCompile(`(^|[ –-])[A-Z]{1,2}([ –-]|$)`)

// lettered tells whether a part's bars are named by rehearsal letters. A first word that
// is the number of a movement says nothing of that.
func lettered(passages []model.PassageWork) bool {
	return slices.ContainsFunc(passages, func(w model.PassageWork) bool {
		bars := w.Passage.Bars
		if first, rest, more := strings.Cut(bars, " "); more && strings.Trim(first, "IVX") == "" {
			bars = rest
		}
		return letter.MatchString(bars)
	})
}

//go:embed steps.html.tmpl
var stepsText string

var steps = template.Must(template.New("steps").Parse(stepsText))

// Steps serves, unencrypted and under the same key, what a phone needs before it can
// trust the page at an address: the root's certificate, and how to install it.
func Steps(key func() (string, error), r *Root, page string) (http.Handler, error) {
	var b bytes.Buffer
	if err := steps.Execute(&b, struct{ Fingerprint, Page string }{r.Fingerprint(), page}); err != nil {
		return nil, err
	}
	files := map[string]asset{
		"":         {kinds[".html"], b.Bytes(), squeezed(b.Bytes())},
		"root.crt": {"application/x-x509-ca-cert", r.cert.Raw, squeezed(r.cert.Raw)},
	}
	return http.HandlerFunc(func(w http.ResponseWriter, q *http.Request) {
		headers(w.Header())
		k, err := key()
		rest, ok := under(k, q.URL)
		file, isFile := files[rest]
		if err != nil || !ok || !isFile || !fromHere(q.Host) || q.Method != http.MethodGet {
			http.NotFound(w, q)
			return
		}
		send(w, q, file, false)
	}), nil
}
