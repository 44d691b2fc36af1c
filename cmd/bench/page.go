package main

import (
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"
	"time"
)

// A page keeps what was measured: a heading for each group of rows, with the command, the commit,
// the day and the machine. A group that is measured anew takes the place of its heading; the others stay.
const pageHead = `# Measured

Written by ` + "`make bench`" + ` alone, a heading for each group: one that is measured anew takes the place of
what stood there. Wishes are value/proven bound, and how far the one lies above the other; ` + "`go run ./cmd/bench -h`" + ` names
groups and columns. The machine's own speed changes by a quarter and more from hour to hour, so compare
seconds under one heading only. Figures noted by hand are in [tried.md](tried.md). Nothing measured is a test.
`

// keep writes the rows of a run to a page; what is not measured in it stays as it was.
func (b *bench) keep(path, command string) error {
	old, err := os.ReadFile(path)
	if err != nil && !os.IsNotExist(err) {
		return err
	}
	return os.WriteFile(path, []byte(b.page(string(old), command+"\n"+machine())), 0o666)
}

// page puts the groups that have rows into a page, in the order of groups.
func (b *bench) page(old, about string) string {
	sections := map[string]string{}
	for _, s := range strings.Split(old, "\n## ")[1:] {
		name, text, _ := strings.Cut(s, "\n")
		sections[name] = strings.Trim(text, "\n")
	}
	var out strings.Builder
	out.WriteString(pageHead)
	for _, g := range groups {
		if rows := b.of(g.name); len(rows) > 0 {
			sections[g.name] = about + "\n\n" + markdown(rows)
		}
		if text := sections[g.name]; text != "" {
			fmt.Fprintf(&out, "\n## %s\n\n%s\n", g.name, text)
		}
	}
	return out.String()
}

// of gives the rows of a group.
func (b *bench) of(group string) (out []row) {
	for _, r := range b.rows {
		if r.group == group {
			out = append(out, r)
		}
	}
	return out
}

// markdown writes rows as a table, without the columns that all of them leave empty.
func markdown(rows []row) string {
	var cells [][]string
	for i := range rows {
		cells = append(cells, rows[i].cells())
	}
	var out strings.Builder
	write := func(cell func(column int) string) {
		for c := range columns {
			if c > 0 && slices.ContainsFunc(cells, func(r []string) bool { return r[c] != "" }) {
				out.WriteString("| " + strings.ReplaceAll(cell(c), "|", "\\|") + " ")
			}
		}
		out.WriteString("|\n")
	}
	write(func(c int) string { return columns[c].Name })
	write(func(int) string { return "---" })
	for _, r := range cells {
		write(func(c int) string { return r[c] })
	}
	return strings.TrimRight(out.String(), "\n")
}

// machine says what the figures are of: commit, day, processor, and what else it had to do.
func machine() string {
	one := func(b []byte, _ error) string { return string(bytes.TrimSpace(b)) }
	commit := one(exec.Command("git", "rev-parse", "--short=7", "HEAD").Output())
	if one(exec.Command("git", "status", "--porcelain", "--untracked-files=no").Output()) != "" {
		commit += ", changed"
	}
	processor := runtime.GOARCH
	for line := range strings.Lines(one(os.ReadFile("/proc/cpuinfo"))) {
		if name, value, ok := strings.Cut(line, ":"); ok && strings.TrimSpace(name) == "model name" {
			processor = strings.TrimSpace(value)
			break
		}
	}
	load, _, _ := strings.Cut(one(os.ReadFile("/proc/loadavg")), " ")
	if load != "" {
		load = ", load " + load + " at the end"
	}
	return fmt.Sprintf("commit %s, %s, %d cores of %s%s", commit, time.Now().Format(time.DateOnly), runtime.NumCPU(), processor, load)
}

// publish measures the whole of a season's days going to a server that takes its time
// over each, as one far away does.
func (b *bench) publish() {
	const group, what = "publish", "the season by days, each answer after"
	season, err := b.planned()
	if err != nil {
		b.add(row{group: group, what: what, note: "FAILED: " + err.Error()})
		return
	}
	for _, wait := range []time.Duration{0, 50 * time.Millisecond, 100 * time.Millisecond} {
		b.doing("publish: %v", wait)
		var taken, opened atomic.Int32
		server := httptest.NewUnstartedServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			_, _ = io.Copy(io.Discard, r.Body)
			time.Sleep(wait)
			if r.Method == "PROPFIND" {
				w.WriteHeader(http.StatusMultiStatus)
				fmt.Fprintf(w, `<multistatus xmlns="DAV:"><response><href>%s</href><propstat><prop><resourcetype><C:calendar xmlns:C="urn:ietf:params:xml:ns:caldav"/></resourcetype></prop></propstat></response></multistatus>`, r.URL.Path)
				return
			}
			w.Header().Set("ETag", fmt.Sprintf("%q", fmt.Sprint(taken.Add(1))))
			w.WriteHeader(http.StatusCreated)
		}))
		server.Config.ConnState = func(_ net.Conn, s http.ConnState) {
			if s == http.StateNew {
				opened.Add(1)
			}
		}
		server.Start()
		r, ok := b.processes(group, fmt.Sprintf("%s %v", what, wait), 1, []string{"publish", season, "--server", server.URL + "/anna/practice/", "--calendar", "days"},
			"PRIMAPROVA_USER=anna", "PRIMAPROVA_PASSWORD=none", "PRIMAPROVA_TODAY=2027-01-10")
		server.Close()
		if ok {
			r.note = fmt.Sprintf("%d entries over %d connections", taken.Load(), opened.Load())
		}
		b.add(r)
	}
}
