// Command release writes the archives of a release: for each platform that OR-Tools is
// pinned for, the binary with its licence, manual, man pages and completions; and SHA256SUMS.
//
//	go run ./cmd/release -out FOLDER -version VERSION -commit HASH -date YYYY-MM-DD [-for GOOS/GOARCH,...]
//
// It works in the module's root, where solver/ortools/pack has put the bundles. The same
// tree gives the same bytes: files in order of name, one date, no owners.
package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/flate"
	"compress/gzip"
	"crypto/sha256"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"primaprova/solver/ortools"
)

// most is how many bytes an archive may have.
const most = 40_000_000

func main() {
	out := flag.String("out", "dist", "the `folder` to write to; its earlier archives are removed")
	version := flag.String("version", "", "the release's `version`")
	commit := flag.String("commit", "", "the `commit` it is built from")
	date := flag.String("date", "", "the `date` of all files in it, like 2027-01-31")
	platforms := flag.String("for", "", "`platforms`, with commas between (default: all that are pinned)")
	flag.Parse()
	if err := run(*out, *version, *commit, *date, *platforms); err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

func run(out, version, commit, date, only string) error {
	day, err := time.Parse(time.DateOnly, date)
	if err != nil || version == "" || commit == "" {
		return fmt.Errorf("-version, -commit and -date are needed: %w", err)
	}
	work, err := os.MkdirTemp("", "release-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	if err := goRun(nil, "run", "-tags", "papers", "-ldflags", stamp(version, commit), "./cmd/primaprova", "papers", filepath.Join(work, "papers"), date); err != nil {
		return err
	}
	common, err := files(work)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	var sums strings.Builder
	for _, pin := range ortools.Pins {
		if only != "" && !slices.Contains(strings.Split(only, ","), pin.Platform) {
			continue
		}
		binary, err := build(work, pin.Platform, version, commit)
		if err != nil {
			return err
		}
		name := "primaprova-" + version + "-" + strings.ReplaceAll(pin.Platform, "/", "-")
		pack, ending := tarball, ".tar.gz"
		if strings.HasPrefix(pin.Platform, "windows/") {
			pack, ending = zipped, ".zip"
		}
		data, err := pack(name, append([]entry{binary}, common...), day)
		if err != nil {
			return err
		}
		if len(data) > most {
			return fmt.Errorf("%s has %d bytes, more than %d", name+ending, len(data), most)
		}
		if err := os.WriteFile(filepath.Join(out, name+ending), data, 0o644); err != nil {
			return err
		}
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(data), name+ending)
		fmt.Fprintf(os.Stderr, "release: %s, %.1f MB\n", name+ending, float64(len(data))/1e6)
	}
	return os.WriteFile(filepath.Join(out, "SHA256SUMS"), []byte(sums.String()), 0o644)
}

func stamp(version, commit string) string {
	return "-s -w -X main.version=" + version + " -X main.commit=" + commit
}

func goRun(env []string, args ...string) error {
	c := exec.Command("go", args...)
	c.Env = append(os.Environ(), env...)
	c.Stdout, c.Stderr = os.Stderr, os.Stderr
	if err := c.Run(); err != nil {
		return fmt.Errorf("go %s: %w", strings.Join(args, " "), err)
	}
	return nil
}

// build builds the binary of one platform, which must hold its engines.
func build(work, platform, version, commit string) (entry, error) {
	goos, goarch, _ := strings.Cut(platform, "/")
	name := "primaprova"
	if goos == "windows" {
		name += ".exe"
	}
	if _, err := os.Stat(filepath.Join("solver", "ortools", "bundle", goos+"-"+goarch)); err != nil {
		return entry{}, fmt.Errorf("the engines for %s are not packed: %w", platform, err)
	}
	file := filepath.Join(work, goos+"-"+goarch)
	err := goRun([]string{"GOOS=" + goos, "GOARCH=" + goarch, "CGO_ENABLED=0"}, "build", "-tags", "engines", "-trimpath", "-buildvcs=false",
		"-ldflags", stamp(version, commit), "-o", file, "./cmd/primaprova")
	if err != nil {
		return entry{}, err
	}
	data, err := os.ReadFile(file)
	return entry{name, data, 0o755}, err
}

// files gives what goes into every archive besides the binary.
func files(work string) ([]entry, error) {
	var list []entry
	add := func(name, file string) error {
		data, err := os.ReadFile(file)
		list = append(list, entry{name, data, 0o644})
		return err
	}
	for _, name := range []string{"LICENSE", "NOTICE", "docs/manual.md", "docs/install.md"} {
		if err := add(name, filepath.FromSlash(name)); err != nil {
			return nil, err
		}
	}
	papers := filepath.Join(work, "papers")
	err := filepath.WalkDir(papers, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(papers, path)
		if err != nil {
			return err
		}
		return add(filepath.ToSlash(rel), path)
	})
	return list, err
}

// An entry is a file of an archive; its name has slashes.
type entry struct {
	name string
	data []byte
	mode fs.FileMode
}

// tarball packs entries into a folder of that name, for systems that have tar.
func tarball(folder string, list []entry, date time.Time) ([]byte, error) {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	t := tar.NewWriter(z)
	for _, e := range list {
		head := &tar.Header{Name: folder + "/" + e.name, Mode: int64(e.mode), Size: int64(len(e.data)), ModTime: date, Format: tar.FormatUSTAR}
		if err := t.WriteHeader(head); err != nil {
			return nil, err
		}
		if _, err := t.Write(e.data); err != nil {
			return nil, err
		}
	}
	if err := t.Close(); err != nil {
		return nil, err
	}
	err = z.Close() // before the bytes are taken
	return b.Bytes(), err
}

// zipped does the same for Windows, which opens it by a double click.
func zipped(folder string, list []entry, date time.Time) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) { return flate.NewWriter(w, flate.BestCompression) })
	for _, e := range list {
		head := &zip.FileHeader{Name: folder + "/" + e.name, Method: zip.Deflate, Modified: date}
		head.SetMode(e.mode)
		w, err := z.CreateHeader(head)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(e.data); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}
