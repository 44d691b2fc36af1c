// Package chart draws a planned season: the load of days and weeks against the
// caps, each part's way from its arrival to the day it stands ready, the days
// left between that and each first rehearsal, and the chances to be ready there.
// It writes SVG, PNG and PDF.
//
// Only drawing lives here; it reads no file and judges no plan. The canvas is
// that of gonum.org/v1/plot/vg, with one typeface (Liberation Sans) that is
// embedded in an SVG or PDF and drawn into a PNG. The same season and plan give the
// same bytes.
//
// No colour carries meaning alone: what differs in tone differs in lightness or
// in shape too, so that the charts can be read in black and white and by
// readers who see colours otherwise.
package chart
