package solver

import (
	"context"
	"testing"
	"time"

	"primaprova/io/seasonfile"
)

func TestProf(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	at := time.Now()
	plan, err := Solve(context.Background(), f.Season, Options{Engine: engine(t), Progress: func(p Progress) { t.Log(p.Step, time.Since(at)) }})
	if err != nil {
		t.Fatal(err)
	}
	t.Log(plan.Provenance, time.Since(at))
}
