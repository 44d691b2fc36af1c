package model

import "testing"

func TestBlocksOfADay(t *testing.T) {
	a, b := session("a", day1, 570, 10), session("b", day1, 580, 10)
	c, d := session("c", day1, 595, 10), session("d", day1, 605, 10)
	for _, x := range []struct {
		day  []*Session
		want []int
	}{
		{nil, nil},
		{[]*Session{&a}, []int{1}},
		{[]*Session{&a, &b}, []int{2}},
		{[]*Session{&a, &b, &c, &d}, []int{2, 2}},
		{[]*Session{&a, &c}, []int{1, 1}},
		{[]*Session{{ID: "e"}, {ID: "f"}}, []int{2}}, // no times
	} {
		got := Blocks(x.day)
		if len(got) != len(x.want) {
			t.Errorf("%d blocks, want %v", len(got), x.want)
			continue
		}
		for i, n := range x.want {
			if len(got[i]) != n {
				t.Errorf("block %d has %d sessions, want %v", i, len(got[i]), x.want)
			}
		}
	}
}
