// Package wall writes a planned season as a PDF to print: the season on one
// sheet, a month a page, a week on one page or two with boxes to tick, days for the
// music stand, and each part's way from arrival to ready. Only drawing lives here; it reads no file and judges no
// plan.
//
// # From the plan to the page
//
// A layout (season, month, week, days, ways) turns a diary, the plan seen day by
// day, into sheets. A sheet is a list of texts, areas and lines in points from the
// top left corner, and each text knows the cell it has to stay in. In a cell of the
// season's and the months' sheets what does not fit is said in fewer words. On the
// sheets that are played from nothing of a session and no rest is ever left away:
// they grow by pages. paint hands the list to io/pdf, which knows the PDF library. The tests look at the
// list and at what independent programs read from the PDF.
//
// # Looks
//
// A programme has a tone, a pattern and a letter (model's Look): the letter alone is
// enough where there is no colour. A first rehearsal is a black bar, a concert
// stands in a round frame, other rehearsals are plain words; an open diamond is a
// ready-by date. At the bottom of each day a bar as wide as the greatest cap shows
// the day's cap as a frame, services solid in it and planned playing in patterns. On
// the season's sheet the ground of a day says how much is played. No text is smaller
// than leastText, and a sheet's text is of one size, titles and the stand's apart.
//
// # The same plan gives the same bytes
//
// The PDF's dates are the first day of what is shown, and nothing in it depends
// on a clock.
package wall
