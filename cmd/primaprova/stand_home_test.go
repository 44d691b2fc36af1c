package main

import (
	"bufio"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"primaprova/io/planfile"
	"primaprova/io/recordfile"
	"primaprova/model"
)

// atHome is a season with a plan and a stand that can be stopped and started again at
// the same address.
type atHome struct {
	t       *testing.T
	dir     string
	listen  string
	address string
	server  *exec.Cmd
	said    *collectedText
	flags   []string
}

// home lays out the small season, planned on its first day, on the morning of a day.
func home(t *testing.T, today string, flags ...string) *atHome {
	t.Helper()
	engines, err := filepath.Abs("../../.deps/engines")
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("PRIMAPROVA_ENGINES", engines)
	season := smallSeason(t)
	l, err := net.Listen("tcp", "127.0.0.1:0") // a free port, to come back to
	if err != nil {
		t.Fatal(err)
	}
	h := &atHome{t: t, dir: folder{"season.yaml": season}.lay(t), listen: l.Addr().String(), flags: flags}
	_ = l.Close()
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-01")
	does(t, h.dir, "plan")
	t.Setenv("PRIMAPROVA_TODAY", today)
	does(t, h.dir, "plan")
	h.start()
	return h
}

func (h *atHome) start() {
	h.t.Helper()
	h.server = exec.Command("primaprova", append([]string{"stand", "--stand", h.listen}, h.flags...)...) // this test itself, see TestMain
	h.server.Dir = h.dir
	h.server.Env = append(os.Environ(), "XDG_CONFIG_HOME="+h.dir)
	out, err := h.server.StdoutPipe()
	if err != nil {
		h.t.Fatal(err)
	}
	h.said = &collectedText{ended: make(chan bool)}
	h.server.Stderr = h.said
	if err := h.server.Start(); err != nil {
		h.t.Fatal(err)
	}
	c := h.server
	h.t.Cleanup(func() { _ = c.Process.Kill() })
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		h.t.Fatal(err)
	}
	h.address = strings.TrimSpace(line)
	<-h.said.ended
}

// collectedText is what the server says, to its last line before it serves.
type collectedText struct {
	mu    sync.Mutex
	text  strings.Builder
	ended chan bool
}

func (c *collectedText) Write(p []byte) (int, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	before := strings.Contains(c.text.String(), "Ctrl-C ends it.")
	c.text.Write(p)
	if !before && strings.Contains(c.text.String(), "Ctrl-C ends it.") {
		close(c.ended)
	}
	return len(p), nil
}

func (c *collectedText) String() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.text.String()
}

func (h *atHome) kill() {
	_ = h.server.Process.Kill()
	_, _ = h.server.Process.Wait()
}

func entriesOf(t *testing.T, dir string) []model.Event {
	t.Helper()
	r, err := recordfile.Read(filepath.Join(dir, "season.record.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	return r.Events
}

// numbered gives the ids of a day's sessions by their numbers.
func (h *atHome) numbered(day model.Date) map[int]string {
	h.t.Helper()
	p, err := planfile.Read(filepath.Join(h.dir, "season.plan.json"))
	if err != nil {
		h.t.Fatal(err)
	}
	out := map[int]string{}
	for _, v := range p.Sessions {
		if v.Date == day {
			out[v.Number] = v.ID
		}
	}
	return out
}
