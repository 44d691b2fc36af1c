package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"primaprova/cmd/usage"
)

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
