package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/flate"
	"compress/gzip"
	"io"
	"io/fs"
	"time"
)

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
