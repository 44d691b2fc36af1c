package main

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"primaprova/solver/ortools"
)

// A wheel of our own making, with what every wheel has and a bundle must not.
var wheelFiles = []string{
	"ortools/__init__.py", "ortools/.libs/", "ortools/.libs/libortools.so.9", "ortools/.libs/libhighs.so.1",
	"ortools.libs/libabsl.so", "ortools-9.15.6755.dist-info/RECORD",
}

func makeWheel(t *testing.T) []byte {
	t.Helper()
	var data bytes.Buffer
	z := zip.NewWriter(&data)
	for _, name := range wheelFiles {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasSuffix(name, "/") {
			fmt.Fprint(w, "contents of ", name)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return data.Bytes()
}

func pinOf(wheel []byte) ortools.Pin {
	return ortools.Pin{Platform: "linux/amd64", PipPlatform: "manylinux_2_28_x86_64", Wheel: "made.whl",
		SHA256: fmt.Sprintf("%x", sha256.Sum256(wheel))}
}

func TestBundlesOfAWheel(t *testing.T) {
	t.Chdir(t.TempDir())
	data := makeWheel(t)
	pin := pinOf(data)
	if err := os.WriteFile("made.whl", data, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{"one", "two"} {
		if upToDate(dir, pin) {
			t.Errorf("%s counts as up to date before it was written", dir)
		}
		if err := writeBundles("made.whl", dir, pin); err != nil {
			t.Fatal(err)
		}
		if !upToDate(dir, pin) {
			t.Errorf("%s does not count as up to date", dir)
		}
	}
	if other := pinOf([]byte("another wheel")); upToDate("one", other) {
		t.Error("bundles of one wheel count as those of another")
	}
	for _, name := range []string{"highs.sums", "highs.tar.zst", "cpsat.sums", "cpsat.tar.zst", wheelStamp} {
		one, err := os.ReadFile(filepath.Join("one", name))
		if err != nil {
			t.Fatal(err)
		}
		if two, err := os.ReadFile(filepath.Join("two", name)); err != nil || !bytes.Equal(one, two) {
			t.Errorf("%s: two runs differ: %v", name, err)
		}
	}
	for _, name := range bundleNames {
		if err := (ortools.Bundle{Files: os.DirFS("one"), Name: name}).Ensure(context.Background(), "out"); err != nil {
			t.Fatal(err)
		}
	}
	var got []string
	for _, pattern := range []string{"out/*/.libs/*", "out/ortools.libs/*", "out/ortools*/*.py"} {
		list, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, list...)
	}
	want := "out/ortools/.libs/libhighs.so.1 out/ortools/.libs/libortools.so.9 out/ortools.libs/libabsl.so"
	if strings.Join(got, " ") != want {
		t.Errorf("unpacked %v; want %s", got, want)
	}
}

// pip stands in for Python: it puts the file named in TEST_WHEEL where pip would.
const pip = `#!/bin/sh
for last; do :; done
cp "$TEST_WHEEL" "$last/made.whl"
`

func TestFetchChecksWhatPipBrings(t *testing.T) {
	t.Chdir(t.TempDir())
	right := makeWheel(t)
	pin := pinOf(right)
	for name, data := range map[string][]byte{"right": right, "wrong": []byte("something else"), "python": []byte(pip)} {
		if err := os.WriteFile(name, data, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	python, err := filepath.Abs("python")
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("TEST_WHEEL", "wrong")
	if _, err := fetch(t.Context(), pin, python); err == nil || !strings.Contains(err.Error(), "want "+pin.SHA256) {
		t.Errorf("the wrong wheel: %v; want its sha256 refused", err)
	}
	// What the refused one left behind must not stand in the way.
	t.Setenv("TEST_WHEEL", "right")
	name, err := fetch(t.Context(), pin, python)
	if err != nil {
		t.Fatal(err)
	}
	// Fetched once is enough: without any pip the file still serves.
	if again, err := fetch(t.Context(), pin, "no-such-python"); err != nil || again != name {
		t.Errorf("%s, %v; want %s again", again, err, name)
	}
	if err := os.Truncate(name, 10); err != nil {
		t.Fatal(err)
	}
	if _, err := fetch(t.Context(), pin, "no-such-python"); err == nil || !strings.Contains(err.Error(), "no-such-python -m pip") {
		t.Errorf("without pip: %v; want it named", err)
	}
}

func TestRunRefuses(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := run(t.Context(), "plan9/arm", "", "python3"); err == nil || !strings.Contains(err.Error(), "not for plan9/arm") {
		t.Errorf("%v; want the platform refused", err)
	}
	if err := run(t.Context(), "linux/amd64", "", "python3"); err == nil || !strings.Contains(err.Error(), "root of the module") {
		t.Errorf("%v; want to be run in the root", err)
	}
}
