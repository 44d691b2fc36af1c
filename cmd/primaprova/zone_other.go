//go:build !windows

package main

import (
	"os"
	"strings"
)

// systemZone gives the name of the time zone that the system is set to, "" where it can't be told.
func systemZone() string {
	link, err := os.Readlink("/etc/localtime")
	if err != nil {
		return ""
	}
	_, name, _ := strings.Cut(link, "zoneinfo/")
	return name
}
