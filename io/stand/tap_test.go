package stand

import (
	"testing"

	"primaprova/model"
)

// FuzzTaps: whatever comes in is refused with a reason, or each tap is kept or refused
// with one, and what is kept is an event that means something.
func FuzzTaps(f *testing.F) {
	for _, s := range []string{"", aTap, `{"taps":[{"id":"phone-aa","kind":"undo","undoes":"1"},{"id":"phone-bb","kind":"pain","date":"2027-03-03"}]}`,
		`{"taps":[{"id":"phone-aa","unseen":9,"kind":"found","date":"2027-03-03","part":"a/b","bars":"1-4","hard":2,"heard":true,"tempo":96}]}`, `{"taps":null}`, "{\"taps\":[{\"kind\":\"done\"}]}\x00"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		taps, err := decode(b)
		if err != nil {
			if err.Error() == "" {
				t.Error("refused without a reason")
			}
			return
		}
		before := []model.Event{{Entry: 1, Kind: model.Done, Date: 1, Session: "a/b/listening"}}
		add, out := model.Merge(before, 2, taps)
		if len(out) != len(taps) {
			t.Errorf("%d taps, %d answers", len(taps), len(out))
		}
		for i := range add {
			if faults := add[i].Check(); len(faults) > 0 || add[i].Entry != 2+i {
				t.Errorf("%+v: %v", add[i], faults)
			}
		}
		model.Counting(model.Standing(append(before, add...)))
	})
}
