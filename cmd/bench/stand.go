package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"primaprova/io/planfile"
	"primaprova/model"
)

const asked = 40 // times

// stand measures how soon the page at the stand answers, over this machine's own network.
func (b *bench) stand() {
	const group = "stand"
	b.doing("stand")
	s, err := b.standing()
	if err != nil {
		b.add(row{group: group, what: "stand", note: "FAILED: " + err.Error()})
		return
	}
	defer s.end()
	nothing := func(int) error { return nil }
	for _, c := range []struct {
		what   string
		before func(i int) error // not measured
		do     func(i int) error
	}{
		{"the page", nothing, func(int) error { return s.get("") }},
		{"the days, nothing changed", nothing, func(int) error { return s.get("state") }},
		{"a tap, synced before it is answered", nothing, s.tap},
		{"a tap, and the days as they are then", nothing, func(i int) error { return errors.Join(s.tap(asked+i), s.get("state")) }},
		{"the days, the plan written anew", func(int) error { return s.written(".plan.json") }, func(int) error { return s.get("state") }},
		{"the days, the season file written anew", func(int) error { return s.written(".yaml") }, func(int) error { return s.get("state") }},
	} {
		var took []float64
		spent := s.processor()
		for i := range asked {
			err = c.before(i)
			at := time.Now()
			if err == nil {
				err = c.do(i)
			}
			took = append(took, time.Since(at).Seconds())
			if err != nil {
				b.add(row{group: group, what: c.what, note: "FAILED: " + err.Error()})
				return
			}
		}
		b.add(row{group: group, what: c.what, note: fmt.Sprintf("median of %d, in milliseconds %.1f, worst %.1f, of the processor %.1f",
			asked, 1000*median(took), 1000*slices.Max(took), 1000*(s.processor()-spent)/asked)})
	}
}

// atStand is bin/primaprova with the page of a season, on one of its days.
type atStand struct {
	season   string // its files' name without an ending
	address  string
	day      model.Date
	sessions []string // of that day
	server   *exec.Cmd
}

func (b *bench) standing() (*atStand, error) {
	season, err := b.planned()
	if err != nil {
		return nil, err
	}
	p, err := planfile.Read(strings.TrimSuffix(season, ".yaml") + ".plan.json")
	if err != nil {
		return nil, err
	}
	s := &atStand{season: strings.TrimSuffix(season, ".yaml")}
	most := 0
	for d, all := range p.ByDate() { // the fullest, the first of those
		if n := len(all); n > most || n == most && d < s.day {
			s.day, s.sessions, most = d, nil, n
			for _, v := range all {
				if v.Stage != model.WarmUpStage { // which goes with its day
					s.sessions = append(s.sessions, v.ID)
				}
			}
		}
	}
	program, err := filepath.Abs(binary)
	if err != nil {
		return nil, err
	}
	s.server = exec.CommandContext(b.ctx, program, "stand", season, "--stand", "127.0.0.1:0", "--today", s.day.String())
	out, err := s.server.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := s.server.Start(); err != nil {
		return nil, err
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	s.address = strings.TrimSpace(line)
	return s, err
}

func (s *atStand) end() {
	_ = s.server.Process.Kill()
	_ = s.server.Wait()
}

// processor gives the processor seconds that the server has taken, in hundredths; 0
// where the system does not say so in Linux's way.
func (s *atStand) processor() float64 {
	b, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", s.server.Process.Pid))
	_, rest, ok := strings.Cut(string(b), ") ")
	if fields := strings.Fields(rest); err == nil && ok && len(fields) > 12 {
		user, _ := strconv.Atoi(fields[11])
		system, _ := strconv.Atoi(fields[12])
		return float64(user+system) / 100
	}
	return 0
}

func (s *atStand) get(path string) error {
	_, err := read(http.Get(s.address + path))
	return err
}

// tap says of one of the day's sessions that it was done.
func (s *atStand) tap(i int) error {
	body := fmt.Sprintf(`{"taps":[{"id":"bench-%04d","unseen":1,"kind":"done","date":"%v","session":%q}]}`, i, s.day, s.sessions[i%len(s.sessions)])
	said, err := read(http.Post(s.address+"taps", "application/json", bytes.NewBufferString(body)))
	if err == nil && !strings.Contains(said, `"refused":[]`) {
		err = errors.New(said)
	}
	return err
}

func read(r *http.Response, err error) (string, error) {
	if err != nil {
		return "", err
	}
	defer r.Body.Close()
	b, err := io.ReadAll(r.Body)
	if err == nil && r.StatusCode != http.StatusOK {
		err = fmt.Errorf("%s: %s", r.Status, b)
	}
	return string(b), err
}

// written makes a file look as if it had been written.
func (s *atStand) written(ending string) error {
	now := time.Now()
	return os.Chtimes(s.season+ending, now, now)
}
