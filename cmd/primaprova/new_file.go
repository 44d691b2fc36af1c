package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"primaprova/io/disk"
)

// create writes a new season file, whole or not at all, and over none that is
// there but where told so: then what was there is kept under another name.
func (a *app) create(path string, b []byte, replace bool) error {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return wrong("%s: is a directory; name a file in it", path)
	} else if err == nil && !info.Mode().IsRegular() {
		return wrong("%s: is not a regular file", path)
	}
	was, err := os.ReadFile(path)
	if err == nil && replace {
		kept, err := keepCopy(path, was)
		if err != nil {
			return err
		}
		a.say.aside("Kept what was there as %s.", kept)
		if err := disk.Write(path, b, 0o644); err != nil {
			return cannotWrite(path, err)
		}
		return nil
	}
	switch err := disk.Create(path, b, 0o644); {
	case errors.Is(err, fs.ErrExist):
		return wrong("%s: is there already; name another file to begin another season", path).then("check %s", quoted(path))
	case err != nil:
		return cannotWrite(path, err)
	}
	return nil
}

// keepCopy writes what a season file held beside it: season.yaml becomes
// season.kept.yaml, season.kept2.yaml where that is taken, and so on.
func keepCopy(path string, b []byte) (string, error) {
	ext := filepath.Ext(path)
	for n := 1; ; n++ {
		name := strings.TrimSuffix(path, ext) + ".kept" + ext
		if n > 1 {
			name = fmt.Sprintf("%s.kept%d%s", strings.TrimSuffix(path, ext), n, ext)
		}
		err := disk.Create(name, b, 0o644)
		if err == nil {
			return name, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return "", cannotWrite(name, err)
		}
	}
}

// homeZone gives the name of this machine's time zone, or "" where it has none
// that can be told.
func homeZone() string {
	name, set := os.LookupEnv("TZ")
	if !set {
		name = systemZone()
	}
	if _, err := time.LoadLocation(name); err != nil || name == "" || name == "Local" {
		return ""
	}
	return name
}
