package ical

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// lines gives an object's unfolded lines.
func unfolded(data []byte) []string {
	return strings.Split(strings.TrimSuffix(strings.ReplaceAll(string(data), "\r\n ", ""), "\r\n"), "\r\n")
}

// rewritten is an object as a server may give it back: other ends of lines,
// other folds, the event's properties in another order.
func rewritten(r *rand.Rand, lines []string) []byte {
	lines = slices.Clone(lines)
	from := slices.Index(lines, "BEGIN:VEVENT") + 1
	to := from
	for to < len(lines) && lines[to] != "BEGIN:VALARM" && lines[to] != "END:VEVENT" {
		to++
	}
	r.Shuffle(to-from, func(i, j int) { lines[from+i], lines[from+j] = lines[from+j], lines[from+i] })
	end := []string{"\r\n", "\n"}[r.IntN(2)]
	var b strings.Builder
	for _, l := range lines {
		width := 0
		for _, c := range l {
			if width += len(string(c)); width > 40 {
				b.WriteString(end + " ")
				width = 0
			}
			b.WriteRune(c)
		}
		b.WriteString(end)
	}
	return []byte(b.String())
}

// An object is known as untouched however a server writes it and whatever
// notes it takes, and as touched once something that shows is another.
func TestSeal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		s := skerry("Europe/Oslo", dated2026)
		work := "x"
		for range r.IntN(80) {
			work += odd[r.IntN(len(odd))]
		}
		s.Programmes[0].Parts[0].Work = work + "x"
		p := drawn(r, s, dated2026+10, r.IntN(3) > 0)
		o := calls
		o.Entries = []Entries{Sessions, Blocks, Days}[r.IntN(3)]
		o.ByProgramme = r.IntN(2) > 0
		all, err := Objects(s, p, o)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Objects(s, p, o)
		if err != nil {
			t.Fatal(err)
		}
		names := map[string]bool{}
		for i, x := range all {
			if again[i].Name != x.Name || again[i].Sum != x.Sum || string(again[i].Data) != string(x.Data) {
				t.Fatal("the same plan gives other objects")
			}
			if names[x.Name] || !strings.HasPrefix(x.Name, Prefix(s, p)) || !strings.HasSuffix(x.Name, ".ics") {
				t.Fatalf("name %q", x.Name)
			}
			names[x.Name] = true
			if strings.Contains(string(x.Data), "CANCELLED") || strings.Contains(string(x.Data), "METHOD") {
				t.Fatalf("not for a server:\n%s", x.Data)
			}
			if (strings.Contains(string(x.Data), "TZID=") || strings.Contains(string(x.Data), "BEGIN:VTIMEZONE")) !=
				(strings.Contains(string(x.Data), "TZID=") && strings.Contains(string(x.Data), "BEGIN:VTIMEZONE")) {
				t.Fatalf("a zone without its rules:\n%s", x.Data)
			}
			if r.IntN(4) > 0 {
				continue // the rest takes long
			}
			lines := unfolded(x.Data)
			end := slices.Index(lines, "END:VEVENT")
			if first := slices.Index(lines, "BEGIN:VALARM"); first > 0 {
				end = first
			}
			noted := slices.Insert(slices.Clone(lines), end, "CREATED:20270101T000000Z", "LAST-MODIFIED:20270101T000000Z", "X-SEEN:yes", "CLASS:PUBLIC")
			for i, l := range noted {
				switch {
				case strings.HasPrefix(l, "SEQUENCE:"):
					noted[i] = "SEQUENCE:7"
				case l == "END:VALARM":
					noted[i] = "ACKNOWLEDGED:20270101T000000Z\r\nEND:VALARM"
				}
			}
			for _, version := range [][]string{lines, unfolded([]byte(strings.Join(noted, "\r\n") + "\r\n"))} {
				data := rewritten(r, version)
				if sum, ok := Untouched(data); !ok || sum != x.Sum {
					t.Fatalf("nobody touched %q, and %v %q:\n%s", x.Name, ok, sum, data)
				}
			}
			edits := map[string]string{"SUMMARY:": "SUMMARY:by hand ", "STATUS:CONFIRMED": "STATUS:TENTATIVE", "CATEGORIES:": "CATEGORIES:by hand\\,",
				"TRIGGER:": "TRIGGER:P1", "DESCRIPTION:": "DESCRIPTION:by hand ", "UID:": "UID:a", "COLOR:": "COLOR:dark"}
			for before, after := range edits {
				edited := slices.Clone(lines)
				at := slices.IndexFunc(edited, func(l string) bool { return strings.HasPrefix(l, before) })
				if at < 0 {
					continue
				}
				edited[at] = strings.Replace(edited[at], before, after, 1)
				if _, ok := Untouched(rewritten(r, edited)); ok {
					t.Fatalf("%q was edited:\n%s", before, strings.Join(edited, "\n"))
				}
			}
			for _, more := range []string{"LOCATION:at home", "RRULE:FREQ=DAILY", "TRANSP:OPAQUE\r\nPRIORITY:1", "BEGIN:VALARM\r\nACTION:DISPLAY\r\nDESCRIPTION:x\r\nTRIGGER:-PT2M\r\nEND:VALARM"} {
				data := rewritten(r, unfolded([]byte(strings.Join(slices.Insert(slices.Clone(lines), end, strings.Split(more, "\r\n")...), "\r\n"))))
				if _, ok := Untouched(data); ok {
					t.Fatalf("%q was added:\n%s", more, data)
				}
			}
			later := strings.Replace(string(x.Data), "DTSTART;VALUE=DATE:20", "DTSTART;VALUE=DATE:21", 1)
			later = strings.Replace(later, "DTSTART;TZID=Europe/Oslo:2026", "DTSTART;TZID=Europe/Oslo:2027", 1)
			if _, ok := Untouched([]byte(later)); ok && later != string(x.Data) {
				t.Fatalf("it was moved:\n%s", later)
			}
		}
	})
}

const dated2026 = 20531 // 2026-03-19

// Whatever a calendar holds under a name of ours, it is untouched or not.
func FuzzUntouched(f *testing.F) {
	s, p := week()
	all, err := Objects(s, p, calls)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(all[0].Data)
	for _, text := range []string{"", "BEGIN:VCALENDAR", "BEGIN:VCALENDAR\nBEGIN:VEVENT\nUID:a\n", "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nX-PRIMAPROVA-SEAL:-\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n",
		"BEGIN:VCALENDAR\nBEGIN:VEVENT\nDTSTART;TZID=\":x\nEND:VEVENT\nEND:VCALENDAR\n", "BEGIN:VEVENT\nBEGIN:VALARM\nEND:VEVENT", ":\n ;"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if sum, ok := Untouched(data); ok && len(sum) > len(data) {
			t.Errorf("sum %q", sum)
		}
	})
}
