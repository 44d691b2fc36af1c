// Package wall writes a planned season as a PDF to print: the season on one
// sheet, a month a page, a week a page with boxes to tick, and each part's way
// from arrival to ready. Only drawing lives here; it reads no file and judges no
// plan.
//
// # From the plan to the page
//
// A layout (season, month, week, ways) turns a diary, the plan seen day by day,
// into sheets. A sheet is a list of texts, areas and lines in points from the top
// left corner, and each text knows the cell it has to stay in; what does not
// fit is said in fewer words, never written over the edge. paint hands the list
// to the PDF library. The tests look at the list and at what independent
// programs read from the PDF.
//
// # Looks
//
// A programme has a tone, a pattern and a letter (palette): the letter alone is
// enough where there is no colour. A service is a badge: filled for the first
// rehearsal, with a heavy left edge for the others, round for a concert. At the
// bottom of each day a bar as wide as the greatest cap shows the day's cap as a
// frame, services solid in it and planned playing in patterns.
//
// # The same plan gives the same bytes
//
// The PDF's dates are the first day of what is shown, and nothing in it depends
// on a clock.
package wall
