// Package webcal keeps copies of other people's calendars beside a season: of
// files the last that could be used, and of calendars at addresses too, which it
// fetches so that nobody is troubled: only what has changed is sent (ETag and
// Last-Modified, RFC 9110, section 13), a server that asks for patience gets it
// (Retry-After, section 10.2.3), and nobody is asked twice within a minute.
//
// Who has such an address may read the calendar. No error holds it, the files
// are named by a digest of it, and they are their owner's alone.
package webcal
