package stand

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"path"
	"strings"
)

// The page's files as they are written: nothing is built or bundled.
//
//go:embed page/*.html page/*.css page/*.js page/*.svg
var pageFiles embed.FS

// An asset is a file of the page, ready to be sent.
type asset struct {
	kind     string // Content-Type
	data, gz []byte
}

var kinds = map[string]string{".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml"}

const front = "page.html"

// load gives the assets by the path under the key, and their version. All but the
// page itself lie below the version, so that they may be kept for good, and a page
// never meets the scripts of another version.
func load() (files map[string]asset, version string) {
	names, err := fs.Glob(pageFiles, "page/*")
	if err != nil {
		panic(err) // the pattern stands above
	}
	sum := sha256.New()
	data := map[string][]byte{}
	for _, name := range names { // in their order
		b, err := pageFiles.ReadFile(name)
		if err != nil {
			panic(err)
		}
		data[path.Base(name)] = b
		sum.Write([]byte(name + "\x00"))
		sum.Write(b)
	}
	version = hex.EncodeToString(sum.Sum(nil))[:12]
	files = map[string]asset{}
	for name, b := range data {
		at := version + "/" + name
		if name == front {
			at, b = "", bytes.ReplaceAll(b, []byte("VERSION"), []byte(version))
		}
		files[at] = asset{kinds[path.Ext(name)], b, squeezed(b)}
	}
	return files, version
}

func squeezed(b []byte) []byte {
	var out bytes.Buffer
	w, _ := gzip.NewWriterLevel(&out, gzip.BestCompression) // the level is one
	_, _ = w.Write(b)                                       // into memory
	_ = w.Close()
	return out.Bytes()
}

// takesGzip tells whether an Accept-Encoding has gzip, with whatever weight but 0.
func takesGzip(header string) bool {
	for part := range strings.SplitSeq(header, ",") {
		name, weight, _ := strings.Cut(strings.TrimSpace(part), ";")
		if strings.TrimSpace(name) == "gzip" {
			return strings.ReplaceAll(weight, " ", "") != "q=0"
		}
	}
	return false
}
