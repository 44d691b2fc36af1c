package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/klauspost/compress/zstd"

	"primaprova/solver/ortools"
)

// bundleNames are the bundles made of a wheel. HiGHS stands alone so that it is unpacked
// without the hundred libraries that only CP-SAT needs.
var bundleNames = []string{"highs", "cpsat"}

// bundleOf tells which bundle a file of the wheel belongs to, "" for none.
func bundleOf(name string) string {
	dir, file := path.Split(name)
	switch {
	case file == "" || (dir != "ortools/.libs/" && dir != "ortools.libs/"):
		return ""
	case strings.HasPrefix(file, "libhighs."), file == "highs.dll":
		return "highs"
	}
	return "cpsat"
}

// wheelStamp is written last of all and names the wheel the bundles were made of.
const wheelStamp = "wheel.sha256"

func stampOf(pin ortools.Pin) string { return pin.SHA256 + "  " + pin.Wheel + "\n" }

func upToDate(dir string, pin ortools.Pin) bool {
	stamp, err := os.ReadFile(filepath.Join(dir, wheelStamp))
	return err == nil && string(stamp) == stampOf(pin)
}

// writeBundles writes the bundles of a checked wheel. The same wheel always gives the same
// bytes: files in order of name, no dates, no owners.
func writeBundles(wheel, dir string, pin ortools.Pin) error {
	z, err := zip.OpenReader(wheel)
	if err != nil {
		return err
	}
	defer z.Close()
	files := map[string][]*zip.File{}
	for _, f := range z.File {
		if name := bundleOf(f.Name); name != "" {
			files[name] = append(files[name], f)
		}
	}
	if err := os.RemoveAll(dir); err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, name := range bundleNames {
		if len(files[name]) == 0 {
			return fmt.Errorf("%s: holds nothing for the bundle %s", wheel, name)
		}
		if err := writeBundle(files[name], filepath.Join(dir, name)); err != nil {
			return err
		}
	}
	return os.WriteFile(filepath.Join(dir, wheelStamp), []byte(stampOf(pin)), 0o644)
}

func writeBundle(files []*zip.File, base string) error {
	slices.SortFunc(files, func(a, b *zip.File) int { return strings.Compare(a.Name, b.Name) })
	var sums strings.Builder
	var packed bytes.Buffer
	z, err := zstd.NewWriter(&packed, zstd.WithEncoderLevel(zstd.SpeedBestCompression), zstd.WithEncoderConcurrency(1))
	if err != nil {
		return err
	}
	t := tar.NewWriter(z)
	for _, f := range files {
		data, err := contents(f)
		if err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(data), f.Name)
		if err := t.WriteHeader(&tar.Header{Name: f.Name, Mode: 0o644, Size: int64(len(data))}); err != nil {
			return err
		}
		if _, err := t.Write(data); err != nil {
			return err
		}
	}
	if err := t.Close(); err != nil {
		return err
	}
	if err := z.Close(); err != nil {
		return err
	}
	if err := os.WriteFile(base+".tar.zst", packed.Bytes(), 0o644); err != nil {
		return err
	}
	return os.WriteFile(base+".sums", []byte(sums.String()), 0o644)
}

func contents(f *zip.File) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	return io.ReadAll(r)
}
