package main

import (
	"bufio"
	"fmt"
	"os"
	"strings"

	"golang.org/x/term"
)

// Questions are put to whoever sits at a terminal, on standard error, a line each.
// Off a terminal nothing is ever asked.

// attended tells whether somebody is there to be asked.
func (a *app) attended() bool {
	in, ok := a.in.(*os.File)
	return ok && term.IsTerminal(int(in.Fd())) && a.say.errWidth > 0
}

// ask puts a question until take accepts the answer; nothing typed is the answer
// that stands in brackets. Where the input ends nothing more is asked.
func (a *app) ask(question, otherwise string, take func(answer string) error) error {
	if a.typed == nil {
		a.typed = bufio.NewScanner(a.in)
	}
	for {
		if otherwise != "" {
			question = strings.TrimSuffix(question, " ["+otherwise+"]") + " [" + otherwise + "]"
		}
		lines := wrap(question+":", a.say.errWidth)
		fmt.Fprint(a.say.err, strings.Join(lines, "\n")+" ")
		if !a.typed.Scan() {
			fmt.Fprintln(a.say.err)
			return wrong("the answers end here, so nothing was written")
		}
		answer := strings.TrimSpace(a.typed.Text())
		if answer == "" {
			answer = otherwise
		}
		err := take(answer)
		if err == nil {
			return nil
		}
		a.say.aside("%v", err)
	}
}
