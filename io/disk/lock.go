package disk

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// patience is how long one who wants to write waits for another to finish.
const patience = 10 * time.Second

// ErrBusy says that another process held a season's files for too long.
var ErrBusy = errors.New("another primaprova is writing to this season's files; try again when it is done")

// own are the endings of a season's files, after the season's name.
var own = []string{".plan.earlier.json", ".plan.json", ".record.jsonl", ".published.json", ".feed", ".stand"}

// season gives the name that all files of a season begin with, from any of
// them: season.yaml, season.plan.json and season.record.jsonl have season.
func season(path string) string {
	base := filepath.Base(path)
	for _, ending := range own {
		if name, ok := strings.CutSuffix(base, ending); ok && name != "" {
			return name
		}
	}
	return strings.TrimSuffix(base, filepath.Ext(base))
}

// Hold keeps all others from writing a season's files until release is called;
// path is any of them. It waits some seconds for others, and then gives ErrBusy.
// The lock goes with the process in any case. What those who were killed left
// unfinished is swept away.
func Hold(path string) (release func(), err error) {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target // two names of one file have one lock
	}
	name := season(path)
	file := filepath.Join(filepath.Dir(path), "."+name+".lock")
	lock := flock.New(file)
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	ok, err := lock.TryLockContext(ctx, 10*time.Millisecond)
	switch {
	case errors.Is(err, context.DeadlineExceeded), err == nil && !ok:
		return nil, fmt.Errorf("%s: %w", path, ErrBusy)
	case err != nil:
		return nil, at(path, err)
	}
	unfinished := regexp.MustCompile(`^\.` + regexp.QuoteMeta(name) + `\.(ya?ml|plan\.json|plan\.earlier\.json|record\.jsonl|published\.json|feed|stand)\d{5,}$`)
	sweep(filepath.Dir(path), 0, unfinished.MatchString)
	// The lock file stays: were it taken away, a process that waits for it and
	// one that makes it anew would both believe to have it.
	return func() { _ = lock.Unlock() }, nil
}

// Writable finds out, before long work, whether a file could be written then.
func Writable(path string) error {
	probe, err := os.CreateTemp(filepath.Dir(path), ".primaprova-")
	if err != nil {
		return at(path, err)
	}
	_ = probe.Close()
	sweep(filepath.Dir(path), time.Hour, func(name string) bool { return strings.HasPrefix(name, ".primaprova-") })
	return at(path, os.Remove(probe.Name()))
}
