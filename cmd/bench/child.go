package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"primaprova/cmd/usage"
	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
)

// childFlag makes the command do one task, from standard input.
const childFlag = "-child"

// task is what a child process does.
type task struct {
	Do      string       // a name of tasks
	File    string       // season file; or
	Size    *invent.Size // invented season
	Seconds float64      // limit; none if 0
	Busy    float64      // limit in processor seconds, where the machine is not ours alone; none if 0
	Work    float64      // of one that has a budget
	MPS     string       // program file, read or written
	Point   []float64    // another solver's point of it
	Days    int          // late: days from arrival to first rehearsal
	Folder  string       // late: where the season and its plan are left; may be empty
	Turn    int          // late: which programme's part comes late, from 1, over the plan of the season as it is; 0: one part, over a plan in which it comes early
	Relaxed int          // binding: 1 takes every variable as continuous
	Strict  bool         // solve: nothing of a wish is spent on those after it
	Off     []string     // solve: operators that are left out
}

// report is what a child says of it.
type report struct {
	First     float64 // seconds to the first audited plan
	Seconds   float64
	CPU       float64
	Process   float64 // processor seconds of the whole process
	Megabytes float64
	Status    string
	Wishes    []model.WishValue
	Left      int
	Moved     float64 // late: share of the other future sessions that moved
	Hash      string  // of the plan
	Note      string
	Work      string   // what an engine has done, to tell equal work
	Command   []string // late: what the program does the same with
	Failure   string
}

// row turns a report into a row; a failure stands in its note.
func (r *report) row(group, what string) row {
	out := row{group: group, what: what, first: r.First, seconds: r.Seconds, cpu: r.CPU, megabytes: r.Megabytes,
		left: r.Left, wishes: r.Wishes, note: r.Status}
	if r.Note != "" {
		out.note = strings.TrimPrefix(out.note+"; "+r.Note, "; ")
	}
	if r.Failure != "" {
		out.note = "FAILED: " + r.Failure
	}
	return out
}

// child does a task in a process of its own.
func (b *bench) child(t task) report {
	in, err := json.Marshal(t)
	if err != nil {
		return report{Failure: err.Error()}
	}
	self, err := os.Executable()
	if err != nil {
		return report{Failure: err.Error()}
	}
	// Whoever does not heed its limit is ended, and the row says so.
	ctx, cancel := b.ctx, context.CancelFunc(func() {})
	if t.Seconds > 0 {
		ctx, cancel = context.WithTimeout(b.ctx, patience(t.Seconds))
	}
	defer cancel()
	cmd := exec.CommandContext(ctx, self, childFlag)
	var out, fault bytes.Buffer
	cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(in), &out, &fault
	at := time.Now()
	err = cmd.Run()
	var r report
	if jsonErr := json.Unmarshal(out.Bytes(), &r); err == nil {
		err = jsonErr
	}
	if s := cmd.ProcessState; s != nil {
		r.Process = (s.UserTime() + s.SystemTime()).Seconds()
	}
	if r.CPU == 0 {
		r.CPU = r.Process
	}
	if err != nil {
		if r.Seconds == 0 {
			r.Seconds = time.Since(at).Seconds()
		}
		r.Failure = why(ctx, err, fault.String())
	}
	return r
}

// patience is how long a process may run that was given so many seconds.
func patience(seconds float64) time.Duration {
	return time.Duration((2*seconds + 30) * float64(time.Second))
}

// why says in one line what ended a process.
func why(ctx context.Context, err error, said string) string {
	switch {
	case errors.Is(ctx.Err(), context.DeadlineExceeded):
		return "did not heed its limit, ended"
	case ctx.Err() != nil:
		return "interrupted"
	}
	lines := strings.Split(strings.TrimSpace(said), "\n")
	if last := lines[len(lines)-1]; last != "" {
		return last
	}
	return err.Error()
}

// serve is the child's side.
func serve(in io.Reader, out io.Writer) int {
	var t task
	if err := json.NewDecoder(in).Decode(&t); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 2
	}
	do, ok := tasks[t.Do]
	if !ok {
		fmt.Fprintf(os.Stderr, "no task %q\n", t.Do)
		return 2
	}
	r, err := do(&t)
	if err != nil {
		// The first line says what; a faulty plan has more.
		first, _, _ := strings.Cut(err.Error(), "\n")
		fmt.Fprintln(os.Stderr, first)
		return 1
	}
	r.Megabytes = peak()
	if r.CPU == 0 {
		r.CPU = solver.Processor()
	}
	if err := json.NewEncoder(out).Encode(r); err != nil {
		return 1
	}
	return 0
}

// peak gives the most memory this process has had, in megabytes. The figure of
// getrusage counts what the parent had at the fork as well; VmHWM does not.
func peak() float64 {
	b, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0 // no Linux
	}
	var kilobytes float64
	_, rest, _ := strings.Cut(string(b), "VmHWM:")
	if _, err := fmt.Sscan(rest, &kilobytes); err != nil {
		return 0
	}
	return kilobytes * 1024 / 1e6
}

// binary is what is measured as a whole; exitLeftOut is how it ends where a plan
// leaves something out, which is no failure here.
const (
	binary      = "bin/primaprova"
	exitLeftOut = 3
)

// processes gives the medians of so many whole processes of bin/primaprova, from
// the command to its end, in the temporary folder, with what env adds to the
// environment. It tells whether all of them did what they were asked to.
func (b *bench) processes(group, what string, times int, args []string, env ...string) (r row, ok bool) {
	r = row{group: group, what: what}
	program, err := filepath.Abs(binary)
	if _, statErr := os.Stat(binary); err != nil || statErr != nil {
		r.note = binary + " is not built: make " + binary
		return r, false
	}
	var seconds, cpu, memory []float64
	for range times {
		cmd := exec.CommandContext(b.ctx, program, args...)
		cmd.Dir, cmd.Env = b.folder, append(os.Environ(), env...)
		at := time.Now()
		said, err := cmd.CombinedOutput()
		seconds = append(seconds, time.Since(at).Seconds())
		if err != nil && cmd.ProcessState.ExitCode() != exitLeftOut {
			r.note = "FAILED: " + why(b.ctx, err, string(said))
			return r, false
		}
		s := cmd.ProcessState
		cpu, memory = append(cpu, (s.UserTime()+s.SystemTime()).Seconds()), append(memory, usage.Peak(s))
	}
	r.seconds, r.cpu, r.megabytes = median(seconds), median(cpu), median(memory)
	r.note = fmt.Sprintf("median of %d whole processes", times)
	return r, true
}
