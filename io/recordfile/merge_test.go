package recordfile

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"primaprova/model"
)

// A phone as the record meets one: it keeps what is not answered, and sends all of it,
// oldest first. Of what it sent copies may still be under way.
type phone struct {
	name   string
	made   int
	kept   []model.Tap
	unseen int
	copies [][]model.Tap
}

func (p *phone) tap(r *rand.Rand) model.Tap {
	p.made++
	t := model.Tap{Event: model.Event{ID: fmt.Sprintf("phone-%s-%d", p.name, p.made), Unseen: p.unseen, Date: day,
		Kind: []model.EventKind{model.Done, model.NotDone, model.DidNotHold}[r.IntN(3)], Session: fmt.Sprintf("tide/slate/%d/visit-1", r.IntN(4)), Planned: 10}}
	switch n := r.IntN(10); {
	case n == 0:
		t.Event = model.Event{ID: t.ID, Unseen: t.Unseen, Date: day, Kind: model.Pain}
	case n <= 2 && p.made > 1:
		t.Event = model.Event{ID: t.ID, Unseen: t.Unseen, Kind: model.Undo}
		t.TakesBack = fmt.Sprintf("phone-%s-%d", p.name, 1+r.IntN(p.made-1))
	}
	p.kept = append(p.kept, t)
	return t
}

// 500 days of two phones and a desk in whatever order: taps while away, answers lost,
// copies that arrive late and twice, power cuts, undos. In the end the record holds
// each tap and each line of the desk once.
func TestMergedHoweverItComes(t *testing.T) {
	for seed := range uint64(500) {
		r := rand.New(rand.NewPCG(seed, 27))
		path := filepath.Join(t.TempDir(), "season.record.jsonl")
		phones := []*phone{{name: "a", unseen: 1}, {name: "b", unseen: 1}}
		want := map[string]model.EventKind{}
		desk := 0
		bring := func(taps []model.Tap) (*Record, error) {
			after, _, arrivals, err := Merge(path, evening, func(*Record) ([]model.Tap, error) { return taps, nil })
			for _, a := range arrivals {
				if a.Why != "" {
					return nil, errors.New(a.Why)
				}
			}
			return after, err
		}
		step := func(p *phone) (err error) {
			switch r.IntN(8) {
			case 0, 1, 2:
				x := p.tap(r)
				want[x.ID] = x.Kind
			case 3: // sent, and the answer is lost
				p.copies = append(p.copies, slices.Clone(p.kept))
				_, err = bring(p.kept)
			case 4: // sent and answered
				var after *Record
				if after, err = bring(p.kept); err == nil {
					p.copies, p.kept, p.unseen = append(p.copies, p.kept), nil, after.Last+1
				}
			case 5: // what was long under way comes in
				if len(p.copies) > 0 {
					_, err = bring(p.copies[r.IntN(len(p.copies))])
				}
			case 6:
				desk++
				_, _, err = Append(path, evening, giving(model.Event{Kind: model.Done, Date: day, Session: fmt.Sprintf("tide/slate/%d/visit-1", r.IntN(4))}))
			case 7: // the power goes while something is written: what was not answered is sent again
				if data, e := os.ReadFile(path); e == nil && r.IntN(3) == 0 {
					cut := `{"entry":` + strings.Repeat("9", r.IntN(3))
					err = os.WriteFile(path, append(data, cut...), 0o600)
				}
			}
			return err
		}
		for range 15 {
			if err := step(phones[r.IntN(2)]); err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
		}
		for _, p := range phones {
			if _, err := bring(p.kept); err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
		}
		after, err := Read(path)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		got := map[string]model.EventKind{}
		for _, e := range after.Events {
			if e.ID == "" {
				desk--
			} else if got[e.ID] != "" {
				t.Errorf("seed %d: %s is there twice", seed, e.ID)
			} else {
				got[e.ID] = e.Kind
			}
		}
		if desk != 0 || len(got) != len(want) {
			t.Errorf("seed %d: %d of %d taps, %d lines of the desk missing", seed, len(got), len(want), desk)
		}
		for id, kind := range want {
			if got[id] != kind {
				t.Errorf("seed %d: %s: %q, was %q", seed, id, got[id], kind)
			}
		}
	}
}

// A file put together of two copies by hand has each entry once.
func TestAnIDCountsOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "season.record.jsonl")
	const text = `{"format":"primaprova/record/1"}
{"entry":1,"at":"2027-03-03T21:10:00Z","id":"phone-aa","unseen":1,"kind":"done","date":"2027-03-03","session":"tide/slate/listening"}
{"entry":2,"at":"2027-03-03T21:10:00Z","id":"phone-aa","unseen":1,"kind":"done","date":"2027-03-03","session":"tide/slate/listening"}
`
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	r, err := Read(path)
	if err != nil || len(r.Events) != 1 || r.Last != 2 || r.Events[0].Unseen != 1 {
		t.Errorf("%+v, %v", r, err)
	}
}
