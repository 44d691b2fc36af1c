package seasonfile

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
