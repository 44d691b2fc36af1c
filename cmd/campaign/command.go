package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"primaprova/cmd/usage"
)

// hung is after what time a command counts as hung. It is far above what any
// takes, whatever else the machine does.
const hung = 2 * time.Minute

// ran is what became of a command.
type ran struct {
	code    int // -1: killed
	said    string
	seconds float64 // of processor time
	memory  float64 // MB
}

func (c *campaign) command(ctx context.Context, dir, today string, args ...string) (*exec.Cmd, *bytes.Buffer) {
	return c.started(ctx, dir, today, c.binary, args...)
}

func (c *campaign) started(ctx context.Context, dir, today, program string, args ...string) (*exec.Cmd, *bytes.Buffer) {
	cmd := exec.CommandContext(ctx, program, args...)
	var out bytes.Buffer
	cmd.Dir, cmd.Stdout, cmd.Stderr = dir, &out, &out
	cmd.Env = append(os.Environ(), "PRIMAPROVA_TODAY="+today, "PRIMAPROVA_ENGINES="+c.engines, "XDG_CONFIG_HOME="+dir, "NO_COLOR=1")
	return cmd, &out
}

// run runs a command to its end.
func (c *campaign) run(dir, today string, args ...string) (ran, error) {
	ctx, cancel := context.WithTimeout(context.Background(), hung)
	defer cancel()
	// What a process has had at most is never below what the one had that began it:
	// so a small one begins it.
	self, err := os.Executable()
	if err != nil {
		return ran{}, err
	}
	cmd, out := c.started(ctx, dir, today, self, append([]string{"-measure", c.binary}, args...)...)
	_ = cmd.Run()
	if ctx.Err() != nil {
		return ran{}, fmt.Errorf("%v hangs", args)
	}
	if cmd.ProcessState == nil {
		return ran{}, fmt.Errorf("%v did not start", args)
	}
	r := ran{code: cmd.ProcessState.ExitCode(), said: out.String()}
	last := strings.LastIndex(r.said, took)
	if last < 0 {
		return r, fmt.Errorf("%v was not measured: %.300s", args, r.said)
	}
	if _, err := fmt.Sscanf(r.said[last+len(took):], "%f %f", &r.seconds, &r.memory); err != nil {
		return r, err
	}
	r.said = r.said[:last]
	if strings.Contains(r.said, "goroutine ") || strings.Contains(r.said, "broke down") {
		return r, fmt.Errorf("%v broke down: %.300s", args, r.said)
	}
	return r, nil
}

const took = "took: "

// measure runs a command, says what it took, and gives its exit code.
func measure(line []string) int {
	cmd := exec.Command(line[0], line[1:]...)
	cmd.Stdout, cmd.Stderr = os.Stdout, os.Stderr
	_ = cmd.Run()
	s := cmd.ProcessState
	if s == nil {
		return 1
	}
	fmt.Printf("%s%.3f %.1f\n", took, (s.UserTime() + s.SystemTime()).Seconds(), usage.Peak(s))
	return s.ExitCode()
}

// folder makes a folder with files in it. What is to be kept is moved out of it.
func folder(files map[string]string) (string, error) {
	dir, err := os.MkdirTemp("", "campaign-")
	if err != nil {
		return "", err
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			return "", err
		}
	}
	return dir, nil
}

// kept leaves a folder where it can be looked at, and says where.
func (c *campaign) kept(dir, name string, err error) error {
	to := filepath.Join(c.keep, name)
	_ = os.RemoveAll(to)
	if e := os.CopyFS(to, os.DirFS(dir)); e != nil {
		return fmt.Errorf("%w (and not kept: %v)", err, e)
	}
	return fmt.Errorf("%w; kept in %s", err, to)
}

// worst is the most that cases have taken.
type worst struct {
	mu              sync.Mutex
	seconds, memory float64
	refused         int
}

func (w *worst) add(r ran) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.seconds, w.memory = max(w.seconds, r.seconds), max(w.memory, r.memory)
	if r.code != 0 {
		w.refused++
	}
}

func (w *worst) String() string {
	return fmt.Sprintf("%.2f s of processor time, %.0f MB; %d refused", w.seconds, w.memory, w.refused)
}
