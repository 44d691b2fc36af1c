package seasonfile

import (
	"reflect"
	"testing"

	"primaprova/model"
)

func TestSmallSeason(t *testing.T) {
	f, err := Read("../../testdata/seasons/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s := f.Season
	if s.Title != "Three weeks at Brinemouth" || s.Days() != 21 || len(s.Programmes) != 2 {
		t.Errorf("read %q, %d days, %d programmes", s.Title, s.Days(), len(s.Programmes))
	}
	if got, want := s.Programmes[0].FirstRehearsal(), model.NewDate(2027, 3, 12); got != want {
		t.Errorf("first rehearsal %v, want %v", got, want)
	}
	if got := s.Programmes[1].Parts[0].Passages[1].Visits; len(got) != 3 || got[0] != 15 {
		t.Errorf("own recipe %v, want 15, 10, 10", got)
	}
	p := f.Place("programmes[0].parts[1].arrives")
	if got := string(f.Source[p.Offset:p.End]); got != "2027-03-02" {
		t.Errorf("the place of the arrival holds %q", got)
	}
}

func same(a, b any) bool { return reflect.DeepEqual(a, b) }
