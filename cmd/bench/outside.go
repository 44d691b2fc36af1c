package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"primaprova/cmd/usage"
)

// outsider is a solver with a command of its own, which reads MPS.
type outsider struct {
	name string
	find func(*bench) (string, error)
	args func(mps, answer string, seconds float64) []string
	read func(answer string, names []string) ([]float64, error)
}

// errAbsent says that a solver is not there to be compared with.
var errAbsent = errors.New("not installed")

// CBC comes with the Python package pulp, GLPK with Debian's package
// glpk-utils. Both get their defaults; a gap of nothing would not help them.
var outsiders = []outsider{
	{
		name: "CBC",
		find: (*bench).cbc,
		args: func(mps, answer string, seconds float64) []string {
			return []string{mps, "-timeMode", "elapsed", "-sec", fmt.Sprintf("%.0f", seconds), "-threads", strconv.Itoa(threads), "-solve", "-solution", answer}
		},
		read: readCBC,
	},
	{
		name: "GLPK",
		find: func(*bench) (string, error) {
			path, err := exec.LookPath("glpsol")
			if err != nil {
				return "", errAbsent
			}
			return path, nil
		},
		args: func(mps, answer string, seconds float64) []string {
			return []string{"--freemps", mps, "--tmlim", fmt.Sprintf("%.0f", seconds), "--write", answer}
		},
		read: readGLPK,
	},
}

// cbc asks pulp where its CBC lies.
func (b *bench) cbc() (string, error) {
	python := os.Getenv("PYTHON")
	if python == "" {
		python = "python3"
	}
	cmd := exec.CommandContext(b.ctx, python, "-c", "import pulp; print(pulp.PULP_CBC_CMD().path)")
	cmd.Env = append(os.Environ(), "PYTHONPATH="+references())
	out, err := cmd.Output()
	if err != nil {
		return "", errAbsent
	}
	return strings.TrimSpace(string(out)), nil
}

// references is where make deps puts what is compared with.
func references() string {
	path, err := filepath.Abs(filepath.Join(".deps", "python"))
	if err != nil {
		return ""
	}
	return path
}

// outside lets an outsider solve the demo season's program.
func (b *bench) outside(o outsider, mps string, seconds float64) report {
	path, err := o.find(b)
	if err != nil {
		return report{Note: err.Error()}
	}
	answer := filepath.Join(b.folder, o.name+".txt")
	ctx, cancel := context.WithTimeout(b.ctx, patience(seconds))
	defer cancel()
	cmd := exec.CommandContext(ctx, path, o.args(mps, answer, seconds)...)
	at := time.Now()
	said, err := cmd.CombinedOutput()
	r := report{Seconds: time.Since(at).Seconds()}
	if s := cmd.ProcessState; s != nil {
		r.CPU, r.Megabytes = (s.UserTime() + s.SystemTime()).Seconds(), usage.Peak(s)
	}
	if err != nil {
		r.Note = "no plan; " + why(ctx, err, string(said))
		return r
	}
	names, err := variables(mps)
	if err != nil {
		r.Failure = err.Error()
		return r
	}
	point, err := o.read(answer, names)
	if err != nil {
		r.Note = err.Error()
		return r
	}
	found := b.child(task{Do: "point", File: b.demo, Point: point})
	r.Wishes, r.Left, r.Failure = found.Wishes, found.Left, found.Failure
	return r
}

// errNoPoint says that the time did not suffice for any point.
var errNoPoint = errors.New("no plan found")

// variables gives the names of a program's variables in the file's order.
func variables(mps string) ([]string, error) {
	f, err := os.Open(mps)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var out []string
	inside := false
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		line := lines.Text()
		if !strings.HasPrefix(line, " ") {
			if inside {
				break
			}
			inside = line == "COLUMNS"
			continue
		}
		if !inside || strings.Contains(line, "'MARKER'") {
			continue
		}
		name, _, _ := strings.Cut(line[1:], " ")
		if len(out) == 0 || out[len(out)-1] != name {
			out = append(out, name)
		}
	}
	return out, lines.Err()
}

// readCBC reads a heading and a line for each variable that is not 0: number,
// name, value, reduced cost; "**" before what breaks a bound.
func readCBC(answer string, names []string) ([]float64, error) {
	b, err := os.ReadFile(answer)
	if err != nil {
		return nil, errNoPoint
	}
	head, rest, _ := bytes.Cut(b, []byte("\n"))
	if bytes.Contains(head, []byte("no integer solution")) || bytes.HasPrefix(head, []byte("Infeasible")) || bytes.Contains(head, []byte("objective value 1e+50")) {
		return nil, errNoPoint
	}
	values := map[string]float64{}
	for line := range strings.Lines(string(rest)) {
		word := strings.Fields(strings.ReplaceAll(line, "**", ""))
		if len(word) < 3 {
			continue
		}
		if values[word[1]], err = strconv.ParseFloat(word[2], 64); err != nil {
			return nil, fmt.Errorf("CBC's answer: %w", err)
		}
	}
	out := make([]float64, len(names))
	for i, n := range names {
		out[i] = values[n]
	}
	return out, nil
}

// readGLPK reads "s mip rows columns status objective" and "j column value"
// lines, as the manual of glp_write_mip has them.
func readGLPK(answer string, names []string) ([]float64, error) {
	f, err := os.Open(answer)
	if err != nil {
		return nil, errNoPoint
	}
	defer f.Close()
	out := make([]float64, len(names))
	found := false
	for lines := bufio.NewScanner(f); lines.Scan(); {
		word := strings.Fields(lines.Text())
		switch {
		case len(word) >= 5 && word[0] == "s":
			found = word[1] == "mip" && (word[4] == "o" || word[4] == "f")
		case len(word) >= 3 && word[0] == "j":
			j, err := strconv.Atoi(word[1])
			if err != nil || j < 1 || j > len(out) {
				return nil, fmt.Errorf("GLPK's answer: column %q", word[1])
			}
			if out[j-1], err = strconv.ParseFloat(word[2], 64); err != nil {
				return nil, fmt.Errorf("GLPK's answer: %w", err)
			}
		}
	}
	if !found {
		return nil, errNoPoint
	}
	return out, nil
}
