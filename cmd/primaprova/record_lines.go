package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/pflag"
)

// mostLines bounds what --lines takes in.
const mostLines = 1 << 20 // bytes

// recordLines records what the lines of a file say, as one entry.
func (b *book) recordLines(path string) error {
	in := b.a.in
	if path != "-" {
		f, err := os.Open(path)
		if err != nil {
			return fileTrouble(err)
		}
		defer f.Close()
		in = f
	}
	data, err := io.ReadAll(io.LimitReader(in, mostLines+1))
	if err != nil {
		return fileTrouble(err)
	}
	if len(data) > mostLines {
		return wrong("%s: is larger than %d KiB", path, mostLines>>10)
	}
	all, err := saidInLines(path, data)
	switch {
	case err != nil:
		return wrong("%s: %v", path, err)
	case len(all) == 0:
		return wrong("%s: says nothing", path).then("record --help")
	}
	return b.record(all)
}

// saidInLines reads lines, each written as the command is. What is wrong with
// one is kept with it.
func saidInLines(path string, data []byte) ([]*sayings, error) {
	var all []*sayings
	scan := bufio.NewScanner(bytes.NewReader(data))
	scan.Buffer(nil, mostLines+1)
	for n := 1; scan.Scan(); n++ {
		words, err := split(scan.Text())
		if err == nil && len(words) == 0 {
			continue
		}
		set := pflag.NewFlagSet("", pflag.ContinueOnError)
		set.SetOutput(io.Discard)
		set.Usage = func() {}
		o := recordFlags(set)
		if err == nil {
			err = set.Parse(words)
		}
		o.what, o.where, o.fault = set.Args(), fmt.Sprintf("%s:%d: ", path, n), err
		all = append(all, o)
	}
	return all, scan.Err()
}

// split cuts a line into words at blanks. Double or single quotes keep a text
// with blanks together; # begins a comment where a word would begin.
func split(s string) ([]string, error) {
	var out []string
	var word strings.Builder
	open, quote := false, rune(0)
	for _, r := range s {
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote != 0:
			word.WriteRune(r)
		case r == '"' || r == '\'':
			quote, open = r, true
		case r == '#' && !open:
			return out, nil
		case r == ' ' || r == '\t' || r == '\r':
			if open {
				out = append(out, word.String())
			}
			word.Reset()
			open = false
		default:
			open = true
			word.WriteRune(r)
		}
	}
	if quote != 0 {
		return nil, errors.New("a quote is not closed")
	}
	if open {
		out = append(out, word.String())
	}
	return out, nil
}
