// Package page writes a planned season as one HTML file, for a phone or any
// other browser: the weeks with their days, the programmes, each part with its
// visits, and what is left out.
//
// The file needs nothing else, and its own policy forbids the browser to fetch
// anything. One small script, named in that policy by its hash, opens it on the day
// that the device's own clock shows and says how old the plan is; without it the page
// opens on the day it was written for, and all else is the same. It is light or dark
// as the reader's device asks, and can be read from 320 CSS pixels on. The texts of a season come into it
// through html/template alone, which escapes them. The same season, plan and
// options give the same bytes.
//
// It knows no other format and judges no plan.
package page
