package main

import (
	"bufio"
	"context"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
)

// Told to stop, it finishes the answer that is under way.
func TestServeEnds(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	asked, ended := make(chan bool), make(chan error)
	go func() {
		ended <- serve(ctx, l, http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
			asked <- true
			<-ctx.Done()
			_, _ = io.WriteString(w, "all of it")
		}))
	}()
	go func() {
		<-asked
		stop()
	}()
	resp, err := http.Get("http://" + l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	if b, err := io.ReadAll(resp.Body); err != nil || string(b) != "all of it" {
		t.Errorf("%q, %v", b, err)
	}
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// TestServe starts the command as a user would, subscribes, plans anew, and
// starts again under the old path and under another.
func TestServe(t *testing.T) {
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-03")
	dir := folder{"season.yaml": published}.lay(t)
	does(t, dir, "plan")
	start := func(args ...string) (*exec.Cmd, string) {
		t.Helper()
		c := exec.Command("primaprova", append([]string{"serve", "--listen", "127.0.0.1:0"}, args...)...) // this test itself, see TestMain
		c.Dir = dir
		c.Env = append(os.Environ(), "XDG_CONFIG_HOME="+dir)
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = c.Process.Kill() })
		line, err := bufio.NewReader(out).ReadString('\n')
		if err != nil {
			t.Fatal(err)
		}
		return c, strings.TrimSpace(line)
	}
	stop := func(c *exec.Cmd) {
		t.Helper()
		if err := c.Process.Signal(syscall.SIGTERM); err != nil {
			t.Fatal(err)
		}
		if err := c.Wait(); err != nil {
			t.Errorf("stopped: %v", err)
		}
	}
	get := func(address, etag string) (int, string, string) {
		t.Helper()
		r, err := http.NewRequest(http.MethodGet, address, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("If-None-Match", etag)
		resp, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		defer resp.Body.Close()
		b, err := io.ReadAll(resp.Body)
		if err != nil {
			t.Fatal(err)
		}
		return resp.StatusCode, resp.Header.Get("ETag"), string(b)
	}
	exported := func() string {
		t.Helper()
		does(t, dir, "export", "--ics", "out.ics")
		b, err := os.ReadFile(filepath.Join(dir, "out.ics"))
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}

	c, address := start()
	if !regexp.MustCompile(`^http://127\.0\.0\.1:\d+/[A-Za-z0-9_-]{43}/season\.ics$`).MatchString(address) {
		t.Fatalf("address %q", address)
	}
	status, etag, text := get(address, "")
	if status != 200 || text != exported() {
		t.Errorf("status %d, and not what export writes", status)
	}
	if status, _, text := get(address, etag); status != 304 || text != "" {
		t.Errorf("unchanged: status %d and %d bytes", status, len(text))
	}
	does(t, dir, "late", "slate", "--arrives", "2027-03-14")
	status, later, text := get(address, etag)
	if status != 200 || later == etag || text != exported() {
		t.Errorf("planned again: status %d, %s after %s", status, later, etag)
	}
	plan := filepath.Join(dir, "season.plan.json")
	if err := os.Rename(plan, plan+".away"); err != nil {
		t.Fatal(err)
	}
	if status, _, text := get(address, ""); status != 503 || strings.Contains(text, "season") {
		t.Errorf("without a plan: %d %q", status, text)
	}
	if err := os.Rename(plan+".away", plan); err != nil {
		t.Fatal(err)
	}
	stop(c)
	key := strings.Split(address, "/")[3]
	c, again := start()
	if strings.Split(again, "/")[3] != key {
		t.Error("started again, the path is another")
	}
	stop(c)
	// While its place is taken nothing is made: the address that is served stays.
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	fails := exec.Command("primaprova", "serve", "--another", "--listen", taken.Addr().String())
	fails.Dir, fails.Env = dir, append(os.Environ(), "XDG_CONFIG_HOME="+dir)
	if said, err := fails.CombinedOutput(); err == nil || !strings.Contains(string(said), "is in use") {
		t.Errorf("%v: %s", err, said)
	}
	_ = taken.Close()
	running, first := start()
	if strings.Split(first, "/")[3] != key {
		t.Error("a serve that failed made another path")
	}
	c, again = start("--another")
	if status, _, _ := get(first, ""); status != 404 {
		t.Errorf("the old path at the serve that ran: %d", status)
	}
	stop(running)
	if strings.Split(again, "/")[3] == key {
		t.Error("the path should be another")
	}
	if status, _, _ := get(strings.Replace(again, strings.Split(again, "/")[3], key, 1), ""); status != 404 {
		t.Errorf("the old path: %d", status)
	}
	stop(c)
}
