// Package testserver starts a real CalDAV server for tests: Radicale, from the
// reference programs that make deps fetches. It shares no code with ours.
package testserver

import (
	"bytes"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// The one user there is.
const (
	User     = "anna"
	Password = "täglich: 20 min \\ Übung"
)

// Server is one Radicale with a folder of its own on a port of this machine.
type Server struct {
	t       testing.TB
	folder  string
	address string
	process *exec.Cmd
	ended   chan struct{} // closed when the process has ended
	said    bytes.Buffer
}

// Start starts a server that ends with the test.
func Start(t testing.TB) *Server {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s := &Server{t: t, folder: t.TempDir(), address: l.Addr().String()}
	l.Close()
	if err := os.WriteFile(filepath.Join(s.folder, "users"), []byte(User+":"+Password+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	s.Start()
	t.Cleanup(s.Kill)
	return s
}

// Start starts the server again after Kill, with what it had kept.
func (s *Server) Start() {
	s.t.Helper()
	references, err := filepath.Abs(filepath.Join(root(s.t), ".deps", "python"))
	if err != nil {
		s.t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(references, "radicale")); err != nil {
		s.t.Fatal("the reference server is not there; fetch it with: make deps")
	}
	s.process = exec.Command("python3", "-m", "radicale", "--config", "", "--hosts", s.address,
		"--auth-type", "htpasswd", "--auth-htpasswd-filename", filepath.Join(s.folder, "users"), "--auth-htpasswd-encryption", "plain", "--auth-delay", "0",
		"--storage-filesystem-folder", filepath.Join(s.folder, "kept"), "--logging-level", "warning")
	s.process.Env = append(os.Environ(), "PYTHONPATH="+references, "PYTHONDONTWRITEBYTECODE=1")
	s.said.Reset()
	s.process.Stderr = &s.said
	if err := s.process.Start(); err != nil {
		s.t.Fatal(err)
	}
	process, ended := s.process, make(chan struct{})
	s.ended = ended
	go func() {
		_ = process.Wait()
		close(ended)
	}()
	for range 1200 {
		if c, err := net.Dial("tcp", s.address); err == nil {
			c.Close()
			return
		}
		select {
		case <-ended:
			s.t.Fatalf("the server ended: %s", s.said.String())
		case <-time.After(50 * time.Millisecond):
		}
	}
	s.Kill()
	s.t.Fatalf("the server does not answer: %s", s.said.String())
}

// root is the folder of go.mod.
func root(t testing.TB) string {
	dir := "."
	for range 6 {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		dir = filepath.Join(dir, "..")
	}
	t.Fatal("not inside the module")
	return ""
}

// Kill ends the server at once, with no chance to finish anything (kill -9).
func (s *Server) Kill() {
	if s.ended != nil {
		_ = s.process.Process.Kill()
		<-s.ended
	}
}

// Calendar makes an empty calendar and gives its address.
func (s *Server) Calendar(name string) string {
	s.t.Helper()
	address := fmt.Sprintf("http://%s/%s/%s/", s.address, User, name)
	s.Do("MKCALENDAR", address, "")
	return address
}

// Root is the server's address.
func (s *Server) Root() string { return "http://" + s.address + "/" }

// Do sends a request as another program of the same user would.
func (s *Server) Do(method, address, body string) {
	s.t.Helper()
	req, err := http.NewRequest(method, address, strings.NewReader(body))
	if err != nil {
		s.t.Fatal(err)
	}
	req.SetBasicAuth(User, Password)
	if body != "" {
		req.Header.Set("Content-Type", "text/calendar; charset=utf-8")
	}
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		s.t.Fatalf("%v: %s", err, s.said.String())
	}
	resp.Body.Close()
	if resp.StatusCode < 200 || resp.StatusCode > 299 {
		s.t.Fatalf("%s %s: %s: %s", method, address, resp.Status, s.said.String())
	}
}

// Kept gives the objects of a calendar by name, as the server keeps them on its disk.
func (s *Server) Kept(calendar string) map[string]string {
	s.t.Helper()
	dir := filepath.Join(s.folder, "kept", "collection-root", User, calendar)
	list, err := os.ReadDir(dir)
	if err != nil {
		s.t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range list {
		if strings.HasPrefix(f.Name(), ".") {
			continue
		}
		b, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err != nil {
			s.t.Fatal(err)
		}
		out[f.Name()] = string(b)
	}
	return out
}
