// Package primaprova_test looks at the module as a whole: which package may import
// which. No code lives in the root.
package primaprova_test

import (
	"fmt"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// An arrow says what of ours a package may import. A pattern is a package, a folder with
// all below it ("cmd/..."), or the direct children of one ("io/*"). The first line that
// fits a package holds; a package without a line is a fault, so that a new one is
// thought about before it is used.
type arrow struct {
	from   string
	to     []string
	inTest []string // besides, in files named _test.go
}

// invented are the seasons that tests of the solver make up, or read.
var invented = []string{"model/invent", "io/seasonfile", "solver/tiny"}

var arrows = []arrow{
	{from: "."},
	{from: "model", inTest: []string{"model/*"}},
	{from: "model/invent", to: []string{"model"}},
	{from: "model/chance", to: []string{"model", "model/memory"}, inTest: []string{"model/invent", "solver"}}, // seasons and plans to play
	{from: "model/memory", to: []string{"model"}},
	// Tests of the solver read the example seasons; the solver itself never reads a file. Its packages
	// have one subject each: what is asked, its prices, its bounds, its plans. Those that better a plan
	// and those that prove a bound don't see each other: the driver, solver, hands on what one tells the other.
	{from: "solver", to: []string{"model", "solver/run", "solver/instance", "solver/construct", "solver/colgen", "solver/lns", "solver/bound", "solver/compact", "solver/hours", "solver/highs"},
		inTest: slices.Concat(invented, []string{"solver/pricing", "solver/conflict", "solver/oracle", "solver/cpsat", "solver/ortools", "solver/mip"})},
	{from: "solver/run", to: []string{"model", "solver/highs", "solver/cpsat"}},
	{from: "solver/instance", to: []string{"model", "solver/run"}},
	{from: "solver/pricing", to: []string{"model", "solver/instance"}, inTest: invented},
	{from: "solver/colgen", to: []string{"model", "solver/instance", "solver/pricing", "solver/mip", "solver/highs"}, inTest: slices.Concat(invented, []string{"solver/construct", "solver/compact"})},
	{from: "solver/construct", to: []string{"model", "solver/instance", "solver/pricing"}, inTest: invented},
	{from: "solver/compact", to: []string{"model", "solver/run", "solver/instance", "solver/construct", "solver/mip", "solver/highs", "solver/cpsat"}, inTest: invented},
	{from: "solver/bound", to: []string{"model", "solver/run", "solver/instance", "solver/pricing", "solver/colgen", "solver/mip", "solver/highs"}, inTest: slices.Concat(invented, []string{"solver/construct", "solver/compact"})},
	{from: "solver/lns", to: []string{"model", "solver/run", "solver/instance", "solver/pricing", "solver/colgen", "solver/construct", "solver/mip", "solver/highs"}, inTest: invented},
	{from: "solver/oracle", to: []string{"model", "solver/run", "solver/instance", "solver/construct", "solver/compact", "solver/highs"}, inTest: slices.Concat(invented, []string{"solver/cpsat"})},
	{from: "solver/conflict", to: []string{"model", "solver/run", "solver/instance", "solver/pricing", "solver/colgen", "solver/construct", "solver/compact", "solver/oracle", "solver/mip"}, inTest: slices.Concat(invented, []string{"solver", "solver/highs", "solver/cpsat"})},
	{from: "solver/hours", to: []string{"model", "solver/cpsat"}, inTest: slices.Concat(invented, []string{"solver/highs"})},
	{from: "solver/tiny", to: []string{"model", "model/invent", "solver/instance", "solver/mip", "solver/highs", "solver/cpsat", "solver/ortools"}}, // of tests alone
	{from: "solver/mip"},
	{from: "solver/highs", to: []string{"solver/mip", "solver/sharedlib"}, inTest: []string{"solver/ortools"}},
	{from: "solver/cpsat", to: []string{"solver/mip", "solver/sharedlib"}, inTest: []string{"solver/ortools"}},
	{from: "solver/sharedlib"},
	{from: "solver/ortools", to: []string{"solver/sharedlib", "io/private"}}, // unpacks files
	{from: "solver/ortools/pack", to: []string{"solver/ortools"}},
	// What other people's calendars hold is a matter of its own, of the season file alone.
	// What is known of a part from an earlier season stands in that season's record, too.
	{from: "io/seasonfile", to: []string{"model", "io/seasonfile/calendar", "io/disk", "io/recordfile"}, inTest: []string{"model/invent"}},
	{from: "io/seasonfile/calendar"},
	{from: "io/caldav/testserver"},
	{from: "io/page/browser"}, // of tests alone
	{from: "io/reach"},        // what keeps servers from answering, for the formats that ask some
	{from: "io/private"},
	{from: "io/disk", to: []string{"io/private"}}, // how files are written and who may; the formats stand above it
	{from: "io/pdf"},                              // what is drawn, and where, is for wall and chart to say
	{from: "io/*", to: []string{"model", "io/disk", "io/pdf", "io/private", "io/reach"}, inTest: []string{"model/invent", "io/caldav/testserver", "io/page/browser"}},
	{from: "cmd/...", to: []string{"model", "model/*", "solver/...", "io/*", "cmd/..."}, inTest: []string{"io/caldav/testserver", "io/page/browser"}},
}

// standardOnly are the packages that import nothing but the standard library, tests apart.
var standardOnly = []string{"model", "model/chance", "model/memory"}

// A file is what the rules need to know of a Go file.
type file struct {
	name    string // slash-separated, from the root
	imports []string
}

const module = "primaprova"

func TestArrows(t *testing.T) {
	files := goFiles(t)
	if len(files) < 20 {
		t.Fatalf("only %d Go files seen: is this the root of the module?", len(files))
	}
	for _, fault := range faults(files) {
		t.Error(fault)
	}
}

// The rules themselves can fail: each of these files breaks one.
func TestArrowsFindFaults(t *testing.T) {
	for _, c := range []struct{ name, imports, want string }{
		{"model/a.go", "primaprova/solver", "model may not import solver"},
		{"model/a.go", "gopkg.in/yaml.v3", "the standard library only"},
		{"model/a_test.go", "pgregory.net/rapid", ""},
		{"model/a_test.go", "primaprova/io/ical", "model may not import io/ical"},
		{"model/a_test.go", "primaprova/model", ""},
		{"model/invent/a.go", "primaprova/solver", "model/invent may not import solver"},
		{"solver/a.go", "primaprova/model/invent", "solver may not import model/invent"},
		{"solver/a_test.go", "primaprova/model/invent", ""},
		{"io/a.go", "fmt", "no Go file may stand directly in io"},
		{"io/ical/a.go", "primaprova/io/table", "io/ical may not import io/table"},
		{"io/ical/a.go", "primaprova/io/disk", ""},
		{"io/disk/a.go", "primaprova/model", "io/disk may not import model"},
		{"io/ical/a.go", "primaprova/solver", "io/ical may not import solver"},
		{"io/ical/a.go", "primaprova/model", ""},
		{"solver/a.go", "primaprova/io/planfile", "solver may not import io/planfile"},
		{"solver/a.go", "primaprova/solver/highs", ""},
		{"solver/highs/a.go", "primaprova/model", "solver/highs may not import model"},
		{"solver/highs/a.go", "primaprova/solver/ortools", "solver/highs may not import solver/ortools"},
		{"solver/highs/a_test.go", "primaprova/solver/ortools", ""},
		{"solver/mip/a.go", "primaprova/solver/highs", "solver/mip may not import solver/highs"},
		{"cmd/primaprova/a.go", "primaprova/io/ical", ""},
		{"elsewhere/a.go", "fmt", "elsewhere has no line in the table of arrows"},
	} {
		got := strings.Join(faults([]file{{c.name, []string{c.imports}}}), "; ")
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s importing %s: %q; want %q", c.name, c.imports, got, c.want)
		}
	}
}

