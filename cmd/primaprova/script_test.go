package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"primaprova": func() {
			if by := os.Getenv(under); by != "" {
				os.Exit(runUnder(by, os.Args[1:]))
			}
			if os.Getenv(writesInPlace) != "" {
				os.Exit(inPlace(os.Args[1:]))
			}
			breakDown()
			os.Exit(followed(os.Args[1:]))
		},
	})
}

// before is today in the tests that say nothing else: before all their seasons,
// so that nothing is past on whatever day they run.
const before = "2026-12-01"

// TestScripts runs testdata/script. With UPDATE=1 in the environment the
// golden outputs in the scripts are written anew: read the difference before
// it is kept.
func TestScripts(t *testing.T) {
	engines, err := filepath.Abs("../../.deps/engines")
	if err != nil {
		t.Fatal(err)
	}
	demo, err := filepath.Abs("../../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:           "../../testdata/script",
		Condition:     isUnder,
		UpdateScripts: os.Getenv("UPDATE") != "",
		Setup: func(e *testscript.Env) error {
			e.Setenv("HOME", filepath.Join(e.WorkDir, ".home"))
			e.Setenv("XDG_CONFIG_HOME", filepath.Join(e.WorkDir, ".home", "config"))
			e.Setenv("BUILT", engines)
			e.Setenv("DEMO", demo)
			e.Setenv("FIRST", filepath.Join(filepath.Dir(demo), "../../first/spring.csv"))
			e.Setenv("PRIMAPROVA_ENGINES", engines)
			e.Setenv("TZ", "UTC")
			e.Setenv("PRIMAPROVA_TODAY", before)
			return setUnder(e)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"append": appendTo, "exits": exits, "files": files, "fill": fill, "latin1": latin1, "lengthen": lengthen, "replace": replace,
		},
	})
}

// exits CODE COMMAND... runs a command and wants this exit code of it.
func exits(ts *testscript.TestScript, _ bool, args []string) {
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	err = ts.Exec(args[1], args[2:]...)
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit code %d, not %d", got, want)
	}
}

// append FILE TEXT adds a line to a file.
func appendTo(ts *testscript.TestScript, _ bool, args []string) {
	f, err := os.OpenFile(ts.MkAbs(args[0]), os.O_APPEND|os.O_WRONLY, 0)
	ts.Check(err)
	_, err = f.WriteString(args[1] + "\n")
	ts.Check(errors.Join(err, f.Close()))
}

// files NAME... wants exactly these files in the working folder, golden
// outputs (want*), locks and folders that begin with a dot apart.
func files(ts *testscript.TestScript, _ bool, args []string) {
	var got []string
	root := ts.MkAbs(".")
	ts.Check(filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		name := d.Name()
		switch {
		case err != nil:
			return err
		case d.IsDir() && (strings.HasPrefix(name, ".") || name == "tmp"):
			return fs.SkipDir
		case d.IsDir() || strings.HasPrefix(name, "want") || strings.HasPrefix(name, ".") && strings.HasSuffix(name, ".lock"):
			return nil
		}
		rel, err := filepath.Rel(root, path)
		got = append(got, rel)
		return err
	}))
	slices.Sort(got)
	slices.Sort(args)
	if !slices.Equal(got, args) {
		ts.Fatalf("the files are %q, not %q", got, args)
	}
}

// lengthen FILE TEXT TIMES puts so many of a text for the one in a file.
func lengthen(ts *testscript.TestScript, _ bool, args []string) {
	n, err := strconv.Atoi(args[2])
	ts.Check(err)
	text := strings.Replace(ts.ReadFile(args[0]), args[1], strings.TrimSpace(strings.Repeat(args[1]+" ", n)), 1)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o644))
}

// fill FILE BYTES writes a large file of comments.
func fill(ts *testscript.TestScript, _ bool, args []string) {
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	line := []byte("# a line that says nothing\n")
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), bytes.Repeat(line, n/len(line)+1)[:n], 0o644))
}

// replace FILE OLD NEW puts one text for another in a file that has it.
func replace(ts *testscript.TestScript, _ bool, args []string) {
	text := ts.ReadFile(args[0])
	if !strings.Contains(text, args[1]) {
		ts.Fatalf("%s has no %q", args[0], args[1])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.ReplaceAll(text, args[1], args[2])), 0o644))
}

// latin1 FILE turns a file's letters into ISO 8859-1, which is no UTF-8.
func latin1(ts *testscript.TestScript, _ bool, args []string) {
	var out []byte
	for _, r := range ts.ReadFile(args[0]) {
		if r > 0xff {
			ts.Fatalf("%q is not in ISO 8859-1", r)
		}
		out = append(out, byte(r))
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), out, 0o644))
}
