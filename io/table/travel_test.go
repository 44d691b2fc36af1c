package table

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"golang.org/x/net/html"
	"pgregory.net/rapid"
)

func TestCSV(t *testing.T) {
	tab := sample()
	tab.Row("Say \"when\"", "1", "a, b\nc")
	tab.Row("short")
	var b bytes.Buffer
	if err := tab.CSV(&b, true); err != nil {
		t.Fatal(err)
	}
	want := "part,min,what\n" +
		"Symphony in Slate,80,listening: mark tempos and exposed places in the part\n" +
		"Ferry Waltz,5,bars 3-9\n" +
		"\"Say \"\"when\"\"\",1,\"a, b c\"\n" +
		"short,,\n"
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

func TestMarkdown(t *testing.T) {
	tab := sample()
	tab.Row("石|板 *", "1", "1. a_b")
	var b bytes.Buffer
	if err := tab.Markdown(&b); err != nil {
		t.Fatal(err)
	}
	want := "" +
		"| part              | min | what                                                  |\n" +
		"| ----------------- | --: | ----------------------------------------------------- |\n" +
		"| Symphony in Slate |  80 | listening: mark tempos and exposed places in the part |\n" +
		"| Ferry Waltz       |   5 | bars 3-9                                              |\n" +
		"| 石\\|板 \\*         |   1 | 1. a\\_b                                               |\n"
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

// any draws a table of cells with every odd character.
func odd(t *rapid.T) *Table {
	cell := rapid.OneOf(rapid.String(), rapid.StringMatching("[-a1.,;:|\\\\`*_~<>&#\"'+=!$()\\[\\]{} ]{0,12}"),
		rapid.SampledFrom([]string{"www.skerry.example", "&amp;", "1)", "<b>", "![x](y)", "a@skerry.example", "https://skerry.example/x"}))
	tab := &Table{Columns: make([]Column, rapid.IntRange(1, 4).Draw(t, "columns"))}
	for i := range tab.Columns {
		tab.Columns[i] = Column{Name: cell.Draw(t, "name"), Right: rapid.Bool().Draw(t, "right")}
	}
	for range rapid.IntRange(0, 4).Draw(t, "rows") {
		tab.Row(rapid.SliceOfN(cell, 0, len(tab.Columns)).Draw(t, "row")...)
	}
	return tab
}

// A line of its own stays one paragraph with the same text.
func TestLinesInMarkdown(t *testing.T) {
	reader := goldmark.New(goldmark.WithExtensions(extension.GFM))
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching("[-=#+:>0-9.)a\\\\`*_~<>&|\\[\\]! ]{1,9}"),
			rapid.StringMatching("([0-9]{1,3}[.)]|[-+#=:]{1,3})( [a-z0-9]{1,3}){0,2}")).Draw(t, "text") // what begins lists and headings
		text = strings.Join(strings.Fields(strings.Map(flat, text)), " ")
		var page bytes.Buffer
		if err := reader.Convert([]byte(InMarkdown(text)+"\n\nafter\n"), &page); err != nil {
			t.Fatal(err)
		}
		doc, err := html.Parse(&page)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for n := range doc.Descendants() {
			switch n.Data {
			case "p":
				got = append(got, said(n))
			case "h1", "h2", "li", "hr", "blockquote", "pre", "table":
				t.Errorf("%q becomes a <%s>", text, n.Data)
			}
		}
		if want := []string{text, "after"}; text != "" && !slices.Equal(got, want) {
			t.Errorf("read %q, not %q", got, want)
		}
	})
}

