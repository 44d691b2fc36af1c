// Command launch starts a program and waits for it. Built for Windows as explorer.exe it is what
// opens a program by a double click.
//
//	launch PROGRAM ARGUMENT...
package main

import (
	"errors"
	"log"
	"os"
	"os/exec"
)

func main() {
	c := exec.Command(os.Args[1], os.Args[2:]...)
	c.Stdin, c.Stdout, c.Stderr = os.Stdin, os.Stdout, os.Stderr
	err := c.Run()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		os.Exit(exit.ExitCode())
	}
	if err != nil {
		log.Fatal(err)
	}
}
