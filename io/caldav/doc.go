// Package caldav keeps objects in a calendar on a server (CalDAV, RFC 4791). It
// knows neither plans nor iCalendar: objects are named bytes, and whoever calls
// says how an object that nobody has edited is told from one that somebody has.
//
// # What may be written over
//
// Every PUT and DELETE is conditional (RFC 9110, section 13.1): on the ETag of a
// version that is known to be ours, or on there being nothing yet. A version is
// known to be ours when its ETag is the one last seen after a PUT (State), or
// when its content is as it was written. All else was edited by hand: it is
// reported and stays, unless the caller asks for it to be replaced. Objects
// whose names don't begin with the caller's prefix are never read or written.
//
// # Interrupted anywhere
//
// The state is no more than a shortcut. What it does not know is fetched and
// looked at, so that publishing again ends with the right objects wherever the
// server, the program or the network stopped before.
package caldav
