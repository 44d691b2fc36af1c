package highs

import (
	"io"
	"os"
	"syscall"
	"testing"

	"github.com/ebitengine/purego"
)

// What C code prints on standard output stays in its buffer: 70,000 letters, many
// times what a stream holds by itself.
func TestWhatCPrintsGoesNowhere(t *testing.T) {
	library(t)
	symbol, err := purego.Dlsym(purego.RTLD_DEFAULT, "puts")
	if err != nil {
		t.Fatal(err)
	}
	var puts func(line string) int32
	purego.RegisterFunc(&puts, symbol)
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	kept, err := syscall.Dup(1)
	if err != nil {
		t.Fatal(err)
	}
	if err := syscall.Dup3(int(w.Fd()), 1, 0); err != nil {
		t.Fatal(err)
	}
	for range 1000 {
		puts("a line that the makers of the engine left in, sixty-odd letters long")
	}
	if err := syscall.Dup3(kept, 1, 0); err != nil {
		t.Fatal(err)
	}
	syscall.Close(kept)
	w.Close()
	if out, _ := io.ReadAll(r); len(out) > 0 {
		t.Errorf("%d bytes came out: %.100q", len(out), out)
	}
}
