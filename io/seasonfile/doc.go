// Package seasonfile reads the season file: the YAML that a player writes by
// hand, with parts in a CSV file and services in an iCalendar file where the
// season file names them.
//
// Reading is strict. What the file does not know how to mean is a fault, never
// a guess, and every fault is reported at once, with its file and line. The
// nodes of the YAML are walked by hand, because each fault needs its place and
// because later commands change single values in the file without touching
// the player's comments and layout: File.Places keeps where each value stands.
//
// Whether a season makes sense is the model's affair (Season.Validate); this
// package only gives the model's faults their lines. It writes nothing but the
// season file that a player starts from (New; FromTables, of a spreadsheet, whose
// columns are named in season_table.go; Start.Earlier, of the season before) and
// what a command was asked to change, in the season file or a table of parts
// (edit.go, edit_offer.go, edit_add.go).
package seasonfile
