package main

import (
	"fmt"
	"io"
	"maps"
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
		case "garbage", "lies":
			path := filepath.Join(left, bestFile)
			b, err := os.ReadFile(path)
			if err != nil {
				panic(err)
			}
			if how == "garbage" {
				b = []byte("\x00\xff{\x1b[31mSlate")
			} else { // a whole plan, but one that asks for more than there is
				b = regexp.MustCompile(`"minutes": ?20\b`).ReplaceAll(b, []byte(`"minutes":45`))
			}
			fmt.Fprintf(os.NewFile(2, ""), "\x1b]0;Symphony in Slate\a\n%s\n", b)
			if err := os.WriteFile(path, b, 0o600); err != nil {
				panic(err)
			}
			_ = syscall.Kill(os.Getpid(), syscall.SIGKILL)
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
	text := smallSeason(t)
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-01")
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	for _, how := range []string{"abort", "killed", "exit", "panic", "memory", "hang"} {
		dir := folder{"season.yaml": text}.lay(t)
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

// TestEngineWritesGarbage: what such a process leaves is not believed: no plan of
// it is kept, the one that stands stays, and nothing of it reaches the terminal.
func TestEngineWritesGarbage(t *testing.T) {
	text := smallSeason(t)
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-01")
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	dir := folder{"season.yaml": text}.lay(t)
	does(t, dir, "plan")
	stands := lie(t, dir)
	for how, want := range map[string]string{"garbage": "The planning broke down (killed)", "lies": "breaks"} {
		t.Setenv(breaksDown, how)
		c, said := victim{args: []string{"plan", "--anew", "--from-today"}}.begin(t, dir)
		_ = c.Wait()
		if code := c.ProcessState.ExitCode(); code != exitInternal || !strings.Contains(said.String(), want) || strings.ContainsAny(said.String(), "\x1b\x00") || strings.Contains(said.String(), "Slate") {
			t.Errorf("%s: exit code %d: %q", how, code, said)
		}
		if now := lie(t, dir); !maps.Equal(now, stands) {
			t.Errorf("%s: %v", how, now)
		}
		_, found, _ := strings.Cut(said.String(), "What broke stands in ")
		if path, _, ok := strings.Cut(found, ","); ok {
			if b, err := os.ReadFile(path); err != nil || strings.Contains(string(b), "Slate") {
				t.Errorf("%s: %v: %s", how, err, b)
			}
		}
		t.Setenv(breaksDown, "")
		does(t, dir, "show")
	}
}
