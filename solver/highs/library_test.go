package highs

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"testing"
)

func TestOpen(t *testing.T) {
	l := library(t)
	if !strings.HasPrefix(l.Version(), "1.") {
		t.Errorf("version %q", l.Version())
	}
	if again := library(t); again != l {
		t.Error("the same file was loaded twice")
	}
}

func TestOpenTellsWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	text := filepath.Join(dir, "text.so")
	if err := os.WriteFile(text, []byte("not a library"), 0o600); err != nil {
		t.Fatal(err)
	}
	for file, want := range map[string]string{
		filepath.Join(dir, "absent.so"): "cannot load the library",
		text:                            "cannot load the library",
		// Any other library will do to lack the functions.
		otherLibrary(t): "it lacks Highs_create, Highs_destroy, ",
	} {
		_, err := Open(file)
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), filepath.Base(file)) {
			t.Errorf("%s: got %v, want %q and the file's name", filepath.Base(file), err, want)
		}
	}
}

func otherLibrary(t *testing.T) string {
	pattern := "libz.so*"
	if runtime.GOOS == "darwin" {
		pattern = "libz.*dylib"
	}
	found, err := filepath.Glob(filepath.Join(engines(t), pattern))
	if err != nil || len(found) == 0 {
		t.Fatalf("no %s among the engines (%v)", pattern, err)
	}
	return found[0]
}

// TestNothingIsPrinted runs the test's own program again, as a child that does
// nothing but solve, well and badly, and looks at what came out of it.
func TestNothingIsPrinted(t *testing.T) {
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), "HIGHS_TEST_CHILD=1", "PRIMAPROVA_ENGINES="+engines(t))
	var out, errs bytes.Buffer
	child.Stdout, child.Stderr = &out, &errs
	if err := child.Run(); err != nil {
		t.Fatalf("%v\n%s", err, errs.String())
	}
	if out.Len() > 0 || errs.Len() > 0 {
		t.Errorf("stdout %q, stderr %q", out.String(), errs.String())
	}
}

func TestMain(m *testing.M) {
	if os.Getenv("HIGHS_TEST_CHILD") == "" {
		os.Exit(m.Run())
	}
	l, err := Open(filepath.Join(os.Getenv("PRIMAPROVA_ENGINES"), fileName()))
	if err != nil {
		panic(err)
	}
	ctx := context.Background()
	for _, o := range []Options{{}, {Threads: 2}, {Raw: map[string]any{"output_flag": true}}, {Raw: map[string]any{"no such option": 1}}} {
		l.Solve(ctx, knapsacks(12, 2), o, make([]float64, 12))
		l.Solve(ctx, workshop(), o, nil)
	}
	l.SolveFile(ctx, "no such file.mps", Options{})
	os.Exit(0)
}

// TestInterruptKeyStaysOurs sends this process the signal of Ctrl-C during a
// solve, and one after it. Each is caught before the next: one that comes when
// nobody listens any more would end the tests.
func TestInterruptKeyStaysOurs(t *testing.T) {
	caught := make(chan os.Signal, 1)
	signal.Notify(caught, os.Interrupt)
	defer signal.Stop(caught)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	press := func() {
		if err := syscall.Kill(os.Getpid(), syscall.SIGINT); err != nil {
			t.Error(err)
		}
	}
	go func() {
		<-caught
		stop()
	}()
	var once sync.Once
	r, err := library(t).Solve(ctx, knapsacks(80, 5), Options{
		Solution: func([]float64, float64) { once.Do(press) },
	}, nil)
	if err != nil || r.Status != Interrupted {
		t.Fatalf("status %v, %v", r.Status, err)
	}
	press()
	<-caught // the handler is there after a solve
}

// TestMemoryIsGivenBack solves 2,000 small programs. Peak memory may not
// follow: one handle left behind each time would cost some hundred megabytes.
func TestMemoryIsGivenBack(t *testing.T) {
	l := library(t)
	m, p := knapsacks(6, 2), workshop()
	round := func(wholes, linears int) {
		for range wholes {
			if _, err := l.Solve(t.Context(), m, Options{}, nil); err != nil {
				t.Fatal(err)
			}
		}
		for range linears {
			lp, err := l.NewLP()
			if err != nil {
				t.Fatal(err)
			}
			if err := lp.PassModel(p); err != nil {
				t.Fatal(err)
			}
			if _, err := lp.Run(t.Context(), Options{}); err != nil {
				t.Fatal(err)
			}
			lp.Close()
		}
	}
	round(20, 100)
	before := peakMemory(t)
	round(100, 1900)
	if grown := peakMemory(t) - before; grown > 16<<20 {
		t.Errorf("peak memory grew by %d MiB over 2,000 programs", grown>>20)
	}
}

func peakMemory(t *testing.T) int64 {
	t.Helper()
	runtime.GC()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	if runtime.GOOS == "linux" {
		return int64(u.Maxrss) << 10 // in KiB there, in bytes on macOS
	}
	return int64(u.Maxrss)
}