// A Markdown reader shows the same cells, as plain text, whatever they hold. An
// address may become a link; its text stays.
func TestMarkdownIsReadAsWritten(t *testing.T) {
	reader := goldmark.New(goldmark.WithExtensions(extension.GFM))
	rapid.Check(t, func(t *rapid.T) {
		tab := odd(t)
		var b, page bytes.Buffer
		if err := tab.Markdown(&b); err != nil {
			t.Fatal(err)
		}
		if err := reader.Convert(b.Bytes(), &page); err != nil {
			t.Fatal(err)
		}
		doc, err := html.Parse(&page)
		if err != nil {
			t.Fatal(err)
		}
		var got [][]string
		for n := range doc.Descendants() {
			switch {
			case n.Type == html.TextNode && n.Parent.Data != "td" && n.Parent.Data != "th" && n.Parent.Data != "a" && strings.TrimSpace(n.Data) != "":
				t.Errorf("%q stands outside the cells", n.Data)
			case n.Type != html.ElementNode:
			case n.Data == "tr":
				got = append(got, nil)
			case n.Data == "td" || n.Data == "th":
				got[len(got)-1] = append(got[len(got)-1], said(n))
			case !slices.Contains([]string{"html", "head", "body", "table", "thead", "tbody", "a", "p"}, n.Data):
				t.Errorf("there is a <%s>", n.Data)
			}
		}
		want := tab.all()
		for _, row := range want {
			for i := range row {
				row[i] = strings.TrimSpace(row[i])
			}
		}
		if !slices.EqualFunc(got, want, slices.Equal[[]string]) {
			t.Errorf("read\n%q\nnot\n%q\nfrom\n%s", got, want, b.String())
		}
	})
}

// What would be a formula is a text; numbers stay numbers.
func TestFormulas(t *testing.T) {
	written := func(cell string, formulas bool) string {
		tab := &Table{Columns: []Column{{Name: "c"}}, Rows: [][]string{{cell}}}
		var b bytes.Buffer
		if err := tab.CSV(&b, formulas); err != nil {
			t.Fatal(err)
		}
		return strings.TrimSuffix(strings.TrimPrefix(b.String(), "c\n"), "\n")
	}
	for cell, want := range map[string]string{"=HYPERLINK(1)": "'=HYPERLINK(1)", "@a": "'@a", "+1+1": "'+1+1", "-2+3": "'-2+3", " =1": "' =1", "\t=1": "' =1", "＝1": "'＝1",
		"-5": "-5", "+0.5": "+0.5", "- a": "'- a", "a=b": "a=b", "": "\"\"", "'x": "'x", "-": "'-"} {
		if got := written(cell, false); got != want {
			t.Errorf("%q: %q; want %q", cell, got, want)
		}
	}
	if got := written("=1+1", true); got != "=1+1" {
		t.Errorf("kept: %q", got)
	}
}

func said(n *html.Node) string {
	var out strings.Builder
	for c := range n.Descendants() {
		if c.Type == html.TextNode {
			out.WriteString(c.Data)
		}
	}
	return strings.TrimSpace(out.String())
}

// Python's csv module, which shares nothing with ours, reads the same cells.
func TestCSVIsReadAsWritten(t *testing.T) {
	var tables []*Table
	var files []string
	rapid.Check(t, func(t *rapid.T) {
		tab := odd(t)
		var b bytes.Buffer
		if err := tab.CSV(&b, true); err != nil {
			t.Fatal(err)
		}
		tables, files = append(tables, tab), append(files, b.String())
	})
	in, err := json.Marshal(files)
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command("python3", "-c", `import csv, io, json, sys
json.dump([list(csv.reader(io.StringIO(f, newline=""))) for f in json.load(sys.stdin)], sys.stdout)`)
	c.Stdin = bytes.NewReader(in)
	c.Stderr = os.Stderr
	out, err := c.Output()
	if err != nil {
		t.Fatal(err)
	}
	var read [][][]string
	if err := json.Unmarshal(out, &read); err != nil {
		t.Fatal(err)
	}
	for i, tab := range tables {
		if !slices.EqualFunc(read[i], tab.all(), slices.Equal[[]string]) {
			t.Fatalf("read\n%q\nnot\n%q\nfrom\n%s", read[i], tab.all(), files[i])
		}
	}
}
