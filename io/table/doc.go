// Package table lays rows out for a reader: in columns of a given width for
// someone who looks at them, as plain tab-separated lines for a program, as CSV
// or Markdown to be taken elsewhere.
//
// It knows nothing of seasons and holds no wording: headings and cells come
// from the caller. Cutting rows to a width, wrapping, and the bars of a load
// live here; colours and the choice of width do not.
package table