func faults(files []file) []string {
	var list []string
	for _, f := range files {
		from, isTest := path.Dir(f.name), strings.HasSuffix(f.name, "_test.go")
		if from == "io" {
			list = append(list, f.name+": no Go file may stand directly in io: it would shadow the standard package")
			continue
		}
		i := slices.IndexFunc(arrows, func(a arrow) bool { return matches(a.from, from) })
		if i < 0 {
			list = append(list, fmt.Sprintf("%s: %s has no line in the table of arrows", f.name, from))
			continue
		}
		for _, imp := range f.imports {
			to, ours := strings.CutPrefix(imp, module+"/")
			fits := func(pattern string) bool { return matches(pattern, to) }
			switch {
			case ours && isTest && (to == from || slices.ContainsFunc(arrows[i].inTest, fits)):
			case ours && !slices.ContainsFunc(arrows[i].to, fits):
				list = append(list, fmt.Sprintf("%s: %s may not import %s", f.name, from, to))
			case !ours && !isTest && slices.Contains(standardOnly, from) && strings.Contains(strings.Split(imp, "/")[0], "."):
				list = append(list, fmt.Sprintf("%s: %s imports %s: it takes the standard library only", f.name, from, imp))
			}
		}
	}
	return list
}

func matches(pattern, pkg string) bool {
	if folder, ok := strings.CutSuffix(pattern, "/..."); ok {
		return pkg == folder || strings.HasPrefix(pkg, folder+"/")
	}
	ok, err := path.Match(pattern, pkg)
	return err == nil && ok
}

// goFiles reads the imports of every Go file, whatever its build tags.
func goFiles(t *testing.T) []file {
	t.Helper()
	var files []file
	err := filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if name != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata") {
				return fs.SkipDir
			}
			return nil
		}
		if filepath.Ext(name) != ".go" {
			return nil
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		f := file{name: filepath.ToSlash(name)}
		for _, spec := range parsed.Imports {
			imp, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			f.imports = append(f.imports, imp)
		}
		files = append(files, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}
