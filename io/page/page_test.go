package page

import (
	"bytes"
	"errors"
	"io"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"primaprova/model"
	"primaprova/model/invent"
)

// void are the elements without an end (HTML standard, 13.1.2).
var void = []string{"meta", "link", "br", "img", "input", "hr"}

// implied are the elements whose end tag may be left away here (HTML standard,
// 13.1.2.4): the next of them, or their parent's end, ends them.
var implied = []string{"li", "p"}

// closed wants every other element ended, in the order it was begun: a parser mends
// what isn't, and would hide it.
func closed(t *testing.T, page []byte) {
	t.Helper()
	z := html.NewTokenizer(bytes.NewReader(page))
	var open []string
	for {
		switch z.Next() {
		case html.ErrorToken:
			if !errors.Is(z.Err(), io.EOF) || len(open) > 0 {
				t.Errorf("%v; open at the end: %q", z.Err(), open)
			}
			return
		case html.StartTagToken:
			if name := z.Token().Data; !slices.Contains(void, name) {
				if name == "li" {
					open = ended(open)
				}
				open = append(open, name)
			}
		case html.EndTagToken:
			name := z.Token().Data
			if !slices.Contains(implied, name) {
				open = ended(open)
			}
			if len(open) == 0 || open[len(open)-1] != name {
				t.Fatalf("</%s> within %q", name, open)
			}
			open = open[:len(open)-1]
		}
	}
}

// ended leaves away the elements at the end of a list that end by themselves.
func ended(open []string) []string {
	for n := len(open); n > 0 && slices.Contains(implied, open[n-1]); n-- {
		open = open[:n-1]
	}
	return open
}

func parsed(t testing.TB, page []byte) *html.Node {
	t.Helper()
	doc, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func attr(n *html.Node, key string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val, true
		}
	}
	return "", false
}

// said gives the text in a node.
func said(n *html.Node) string {
	var b strings.Builder
	for c := range n.Descendants() {
		if c.Type == html.TextNode {
			b.WriteString(c.Data)
		}
	}
	return strings.TrimSpace(b.String())
}

func elements(n *html.Node, name string) []*html.Node {
	var out []*html.Node
	for c := range n.Descendants() {
		if c.Type == html.ElementNode && c.Data == name {
			out = append(out, c)
		}
	}
	return out
}

func TestThePageStandsAlone(t *testing.T) {
	s, p := awkward()
	page := written(t, s, p, Options{Locale: model.DefaultLocale(), Today: s.From + 20})
	closed(t, page)
	doc := parsed(t, page)
	ids := map[string]bool{}
	for n := range doc.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		if slices.Contains([]string{"link", "img", "iframe", "object", "embed", "base", "form", "i"}, n.Data) {
			t.Errorf("there is a <%s>: %s", n.Data, said(n))
		}
		for _, a := range n.Attr {
			switch {
			case a.Key == "src" || strings.HasPrefix(a.Key, "on"):
				t.Errorf("<%s %s=%q>", n.Data, a.Key, a.Val)
			case a.Key == "id" && ids[a.Val]:
				t.Errorf("id %s twice", a.Val)
			case a.Key == "id":
				ids[a.Val] = true
			}
		}
	}
	for _, a := range elements(doc, "a") {
		if to, _ := attr(a, "href"); !strings.HasPrefix(to, "#") || !ids[to[1:]] {
			t.Errorf("a link leads to %q", to)
		}
	}
	for _, x := range elements(doc, "section") {
		if by, _ := attr(x, "aria-labelledby"); !ids[by] {
			t.Errorf("a section is named by %q", by)
		}
	}
	for _, d := range elements(doc, "details") {
		n := 0
		for c := range d.ChildNodes() {
			if c.Data == "summary" {
				n++
			}
		}
		if n != 1 {
			t.Errorf("%d summaries in one <details>", n)
		}
	}
	policy := ""
	for _, m := range elements(doc, "meta") {
		if of, _ := attr(m, "http-equiv"); of == "Content-Security-Policy" {
			policy, _ = attr(m, "content")
		}
	}
	// One script and one style, each as the policy names it, and nothing else.
	for _, x := range []struct{ name, of string }{{"script", "script-src"}, {"style", "style-src"}} {
		all := elements(doc, x.name)
		if len(all) != 1 || all[0].FirstChild == nil {
			t.Fatalf("%d <%s>", len(all), x.name)
		}
		if want := x.of + " '" + string(hash(all[0].FirstChild.Data)) + "'"; !strings.Contains(policy, want) {
			t.Errorf("the policy has no %s", want)
		}
	}
	if strings.Contains(policy, "unsafe") || bytes.Contains(page, []byte(" style=")) {
		t.Error("the policy allows what it need not, or an element has a style of its own")
	}
	if strings.Contains(css, "url(") || strings.Contains(css, "@import") || strings.Contains(css, "<") {
		t.Error("the style asks for something")
	}
	if lang, _ := attr(elements(doc, "html")[0], "lang"); lang != "en" {
		t.Errorf("lang is %q", lang)
	}
	if got := said(elements(doc, "title")[0]); got != s.Title {
		t.Errorf("the title is %q", got)
	}
	if !bytes.Equal(page, written(t, s, p, Options{Locale: model.DefaultLocale(), Today: s.From + 20})) {
		t.Error("written again it differs")
	}
}

