package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"syscall"

	"primaprova/io/planfile"
)

const separable = true

// supervise has the command run in a process of its own, passes signals on to it,
// and waits. Where it breaks down the command is ended here.
func supervise(args []string) int {
	direct := func() int { return run(args, os.Stdin, os.Stdout, os.Stderr) }
	c, err := itself(context.Background(), args...)
	if err != nil {
		return direct()
	}
	dir, err := os.MkdirTemp("", "primaprova-")
	if err != nil {
		return direct()
	}
	defer os.RemoveAll(dir)
	last, err := os.Create(filepath.Join(dir, lastWords))
	if err != nil {
		return direct()
	}
	defer last.Close()
	c.Stdin, c.Stdout, c.Stderr = os.Stdin, os.Stdout, last
	c.ExtraFiles = []*os.File{os.Stderr}
	c.Env = append(os.Environ(), within+"="+dir)
	// In a group of its own it gets each signal once, from here; and it ends with
	// this process, that is, with this thread.
	runtime.LockOSThread()
	c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
	heard := make(chan os.Signal, 8)
	signal.Notify(heard, syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP)
	if err := c.Start(); err != nil {
		signal.Stop(heard)
		return direct()
	}
	over := make(chan struct{})
	go func() {
		defer close(over)
		_ = c.Wait()
	}()
	for waiting := true; waiting; {
		select {
		case s := <-heard:
			_ = c.Process.Signal(s)
		case <-over:
			waiting = false
		}
	}
	if _, err := os.Stat(filepath.Join(dir, endedFile)); err == nil {
		return c.ProcessState.ExitCode()
	}
	status, _ := c.ProcessState.Sys().(syscall.WaitStatus)
	return rescue(args, dir, status)
}

// lastWords is what the run-time system says when a process breaks down.
const lastWords = "last-words.txt"

// rescue ends a command whose process broke down: with the best plan so far, where
// there is one. It takes a moment, in which no signal ends it.
func rescue(args []string, dir string, status syscall.WaitStatus) int {
	if status.Signaled() && status.Signal() == syscall.SIGPIPE {
		return exitInternal // whoever read what it says has read enough
	}
	how := fmt.Sprintf("exit code %d", status.ExitStatus())
	if status.Signaled() {
		how = status.Signal().String()
	}
	stands := ""
	if words, err := os.ReadFile(filepath.Join(dir, lastWords)); err == nil && len(words) > 0 {
		if path, err := writeReport(lastReport(args[0], how, words)); err == nil {
			stands = " What broke stands in " + path + ", and nothing of yours; it may be sent to whoever made this program."
		}
	}
	v := newVoice(os.Stdout, os.Stderr)
	best, err := planfile.Read(filepath.Join(dir, bestFile))
	if err != nil || args[0] == "why" {
		t := &trouble{code: exitInternal, lines: []string{fmt.Sprintf("The planning broke down (%s). That is a fault of primaprova or of an engine, not of your season; what is on the disk is whole.%s", how, stands)}}
		if status.Signaled() && (status.Signal() == syscall.SIGINT || status.Signal() == syscall.SIGTERM) {
			t = &trouble{code: exitStopped, lines: []string{"stopped before there was a plan"}}
		}
		v.trouble(t)
		return t.code
	}
	v.aside("The planning broke down (%s); what follows is the best plan until then.%s", how, stands)
	rescued = best
	return run(args, os.Stdin, os.Stdout, os.Stderr)
}
