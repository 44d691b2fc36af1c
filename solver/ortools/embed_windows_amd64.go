//go:build engines

package ortools

import (
	"embed"
	"io/fs"
)

//go:embed bundle/windows-amd64
var bundleFiles embed.FS

// embedded holds the bundles of this platform, made by pack. Sub fails only on a path
// that is badly written.
var embedded, _ = fs.Sub(bundleFiles, "bundle/windows-amd64")
