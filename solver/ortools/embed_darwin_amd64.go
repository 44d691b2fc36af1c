//go:build engines

package ortools

import (
	"embed"
	"io/fs"
)

//go:embed bundle/darwin-amd64
var bundleFiles embed.FS

// embedded holds the bundles of this platform, made by pack. Sub fails only on a path
// that is badly written.
var embedded, _ = fs.Sub(bundleFiles, "bundle/darwin-amd64")
