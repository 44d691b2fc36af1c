package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"primaprova/io/planfile"
)

// breaksDown, in the environment, has what plans break down once it has left a plan,
// as an engine may have it.
const breaksDown = "PRIMAPROVA_TEST_BREAKS"

func breakDown() {
	how := os.Getenv(breaksDown)
	if how == "" || os.Getenv(within) == "" {
		return
	}
	afterBest = func() {
		switch how {
		case "abort":
			_ = syscall.Kill(os.Getpid(), syscall.SIGABRT)
		case "killed":
			_ = syscall.Kill(os.Getpid(), syscall.SIGKILL)
		case "exit":
			os.Exit(2)
		case "panic":
			go panic("of Symphony in Slate")
		case "memory":
			limit := syscall.Rlimit{Cur: 1 << 20, Max: 1 << 20}
			_ = syscall.Setrlimit(syscall.RLIMIT_AS, &limit)
			var hold [][]byte
			for {
				hold = append(hold, make([]byte, 64<<20))
				fmt.Fprintln(io.Discard, len(hold)) // held, not collected
			}
		case "hang":
			if err := os.WriteFile("hangs", nil, 0o600); err != nil {
				panic(err)
			}
		}
		select {} // what broke does not go on
	}
}

// TestBrokenEngine: whatever happens to the process that plans, the command ends
// in order with the best plan until then, which is whole and audited.
func TestBrokenEngine(t *testing.T) {
	text, err := os.ReadFile("../../testdata/seasons/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-01")
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	for _, how := range []string{"abort", "killed", "exit", "panic", "memory", "hang"} {
		dir := folder{"season.yaml": string(text)}.lay(t)
		t.Setenv(breaksDown, how)
		c, said := victim{args: []string{"plan"}}.begin(t, dir)
		if how == "hang" { // the player loses patience, and then once more
			for {
				if _, err := os.Stat(filepath.Join(dir, "hangs")); err == nil {
					break
				}
				time.Sleep(time.Millisecond)
			}
			go func() {
				for c.Process.Signal(os.Interrupt) == nil {
					time.Sleep(50 * time.Millisecond)
				}
			}()
		}
		_ = c.Wait()
		if code := c.ProcessState.ExitCode(); code != exitDone && code != exitLeftOut {
			t.Errorf("%s: exit code %d: %s", how, code, said)
		}
		if !strings.Contains(said.String(), "The planning broke down") || strings.Contains(said.String(), "goroutine ") {
			t.Errorf("%s: %s", how, said)
		}
		if found := regexp.MustCompile(`What broke stands in (\S+),`).FindStringSubmatch(said.String()); how == "abort" || how == "panic" || how == "memory" {
			if found == nil {
				t.Fatalf("%s: no report: %s", how, said)
			}
			b, err := os.ReadFile(found[1])
			if err != nil || !strings.Contains(string(b), "within_linux_test.go") || strings.Contains(string(b), "Slate") || strings.Contains(string(b), dir) {
				t.Errorf("%s: %v: %s", how, err, b)
			}
		}
		if p, err := planfile.Read(filepath.Join(dir, "season.plan.json")); err != nil || len(p.Sessions) == 0 || p.Provenance.Status != "cut short" {
			t.Errorf("%s: %v", how, err)
		}
		t.Setenv(breaksDown, "")
		does(t, dir, "show")
	}
}
