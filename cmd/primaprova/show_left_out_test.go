package main

import "testing"

// What a plan decided, in a sentence: how far everything got, then what goes.
func TestDecided(t *testing.T) {
	for _, c := range []struct {
		name            string
		wanted, leftOut [kindsLeftOut]int
		want            string
	}{
		{"last visits only", [kindsLeftOut]int{4, 2, 3, 2, 3, 4, 6, 1}, [kindsLeftOut]int{laterOther: 2},
			"Every read-through is planned or done, every passage has its first two visits; left out are 2 of 6 later visits of passages not exposed."},
		{"exposed ones twice", [kindsLeftOut]int{4, 2, 3, 2, 3, 4, 6, 1}, [kindsLeftOut]int{secondOther: 1, laterOther: 6},
			"Every read-through is planned or done, every passage has its first visit, exposed ones their second; left out are 1 of 3 second visits of passages not exposed; 6 of 6 later visits of passages not exposed."},
		{"first visits gone", [kindsLeftOut]int{4, 2, 3, 2, 3, 4, 6, 1}, [kindsLeftOut]int{firstOther: 1, secondOther: 3, laterExposed: 4, laterOther: 6},
			"Every read-through is planned or done, every exposed passage has its first two visits; left out are 1 of 3 first visits of passages not exposed; 3 of 3 second visits of passages not exposed; 4 of 4 later visits of exposed passages; 6 of 6 later visits of passages not exposed."},
		{"only one visit each", [kindsLeftOut]int{4, 2, 0, 2, 0, 4, 0, 1}, [kindsLeftOut]int{secondExposed: 2, laterExposed: 4},
			"Every read-through is planned or done, every passage has its first visit; left out are 2 of 2 second visits of exposed passages; 4 of 4 later visits of exposed passages."},
		{"nothing exposed", [kindsLeftOut]int{2, 0, 3, 0, 3, 0, 6, 1}, [kindsLeftOut]int{laterOther: 3, recordingsKind: 1},
			"Every read-through is planned or done, every passage has its first two visits; left out are 3 of 6 later visits; 1 of 1 return to the recordings."},
		{"a part unread", [kindsLeftOut]int{2, 0, 3, 0, 3, 0, 6, 1}, [kindsLeftOut]int{readKind: 1, firstOther: 3, secondOther: 3, laterOther: 6},
			"Left out are 1 of 2 sessions of listening and reading; 3 of 3 first visits; 3 of 3 second visits; 6 of 6 later visits."},
	} {
		t.Run(c.name, func(t *testing.T) {
			var kinds [kindsLeftOut]leftOutKind
			for i := range kinds {
				kinds[i] = leftOutKind{leftOutKinds[i], c.wanted[i], c.leftOut[i], 0}
			}
			if got := decided(&kinds); got != c.want {
				t.Errorf("%s\nwant %s", got, c.want)
			}
		})
	}
}
