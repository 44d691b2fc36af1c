package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// under names a program that is to stand in for this build in the scripts, and what runs it,
// like "wine bin/primaprova.exe": a build for another system. What is read and written, the
// shell's tools and what is compared stay this system's.
const under = "PRIMAPROVA_TEST_UNDER"

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

func runUnder(by string, args []string) int {
	words := append(strings.Fields(by), args...)
	c := exec.Command(words[0], words[1:]...)
	c.Stdin, c.Stdout, c.Stderr = os.Stdin, os.Stdout, os.Stderr
	c.Env = append(os.Environ(), "APPDATA="+os.Getenv("XDG_CONFIG_HOME"))
	err := c.Run()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return exit.ExitCode()
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 100
	}
	return 0
}
