//go:build !unix

package ortools

import "io/fs"

// ownedByUser is never reached: no wheel is pinned for these platforms.
func ownedByUser(fs.FileInfo) bool { return false }
