package solver_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What doc.go names of the packages below is there: pseudo-code, figure and glossary
// speak of the code as it is.
func TestDocNamesWhatIsThere(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	there := map[string]bool{}
	names, err := filepath.Glob("*/*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl: // methods too, by their own name
				there[f.Name.Name+"."+d.Name.Name] = true
			case *ast.GenDecl:
				for _, s := range d.Specs {
					if s, ok := s.(*ast.TypeSpec); ok {
						there[f.Name.Name+"."+s.Name.Name] = true
					}
				}
			}
		}
	}
	seen := 0
	for _, m := range regexp.MustCompile(`\b(run|instance|pricing|colgen|construct|bound|compact|lns|oracle|conflict|hours)\.[A-Za-z]+`).FindAllString(string(doc), -1) {
		if seen++; !there[m] && !strings.HasSuffix(m, ".go") {
			t.Errorf("doc.go speaks of %s, which is not there", m)
		}
	}
	if seen < 20 {
		t.Errorf("doc.go names %d things only", seen)
	}
}
