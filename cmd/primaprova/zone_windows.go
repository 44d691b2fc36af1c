package main

import (
	"golang.org/x/sys/windows/registry"

	"primaprova/io/seasonfile"
)

// systemZone gives the IANA name of the time zone that Windows is set to, "" where it can't be told.
func systemZone() string {
	k, err := registry.OpenKey(registry.LOCAL_MACHINE, `SYSTEM\CurrentControlSet\Control\TimeZoneInformation`, registry.QUERY_VALUE)
	if err != nil {
		return ""
	}
	defer k.Close()
	name, _, err := k.GetStringValue("TimeZoneKeyName")
	if err != nil {
		return ""
	}
	return seasonfile.WindowsZone(name)
}
