package main

import (
	"bufio"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// The seasons of a folder, those of an orchestra's players for example, are planned
// each by a process of its own: what one of them needs or breaks is its own.

// isFolder tells whether an argument names a folder.
func isFolder(path string) bool {
	i, err := os.Stat(path)
	return err == nil && i.IsDir()
}

const seasonMark = "programmes:"

// seasonsOf lists the season files in a folder and below it, and what else is YAML
// there; what is hidden is passed over in silence.
func seasonsOf(root string) (seasons, others []string, err error) {
	err = filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		switch name := e.Name(); {
		case err != nil:
			return err
		case path != root && strings.HasPrefix(name, "."):
			if e.IsDir() {
				return fs.SkipDir
			}
		case !e.IsDir() && slices.Contains([]string{".yaml", ".yml"}, filepath.Ext(name)):
			is, err := marked(path)
			if err != nil {
				return err
			}
			if is {
				seasons = append(seasons, path)
			} else {
				others = append(others, path)
			}
		}
		return nil
	})
	return seasons, others, err
}

// marked tells whether a file has a season file's programmes.
func marked(path string) (bool, error) {
	f, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), seasonMark) {
			return true, nil
		}
	}
	if err := lines.Err(); err != nil && !errors.Is(err, bufio.ErrTooLong) {
		return false, err
	}
	return false, nil
}
