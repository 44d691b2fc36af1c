package recordfile

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"primaprova/io/disk"
	"primaprova/io/private"
	"primaprova/model"
)

// Append adds one entry to the record at path, which need not exist: all of its
// events or none. Holding the season (disk.Hold) it reads the record first and hands it to make,
// which gives the events; their Entry and At are filled in. What make refuses
// is not written. The file only ever grows, and is synced before Append gives
// the record as it then is.
func Append(path string, now time.Time, make func(*Record) ([]model.Event, error)) (*Record, []model.Event, error) {
	return grow(path, now, func(r *Record) ([]model.Event, error) {
		events, err := make(r)
		for i := range events {
			events[i].Entry = r.next()
		}
		return events, err
	})
}

// Merge adds what was recorded away, each tap an entry of its own and once however
// often it comes in (model.Merge). make gives the taps from the record as it is;
// what became of each is told. The record holds them, synced, before Merge says so.
func Merge(path string, now time.Time, make func(*Record) ([]model.Tap, error)) (*Record, []model.Event, []model.Arrival, error) {
	var arrivals []model.Arrival
	r, events, err := grow(path, now, func(r *Record) (events []model.Event, err error) {
		taps, err := make(r)
		if err == nil {
			events, arrivals = model.Merge(r.Events, r.next(), taps)
		}
		return events, err
	})
	return r, events, arrivals, err
}

func grow(path string, now time.Time, make func(*Record) ([]model.Event, error)) (*Record, []model.Event, error) {
	release, err := disk.Hold(path)
	if err != nil {
		return nil, nil, err
	}
	defer release()
	r, err := Read(path)
	if err != nil {
		return nil, nil, err
	}
	events, err := make(r)
	if err != nil || len(events) == 0 {
		return r, nil, err
	}
	if events[len(events)-1].Entry >= mostEntries { // what could not be read again is not written
		return nil, nil, Error{{File: path, Text: fmt.Sprintf("holds entry %d, and no number is left to go on with; mend its last lines", r.Last)}}
	}
	for i := range events {
		events[i].At = now.Truncate(time.Second)
	}
	data, err := r.encode(events, now)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	noted := slices.ContainsFunc(events, func(e model.Event) bool { return e.Note != "" || e.Kind == model.Pain })
	if err := add(path, data, r.size == 0, noted); err != nil {
		return nil, nil, err
	}
	after, err := Read(path)
	return after, events, err
}

// next is the number of the next entry; one goes to the line that sets a broken end aside.
func (r *Record) next() int {
	if r.Broken != nil {
		return r.Last + 2
	}
	return r.Last + 1
}

// encode gives what is to be added: a newline where the file ends without one,
// the name of what is broken, and the entries.
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
	}
	for i := range events {
		if faults := events[i].Check(); len(faults) > 0 {
			return nil, errors.New(faults[0])
		}
		l := lineOf(&events[i])
		l.More = i+1 < len(events) && events[i+1].Entry == events[i].Entry
		if err := l.encode(&b); err != nil {
			return nil, err
		}
	}
	return b.Bytes(), nil
}

// add appends in one write, and syncs. A write that fails half-way leaves a
// broken end, which the next reader sets aside. A record is its owner's alone,
// an older one from when something was noted in it that is nobody else's business.
func add(path string, data []byte, fresh, noted bool) error {
	if made, err := private.Create(path); err == nil {
		_ = made.Close()
	} else if !errors.Is(err, fs.ErrExist) {
		return err
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_APPEND, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if noted && info.Mode().Perm()&0o077 != 0 {
		if err := f.Chmod(info.Mode().Perm() &^ 0o077); err != nil && !errors.Is(err, fs.ErrPermission) {
			return err // of a file of somebody else's, that is for him to decide
		}
	}
	if n := info.Size(); n > 0 {
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
		return disk.SyncDir(filepath.Dir(path))
	}
	return nil
}
