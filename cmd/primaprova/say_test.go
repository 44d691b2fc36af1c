package main

import (
	"errors"
	"io/fs"
	"os/exec"
	"slices"
	"strings"
	"syscall"
	"testing"

	"pgregory.net/rapid"

	"primaprova/io/table"
)

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  []string
	}{
		{"one two three", 40, []string{"one two three"}},
		{"one two three", 8, []string{"one two", "  three"}},
		{"  set in by two", 9, []string{"  set in", "    by", "    two"}},
		{"unbreakable", 5, []string{"unbreakable"}},
		{"", 5, []string{""}},
	} {
		if got := wrap(c.text, c.width); !slices.Equal(got, c.want) {
			t.Errorf("wrap(%q, %d) = %q, want %q", c.text, c.width, got, c.want)
		}
	}
}

func TestWideLettersAreBroken(t *testing.T) {
	for _, l := range wrap("一二三四五六七八九十: 一二三, and https://example.org/a/long/address", 12) {
		if table.Width(l) > 12 && !strings.Contains(l, "https") {
			t.Errorf("%q is %d wide", l, table.Width(l))
		}
	}
}

func TestDatesAndAmountsStayTogether(t *testing.T) {
	var b strings.Builder
	v := &voice{out: &b, width: 40}
	v.line("The first rehearsal of it is on the Fri 12 Mar, after some more than 25 min of playing.")
	want := "The first rehearsal of it is on the\n  Fri 12 Mar, after some more than\n  25 min of playing.\n"
	if b.String() != want {
		t.Errorf("got\n%swant\n%s", b.String(), want)
	}
}

// A shell reads a quoted name back as it was.
func TestQuoted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringOf(rapid.RuneFrom([]rune("ab1.-_/ '\"$`\\*?~!;&|<>(){}[]#é"))).Draw(t, "name")
		out, err := exec.Command("sh", "-c", "printf %s. "+quoted(name)).Output()
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.TrimSuffix(string(out), "."); got != name {
			t.Fatalf("%s was read back as %q", quoted(name), got)
		}
	})
}

func TestFileTroubleTellsTheUserFromTheMachine(t *testing.T) {
	for _, c := range []struct {
		err  error
		want int
	}{
		{&fs.PathError{Op: "open", Path: "x", Err: syscall.ENOENT}, exitInput},
		{&fs.PathError{Op: "open", Path: "x", Err: syscall.EACCES}, exitInput},
		{&fs.PathError{Op: "open", Path: "x", Err: syscall.EROFS}, exitInput},
		{&fs.PathError{Op: "write", Path: "x", Err: syscall.ENOSPC}, exitInternal},
		{errors.New("something else"), exitInternal},
	} {
		if got := fileTrouble(c.err).code; got != c.want {
			t.Errorf("%v: exit code %d, want %d", c.err, got, c.want)
		}
	}
}
