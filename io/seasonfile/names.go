package seasonfile

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/goodsign/monday"

	"primaprova/model"
)

// Names of weekdays and months in other languages than English: those of the
// locales that github.com/goodsign/monday has, long and short. A season file means
// the same on every machine, so the reader's own language decides nothing: a name
// is read where it can mean one thing only in all of them together.

// foreign holds the names, in lower case and without a dot at the end: the weekdays
// from Sunday = 0 and the months from January = 1 that each may mean.
type foreign struct{ weekdays, months map[string][]int }

var foreignNames = sync.OnceValue(func() foreign {
	f := foreign{map[string][]int{}, map[string][]int{}}
	put := func(to map[string][]int, name string, meaning int) {
		if name = plainName(name); name != "" && !slices.Contains(to[name], meaning) {
			to[name] = append(to[name], meaning)
		}
	}
	for _, l := range monday.ListLocales() {
		for n := range 12 {
			t := time.Date(2027, time.Month(n+1), 1, 0, 0, 0, 0, time.UTC)
			put(f.months, monday.Format(t, "January", l), n+1)
			put(f.months, monday.Format(t, "Jan", l), n+1)
		}
		for n := range 7 {
			t := time.Date(2027, time.August, 1+n, 0, 0, 0, 0, time.UTC) // a Sunday
			put(f.weekdays, monday.Format(t, "Monday", l), n)
			put(f.weekdays, monday.Format(t, "Mon", l), n)
		}
	}
	return f
})

func plainName(s string) string {
	return strings.TrimSuffix(strings.ToLower(strings.TrimSpace(s)), ".")
}

// severalWeekdays gives the weekdays that a name may mean, in words, where they are
// more than one: "so" is a Saturday to some and a Sunday to others.
func severalWeekdays(s string) string {
	var out []string
	for _, d := range foreignNames().weekdays[plainName(s)] {
		out = append(out, weekdayNames[d])
	}
	if len(out) < 2 {
		return ""
	}
	return strings.Join(out, " or ")
}

var (
	dayFirst   = regexp.MustCompile(`^(\d{1,2})[.\s]\s*(\p{L}+)[.,\s]\s*(\d{4})$`) // 14. Januar 2027, 14 Jan 2027
	monthFirst = regexp.MustCompile(`^(\p{L}+)\.?\s+(\d{1,2}),?\s+(\d{4})$`)       // January 14, 2027
)

// namedDate reads a date whose month is a word.
func namedDate(s string) (model.Date, error) {
	var day, month, year string
	if m := dayFirst.FindStringSubmatch(s); m != nil {
		day, month, year = m[1], m[2], m[3]
	} else if m := monthFirst.FindStringSubmatch(s); m != nil {
		day, month, year = m[2], m[1], m[3]
	} else {
		return 0, advised{text: "is not a date like 2027-01-31"}
	}
	var read []string
	for _, n := range foreignNames().months[plainName(month)] {
		read = append(read, fmt.Sprintf("%s-%02d-%02s", year, n, day))
	}
	switch len(read) {
	case 0:
		return 0, advised{text: "is not a date like 2027-01-31: " + strconv.Quote(month) + " is no month"}
	case 1:
		if d, err := model.ParseDate(read[0]); err == nil {
			return d, nil
		}
		return 0, advised{text: "there is no such day in the calendar"}
	}
	return 0, advised{text: "can be read in two ways: " + strings.Join(read, " or ")}
}

// Nearest gives the known word that the written one was most likely meant to
// be, or "" when none is near: at most a third of its letters may differ.
func Nearest(written string, known []string) string {
	best, least := "", 1<<30
	for _, k := range known {
		if d := distance(written, k); d < least {
			best, least = k, d
		}
	}
	if 3*least > max(3, len([]rune(best))) {
		return ""
	}
	return best
}

// distance counts the letters to add, drop, change or swap with their
// neighbour that turn a into b (Damerau and Levenshtein, each pair once).
func distance(as, bs string) int {
	a, b := []rune(as), []rune(bs)
	if len(a) > 2*longest {
		return 1 << 20 // never near anything, and never worth the square
	}
	row := make([][]int, len(a)+1)
	for i := range row {
		row[i] = make([]int, len(b)+1)
		row[i][0] = i
	}
	for j := range row[0] {
		row[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[i][j] = min(row[i-1][j]+1, row[i][j-1]+1, row[i-1][j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[i][j] = min(row[i][j], row[i-2][j-2]+1)
			}
		}
	}
	return row[len(a)][len(b)]
}
