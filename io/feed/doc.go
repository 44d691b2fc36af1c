// Package feed serves a calendar over HTTP for other programs to subscribe to.
// Who knows the path reads the calendar, and nobody can guess it. The package
// knows nothing of what is in the calendar.
package feed
