package recordfile

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"github.com/gofrs/flock"

	"primaprova/model"
)

// patience is how long an append waits for another to finish.
const patience = 10 * time.Second

// ErrBusy says that another process held the record for too long.
var ErrBusy = errors.New("another primaprova is writing to it; try again when it is done")

// Append adds one entry to the record at path, which need not exist: all of its
// events or none. Under a lock it reads the record first and hands it to make,
// which gives the events; their Entry and At are filled in. What make refuses
// is not written. The file only ever grows, and is synced before Append gives
// the record as it then is.
func Append(path string, now time.Time, make func(*Record) ([]model.Event, error)) (*Record, []model.Event, error) {
	lock := flock.New(lockPath(path))
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	if ok, err := lock.TryLockContext(ctx, 20*time.Millisecond); err != nil || !ok {
		if err == nil || errors.Is(err, context.DeadlineExceeded) {
			err = ErrBusy
		}
		return nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	// The lock file stays: were it taken away, a process that waits for it and
	// one that makes it anew would both believe to have it.
	defer lock.Unlock() //nolint:errcheck // the lock goes with the process in any case
	r, err := Read(path)
	if err != nil {
		return nil, nil, err
	}
	events, err := make(r)
	if err != nil || len(events) == 0 {
		return r, nil, err
	}
	for i := range events {
		events[i].Entry, events[i].At = r.Last+1, now.Truncate(time.Second)
	}
	data, err := r.encode(events, now)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	if err := add(path, data, r.size == 0); err != nil {
		return nil, nil, err
	}
	after, err := Read(path)
	return after, events, err
}

// lockPath gives the lock beside a record, hidden from plain listings.
func lockPath(path string) string {
	return filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".lock")
}

// encode gives what is to be added: a newline where the file ends without one,
// the name of what is broken, and the entry.
func (r *Record) encode(events []model.Event, now time.Time) ([]byte, error) {
	var b bytes.Buffer
	at := now.Truncate(time.Second)
	if r.size == 0 || r.Broken != nil && r.Broken.From == 1 {
		if err := (&line{Format: Format}).encode(&b); err != nil {
			return nil, err
		}
	}
	if r.Broken != nil {
		aside := line{Entry: r.Last + 1, At: &at, Kind: setAside, From: r.Broken.From, To: r.Broken.To}
		if err := aside.encode(&b); err != nil {
			return nil, err
		}
		for i := range events {
			events[i].Entry++
		}
	}
	for i := range events {
		if faults := events[i].Check(); len(faults) > 0 {
			return nil, errors.New(faults[0])
		}
		l := lineOf(&events[i])
		l.More = i+1 < len(events)
		if err := l.encode(&b); err != nil {
			return nil, err
		}
	}
	return b.Bytes(), nil
}

// add appends in one write, and syncs. A write that fails half-way leaves a
// broken end, which the next reader sets aside.
func add(path string, data []byte, fresh bool) error {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_APPEND|os.O_CREATE, 0o644)
	if err != nil {
		return err
	}
	defer f.Close()
	if info, err := f.Stat(); err != nil {
		return err
	} else if n := info.Size(); n > 0 {
		last := []byte{0}
		if _, err := f.ReadAt(last, n-1); err != nil {
			return err
		}
		if last[0] != '\n' {
			data = append([]byte{'\n'}, data...)
		}
	}
	if _, err := f.Write(data); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if fresh {
		return syncDir(filepath.Dir(path))
	}
	return nil
}

// syncDir makes a new file's name last. File systems that cannot do it say
// EINVAL or ENOTSUP; there is nothing more to be done on them.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, syscall.ENOTSUP) {
		return err
	}
	return nil
}
