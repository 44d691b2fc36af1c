package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync/atomic"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// under names a program that is to stand in for this build in the scripts, and what runs it,
// like "wine bin/primaprova.exe": a build for another system. What is read and written, the
// shell's tools and what is compared stay this system's.
const under = "OTHER_BUILD"

// setUnder hands on what the other build needs.
func setUnder(e *testscript.Env) error {
	by := os.Getenv(under)
	if by == "" {
		return nil
	}
	words := strings.Fields(by)
	program, err := filepath.Abs(words[len(words)-1])
	if err != nil {
		return err
	}
	e.Setenv(under, strings.Join(append(words[:len(words)-1], program), " "))
	for _, name := range []string{"WINEPREFIX", "WINEDEBUG"} {
		e.Setenv(name, os.Getenv(name))
	}
	e.Setenv("TMPDIR", os.TempDir()) // where Wine's services are met: in a folder of its own each command would start them
	e.Setenv("LC_ALL", "C.UTF-8")    // Wine takes arguments to be in these letters
	engines := os.Getenv(under + "_ENGINES")
	e.Setenv("BUILT", engines)
	e.Setenv("PRIMAPROVA_ENGINES", engines)
	return nil
}

// isUnder serves [under] in scripts, for lines that say what the system says.
func isUnder(condition string) (bool, error) {
	if condition != "under" {
		return false, fmt.Errorf("unknown condition %q", condition)
	}
	return os.Getenv(under) != "", nil
}

// pipe is not seen to be a file, and notes that something came.
type pipe struct {
	io.Writer
	said *atomic.Bool
}

func (p pipe) Write(b []byte) (int, error) {
	p.said.Store(true)
	return p.Writer.Write(b)
}

// runUnder runs a command of the other build. A fault of this program always says what it
// is; an exit with 1 and not a word is Wine's, which now and then does not come up while
// others begin, in one start of thousands. It is begun once more then.
func runUnder(by string, args []string) int {
	code, said := beginUnder(by, args)
	if code == exitInternal && !said {
		code, _ = beginUnder(by, args)
	}
	return code
}

func beginUnder(by string, args []string) (code int, said bool) {
	words := append(strings.Fields(by), args...)
	c := exec.Command(words[0], words[1:]...)
	c.Stdin = os.Stdin
	var came atomic.Bool
	// Pipes of its own: what Wine leaves running would hold on to those of the scripts.
	c.Stdout, c.Stderr, c.WaitDelay = pipe{os.Stdout, &came}, pipe{os.Stderr, &came}, time.Second
	c.Env = append(os.Environ(), "APPDATA="+os.Getenv("XDG_CONFIG_HOME"))
	err := c.Run()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return exit.ExitCode(), came.Load()
	}
	if err != nil && !errors.Is(err, exec.ErrWaitDelay) {
		fmt.Fprintln(os.Stderr, err)
		return 100, true
	}
	return 0, came.Load()
}
