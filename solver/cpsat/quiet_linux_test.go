package cpsat

import (
	"context"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/ebitengine/purego"
	"google.golang.org/protobuf/encoding/protowire"
)

// stdoutOf returns what reaches file descriptor 1 while do runs, C's buffers
// included.
func stdoutOf(t *testing.T, do func()) string {
	t.Helper()
	symbol, err := purego.Dlsym(purego.RTLD_DEFAULT, "fflush")
	if err != nil {
		t.Fatal(err)
	}
	var flush func(file uintptr) int32
	purego.RegisterFunc(&flush, symbol)
	flush(0)
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
	read := make(chan string)
	go func() {
		b, _ := io.ReadAll(r)
		read <- string(b)
	}()
	do()
	flush(0)
	if err := syscall.Dup3(kept, 1, 0); err != nil {
		t.Fatal(err)
	}
	syscall.Close(kept)
	w.Close()
	return <-read
}

func TestNothingOnStdout(t *testing.T) {
	m := hard(10)
	p := Params{Log: true, Workers: 2, Work: 0.1}
	if out := stdoutOf(t, func() { solved(t, m, p) }); out != "" {
		t.Errorf("%d bytes on standard output: %.200s", len(out), out)
	}
	// With log_to_stdout left on something has to arrive here, or the above proves nothing.
	model, err := m.encode()
	if err != nil {
		t.Fatal(err)
	}
	loud := protowire.AppendVarint(protowire.AppendTag(p.encode(), 186, protowire.VarintType), 1)
	lib := library(t)
	if out := stdoutOf(t, func() { lib.run(context.Background(), model, loud) }); !strings.Contains(out, "CP-SAT") {
		t.Errorf("the engine's log was not caught: %q", out)
	}
}

func TestInterruptHandlerSurvives(t *testing.T) {
	caught := make(chan os.Signal, 1)
	signal.Notify(caught, syscall.SIGINT)
	defer signal.Stop(caught)
	done := make(chan Response)
	lib := library(t)
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	go func() {
		r, err := lib.Solve(ctx, hard(40), Params{MaxTime: time.Minute})
		if err != nil {
			t.Error(err)
		}
		done <- r
	}()
	// During a solve the signal is ours, and stopping is our choice; after it too.
	for _, when := range []string{"during", "after"} {
		time.Sleep(100 * time.Millisecond)
		if err := syscall.Kill(os.Getpid(), syscall.SIGINT); err != nil {
			t.Fatal(err)
		}
		<-caught
		if when == "during" {
			select {
			case r := <-done:
				t.Fatalf("the signal ended the solve: %v", r.Status)
			case <-time.After(50 * time.Millisecond):
			}
			cancel()
			<-done
		}
	}
}

// TestMemory: answers and handles are given back. Each answer here is some
// 16 kB, so 500 that were kept would be 8 MB.
func TestMemory(t *testing.T) {
	m := NewModel("")
	for range 2000 {
		m.NewInt("", Range(1<<50, 1<<50))
	}
	lib := library(t)
	solve := func(n int) {
		for range n {
			if _, err := lib.Solve(context.Background(), m, Params{}); err != nil {
				t.Fatal(err)
			}
		}
		debug.FreeOSMemory() // Go's own garbage is not the question
	}
	solve(50) // until the allocators have what they need
	before := resident(t)
	solve(500)
	if grown := resident(t) - before; grown > 4<<20 {
		t.Errorf("500 solves left %d kB more", grown>>10)
	} else {
		t.Logf("500 solves left %d kB more", grown>>10)
	}
}

func resident(t *testing.T) int {
	t.Helper()
	b, err := os.ReadFile("/proc/self/statm")
	if err != nil {
		t.Fatal(err)
	}
	pages, err := strconv.Atoi(strings.Fields(string(b))[1])
	if err != nil {
		t.Fatal(err)
	}
	return pages * os.Getpagesize()
}
