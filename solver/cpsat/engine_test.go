package cpsat

import (
	"context"
	"os"
	"path/filepath"
	"testing"
)

// library loads the engine from the folder in PRIMAPROVA_ENGINES, or from
// .deps/engines beside go.mod, where the Makefile puts it.
func library(t testing.TB) *Library {
	t.Helper()
	folder := os.Getenv("PRIMAPROVA_ENGINES")
	if folder == "" {
		root, err := os.Getwd()
		if err != nil {
			t.Fatal(err)
		}
		for !exists(filepath.Join(root, "go.mod")) {
			if root == filepath.Dir(root) {
				t.Fatal("no go.mod above the working directory")
			}
			root = filepath.Dir(root)
		}
		folder = filepath.Join(root, ".deps", "engines")
	}
	for _, name := range []string{"libortools.so.9", "libortools.9.dylib"} {
		// Laid out as in the wheel, where every library finds the others; or flat,
		// as system packages have them.
		for _, path := range []string{filepath.Join(folder, "ortools", ".libs", name), filepath.Join(folder, name)} {
			if exists(path) {
				lib, err := Open(path)
				if err != nil {
					t.Fatal(err)
				}
				return lib
			}
		}
	}
	t.Fatalf("no OR-Tools library in %s: run make test, which puts it there", folder)
	return nil
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// solved solves m with p and fails the test on any error.
func solved(t testing.TB, m *Model, p Params) Response {
	t.Helper()
	r, err := library(t).Solve(context.Background(), m, p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