// Everything of the plan is on the page: each session on its day, each visit
// with its part, what is left out by its number.
func TestThePageHoldsThePlan(t *testing.T) {
	s, p := awkward()
	doc := parsed(t, written(t, s, p, Options{Locale: model.DefaultLocale(), Today: s.From}))
	days := elements(doc, "article")
	if len(days) != s.Days() {
		t.Fatalf("%d days, not %d", len(days), s.Days())
	}
	byDate := p.ByDate()
	for i, day := range days {
		on, n := s.From+model.Date(i), 0
		for _, x := range elements(day, "li") {
			of, _ := attr(x.Parent, "class")
			if own, _ := attr(x, "class"); of != "services" && own != "r" {
				n++
			}
		}
		if n != len(byDate[on]) {
			t.Errorf("%s: %d sessions, not %d", on, n, len(byDate[on]))
		}
		if text := strings.TrimPrefix(said(day), "Today, "); len(byDate[on]) > 0 && !strings.HasPrefix(text, model.DefaultLocale().Day(on)) {
			t.Errorf("%s begins with %.20q", on, text)
		}
	}
	open := 0
	for _, d := range elements(doc, "details") {
		if id, _ := attr(d, "id"); id == "earlier" && len(elements(d, "article")) > 0 {
			t.Error("something is earlier than the first day")
		}
		if _, is := attr(d, "open"); is {
			open++
		}
	}
	if open != 1 {
		t.Errorf("%d weeks stand open", open)
	}
	text := said(doc)
	for i := range s.Programmes {
		pr := &s.Programmes[i]
		if !strings.Contains(text, pr.Title) {
			t.Errorf("%q is not said", pr.Title)
		}
		for j := range pr.Parts {
			if !strings.Contains(text, pr.Parts[j].Work) {
				t.Errorf("%q is not said", pr.Parts[j].Work)
			}
		}
	}
	visits, out := 0, 0
	for _, x := range p.Sessions {
		if x.Stage == model.PassageStage {
			visits++
		}
	}
	for _, u := range p.Unplaced {
		if u.Stage == model.PassageStage {
			out++
		}
	}
	gotVisits, gotOut := 0, 0
	for _, n := range elements(doc, "ul") {
		if class, _ := attr(n, "class"); class != "passages" {
			continue
		}
		for _, x := range elements(n, "li") {
			for _, d := range strings.Split(strings.TrimSpace(x.LastChild.Data), ", ") {
				if d == "left out" {
					gotOut++
				} else {
					gotVisits++
				}
			}
		}
	}
	if gotVisits != visits || gotOut != out || out == 0 {
		t.Errorf("%d visits and %d left out, not %d and %d", gotVisits, gotOut, visits, out)
	}
}

func TestThePageKeepsTheReadersWays(t *testing.T) {
	s, p := awkward()
	l := american()
	doc := parsed(t, written(t, s, p, Options{Locale: l, Today: s.From}))
	text := said(doc)
	if !strings.Contains(text, l.Day(s.From)) || !strings.Contains(text, " am") || strings.Contains(text, "Mon 11 Jan") {
		t.Errorf("the dates are not the reader's: %.400s", text)
	}
	weeks := elements(elements(doc, "section")[0], "details") // the first of them: earlier ones
	if first := elements(weeks[2], "h4")[0]; !strings.HasPrefix(said(first), "Sun, ") {
		t.Errorf("the second week begins with %q", said(first))
	}
}

// Whatever the names, they come out as they went in, and as nothing else.
func TestNamesAreText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.OneOf(rapid.String(), rapid.StringMatching(`[<>/&"'a-z{}=;!-]{1,30}`),
			rapid.SampledFrom([]string{"<script>alert(1)</script>", "</title><b>", "</style>", "&amp;", "{{.}}", "javascript:x", "<!--", "]]>"})).
			Filter(func(s string) bool { return !strings.ContainsAny(s, "\x00\r") }) // HTML text holds no NUL and reads CR as LF
		s := invent.Season(invent.Size{Weeks: 4, Programmes: 1, Parts: 1, Passages: 1, Lead: 20, Tightness: 0.3, Seed: 1})
		s.Title, s.Instrument = name.Draw(t, "title"), name.Draw(t, "instrument")
		s.Programmes[0].Title, s.Programmes[0].Parts[0].Work = name.Draw(t, "programme"), name.Draw(t, "work")
		p := filled(s, rand.New(rand.NewPCG(1, rapid.Uint64Max(9).Draw(t, "seed"))))
		var b bytes.Buffer
		if err := Write(&b, s, p, nil, Options{Locale: model.DefaultLocale()}); err != nil {
			t.Fatal(err)
		}
		doc, err := html.Parse(&b)
		if err != nil {
			t.Fatal(err)
		}
		if got := said(elements(doc, "h1")[0]); got != strings.TrimSpace(s.Title) {
			t.Errorf("the title %q became %q", s.Title, got)
		}
		if got := said(elements(elements(doc, "tbody")[0], "bdi")[0]); got != strings.TrimSpace(s.Programmes[0].Title) {
			t.Errorf("the programme %q became %q", s.Programmes[0].Title, got)
		}
		if n := len(elements(doc, "script")); n != 1 {
			t.Errorf("%d scripts", n)
		}
		if n := len(elements(doc, "style")); n != 1 {
			t.Errorf("%d styles", n)
		}
	})
}
