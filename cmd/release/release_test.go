//go:build release

package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"debug/elf"
	"debug/macho"
	"debug/pe"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"primaprova/solver/ortools"
)

// make release-check has written dist, and says here from what.
var version, commit, date = os.Getenv("RELEASE_VERSION"), os.Getenv("RELEASE_COMMIT"), os.Getenv("RELEASE_DATE")

const dist = "../../dist"

func folder(platform string) string {
	return "primaprova-" + version + "-" + strings.ReplaceAll(platform, "/", "-")
}

// unpack gives the files of a platform's archive, by their names below its folder.
func unpack(t *testing.T, platform string) map[string][]byte {
	t.Helper()
	list := map[string][]byte{}
	add := func(name string, r io.Reader) {
		data, err := io.ReadAll(r)
		below, ok := strings.CutPrefix(name, folder(platform)+"/")
		if err != nil || !ok {
			t.Fatalf("%s: %v; want it below %s", name, err, folder(platform))
		}
		list[below] = data
	}
	base := filepath.Join(dist, folder(platform))
	if strings.HasPrefix(platform, "windows/") {
		z, err := zip.OpenReader(base + ".zip")
		if err != nil {
			t.Fatal(err)
		}
		defer z.Close()
		for _, f := range z.File {
			r, err := f.Open()
			if err != nil {
				t.Fatal(err)
			}
			add(f.Name, r)
		}
		return list
	}
	f, err := os.Open(base + ".tar.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	for r := tar.NewReader(z); ; {
		head, err := r.Next()
		if errors.Is(err, io.EOF) {
			return list
		}
		if err != nil {
			t.Fatal(err)
		}
		add(head.Name, r)
	}
}

// machine reads from a binary what it was built for.
func machine(data []byte) string {
	r := bytes.NewReader(data)
	if f, err := elf.NewFile(r); err == nil {
		return map[elf.Machine]string{elf.EM_X86_64: "linux/amd64", elf.EM_AARCH64: "linux/arm64"}[f.Machine]
	}
	if f, err := macho.NewFile(r); err == nil {
		return map[macho.Cpu]string{macho.CpuAmd64: "darwin/amd64", macho.CpuArm64: "darwin/arm64"}[f.Cpu]
	}
	if f, err := pe.NewFile(r); err == nil && f.Machine == pe.IMAGE_FILE_MACHINE_AMD64 {
		return "windows/amd64"
	}
	return "nothing known"
}

func TestArchives(t *testing.T) {
	sums, err := os.ReadFile(filepath.Join(dist, "SHA256SUMS"))
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(sums)), "\n")
	if len(lines) != len(ortools.Pins) {
		t.Fatalf("%d archives; want %d", len(lines), len(ortools.Pins))
	}
	for _, line := range lines {
		_, name, _ := strings.Cut(line, "  ")
		data, err := os.ReadFile(filepath.Join(dist, name))
		if err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprintf("%x  %s", sha256.Sum256(data), name); got != line {
			t.Errorf("%s; the sums say %s", got, line)
		}
		if len(data) > most {
			t.Errorf("%s has %d bytes", name, len(data))
		}
	}
	for _, pin := range ortools.Pins {
		list := unpack(t, pin.Platform)
		name := "primaprova"
		if strings.HasPrefix(pin.Platform, "windows/") {
			name += ".exe"
		}
		if got := machine(list[name]); got != pin.Platform {
			t.Errorf("%s: the binary is for %s", pin.Platform, got)
		}
		for file, want := range map[string]string{
			"LICENSE": "Apache License", "NOTICE": "OR-Tools", "docs/manual.md": "primaprova plan", "docs/install.md": "SHA256SUMS",
			"man/primaprova.1": ".TH", "man/primaprova-plan.1": "budget", "completions/primaprova.bash": "complete",
			"completions/_primaprova": "#compdef primaprova", "completions/primaprova.fish": "complete -c primaprova", "completions/primaprova.ps1": "Register-ArgumentCompleter",
		} {
			if !strings.Contains(string(list[file]), want) {
				t.Errorf("%s: %s: has no %q", pin.Platform, file, want)
			}
		}
	}
}

// Another build, of a copy of the tree in another place and with bundles packed anew from the
// wheel for one platform, has the same bytes.
func TestBuiltAgainElsewhere(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	tree := filepath.Join(t.TempDir(), "elsewhere")
	script := `mkdir "$1" && git ls-files -z --cached --others --exclude-standard | tar -c --null -T - | tar -x -C "$1" &&
		cp -r solver/ortools/bundle "$1/solver/ortools/" && rm -r "$1/solver/ortools/bundle/windows-amd64" &&
		mkdir -p "$1/.deps/wheels" && cp .deps/wheels/*win_amd64.whl "$1/.deps/wheels/" &&
		cd "$1" && go run ./solver/ortools/pack -for windows/amd64 &&
		go run ./cmd/release -out again -version "$2" -commit "$3" -date "$4"`
	c := exec.CommandContext(t.Context(), "sh", "-c", script, "sh", tree, version, commit, date)
	c.Dir = root
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	first, err := os.ReadFile(filepath.Join(dist, "SHA256SUMS"))
	if err != nil {
		t.Fatal(err)
	}
	second, err := os.ReadFile(filepath.Join(tree, "again", "SHA256SUMS"))
	if err != nil || !bytes.Equal(first, second) {
		t.Errorf("%v\n%s\nand again:\n%s", err, first, second)
	}
}

// What comes out of the archive is all that is needed, also without a network.
func TestFreshFolder(t *testing.T) {
	home := t.TempDir()
	for name, data := range unpack(t, ortools.ThisPlatform) {
		if name == "primaprova" {
			if err := os.WriteFile(filepath.Join(home, name), data, 0o755); err != nil {
				t.Fatal(err)
			}
		}
	}
	run := func(want string, args ...string) {
		t.Helper()
		words := append([]string{"./primaprova"}, args...)
		if runtime.GOOS == "linux" {
			words = append([]string{"unshare", "--map-root-user", "--net"}, words...)
		}
		c := exec.CommandContext(t.Context(), words[0], words[1:]...)
		c.Dir, c.Env = home, []string{"HOME=" + home, "PATH=/usr/bin:/bin"}
		if out, err := c.CombinedOutput(); err != nil || !strings.Contains(string(out), want) {
			t.Fatalf("%q: %v; want %q in:\n%s", args, err, want, out)
		}
	}
	run("primaprova "+version+"\ncommit "+commit+", "+ortools.ThisPlatform+", go", "--version")
	run("OR-Tools "+ortools.Release, "--version")
	run("Wrote season.yaml", "new")
	run("Nothing is left out.", "plan", "--budget", "1")
	run("", "show")
}
