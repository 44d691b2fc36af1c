// Package disk writes files so that nothing is lost: each is wholly the old one
// or wholly the new one at any moment, also when the machine stops, and of all
// who write a season's files one writes at a time.
//
// What depends on the system stands in files named after it. For another system
// they have to give
//
//	replace  a file of some bytes in the place of another, at one stroke
//	link     a second name for a file, only where none has that name yet
//	syncDir  what a folder holds, made to last
//
// The lock comes from a library that knows the systems itself.
package disk
