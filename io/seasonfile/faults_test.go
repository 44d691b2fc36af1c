package seasonfile

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/tools/txtar"
)

var update = flag.Bool("update", false, "write the messages into the archives instead of comparing")

// TestFaults reads the season of each archive and compares everything that is
// said of it with the archive's file "want".
func TestFaults(t *testing.T) {
	archives, err := filepath.Glob("testdata/faults/*.txtar")
	if err != nil || len(archives) < 10 {
		t.Fatalf("%d archives, %v", len(archives), err)
	}
	for _, name := range archives {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			dir := t.TempDir()
			want, at := "", -1
			for i, f := range a.Files {
				if f.Name == "want" {
					want, at = string(f.Data), i
					continue
				}
				if err := os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o600); err != nil {
					t.Fatal(err)
				}
			}
			got := said(filepath.Join(dir, "season.yaml"))
			got = strings.ReplaceAll(got, dir+string(filepath.Separator), "")
			if got == want {
				return
			}
			if !*update {
				t.Errorf("said:\n%s\nwant:\n%s", got, want)
				return
			}
			if at < 0 {
				a.Files, at = append(a.Files, txtar.File{Name: "want"}), len(a.Files)
			}
			a.Files[at].Data = []byte(got)
			if err := os.WriteFile(name, txtar.Format(a), 0o644); err != nil {
				t.Fatal(err)
			}
		})
	}
}

// said gives what reading a file says: its faults, or its warnings.
func said(path string) string {
	f, err := Read(path)
	if err != nil {
		return err.Error() + "\n"
	}
	return Text(f.Warnings) + "\n"
}

// TestFilesThatAreNoText keeps to what no archive of texts can hold.
func TestFilesThatAreNoText(t *testing.T) {
	dir := t.TempDir()
	big := append([]byte("title: x\n"), bytes.Repeat([]byte("# 10 MB of nothing\n"), 10<<20/19)...)
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"empty.yaml", nil, "empty.yaml: is empty\n  try: primaprova new writes a season file to start from"},
		{"blank.yaml", []byte(" \n\n"), "blank.yaml: is empty\n  try: primaprova new writes a season file to start from"},
		{"big.yaml", big, "big.yaml: is larger than 1024 KiB, which is no hand-written file"},
		{"latin1.yaml", []byte("title: x\ninstrument: fl\xf6te\n"), "latin1.yaml:2: is not UTF-8 (byte 0xf6)\n  try: save the file as UTF-8"},
		{"utf16.yaml", []byte("\xff\xfet\x00i\x00"), "utf16.yaml:1: is not UTF-8 (byte 0xff)\n  try: save the file as UTF-8"},
		{"nul.yaml", []byte("title: x\n\x00"), "nul.yaml:2: holds a control character (0x00)"},
	} {
		if err := os.WriteFile(filepath.Join(dir, c.name), c.data, 0o600); err != nil {
			t.Fatal(err)
		}
		if got := strings.TrimSpace(strings.ReplaceAll(said(filepath.Join(dir, c.name)), dir+string(filepath.Separator), "")); got != c.want {
			t.Errorf("said %q, want %q", got, c.want)
		}
	}
	if got := said(dir); !strings.HasSuffix(got, ": is a directory, not a file\n  try: name the file in it\n") {
		t.Errorf("of a directory it says %q", got)
	}
	if got := said(filepath.Join(dir, "missing.yaml")); !strings.HasSuffix(got, "missing.yaml: there is no such file\n") {
		t.Errorf("of a missing file it says %q", got)
	}
	// The tests may run as a user who may read everything, so the refusal is
	// made here and not by the system.
	for err, want := range map[error]string{
		syscall.EACCES: "s.yaml: may not be read: no permission\n  try: chmod u+r s.yaml",
		syscall.EIO:    "s.yaml: input/output error",
	} {
		if got := refused("s.yaml", &fs.PathError{Op: "open", Path: "s.yaml", Err: err}).Error(); got != want {
			t.Errorf("said %q, want %q", got, want)
		}
	}
}

// TestAtTheLimit reads a file of exactly the most bytes.
func TestAtTheLimit(t *testing.T) {
	small, err := os.ReadFile("../../testdata/seasons/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for more, good := range map[int]bool{0: true, 1: false} {
		name := filepath.Join(t.TempDir(), "season.yaml")
		pad := bytes.Repeat([]byte("#"), MostBytes-len(small)+more)
		if err := os.WriteFile(name, append(pad[:len(pad)-1:len(pad)-1], append([]byte("\n"), small...)...), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := Read(name); (err == nil) != good {
			t.Errorf("%d bytes over the limit: %v", more, err)
		}
	}
}

func TestErrorsAreErrors(t *testing.T) {
	_, err := Read(filepath.Join(t.TempDir(), "missing.yaml"))
	var wrong Errors
	if !errors.As(fmt.Errorf("season: %w", err), &wrong) || len(wrong) != 1 {
		t.Errorf("%v is not Errors", err)
	}
}

func TestNearest(t *testing.T) {
	known := []string{"title", "time_zone", "from", "to", "passages", "playing"}
	for written, want := range map[string]string{"titel": "title", "timezone": "time_zone", "form": "from",
		"passage": "passages", "to": "to", "zoom": "", "": "", strings.Repeat("title", 100): ""} {
		if got := Nearest(written, known); got != want {
			t.Errorf("nearest to %q is %q, want %q", written, got, want)
		}
	}
}
