package seasonfile

import (
	"bytes"

	"primaprova/io/disk"
)

// Replace writes the file that an edit changes in the place of the one that was
// read, the season file or a table that it names, wholly (see disk.Write). When
// the file is no longer what was read, since an editor saved it meanwhile,
// nothing is written. Who calls it holds the season: disk.Hold.
func (f *File) Replace(read *File) error {
	named := f.Changed(read)
	if named == "" {
		return nil
	}
	was, is := read.Source, f.Source
	for name, n := range f.Others {
		if n.Path == named && named != f.Path {
			was, is = read.Others[name].Source, n.Source
		}
	}
	now, err := load(named)
	if err != nil {
		return err
	}
	if !bytes.Equal(now, was) {
		return Errors{{File: named, Text: "was changed by somebody else meanwhile; nothing was written", Advice: "run the command again"}}
	}
	return disk.Write(named, is, 0o644)
}
