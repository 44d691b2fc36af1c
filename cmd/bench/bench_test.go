package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
)

// The test's own binary serves as the child, as bench's does.
func TestMain(m *testing.M) {
	if len(os.Args) == 2 && os.Args[1] == childFlag {
		os.Exit(serve(os.Stdin, os.Stdout))
	}
	os.Exit(m.Run())
}

// inRoot gives a bench that stands in the root of the sources, as make has it.
func inRoot(t *testing.T) *bench {
	t.Helper()
	t.Chdir(filepath.Join("..", ".."))
	t.Setenv("PRIMAPROVA_ENGINES", filepath.Join(".deps", "engines"))
	return &bench{ctx: context.Background(), folder: t.TempDir(), demo: "testdata/seasons/small.yaml",
		seconds: 20, work: 1, seeds: 1, runs: 2, pairs: 1}
}

// On a small season everyone finds the best plan, so that every row is known.
func TestEnginesOnASmallSeason(t *testing.T) {
	b := inRoot(t)
	b.engines()
	seen := map[string]row{}
	for _, r := range b.rows {
		name, _, _ := strings.Cut(r.what, ",")
		seen[name] = r
		if strings.HasPrefix(r.note, "FAILED") {
			t.Errorf("%s: %s", r.what, r.note)
		}
	}
	ours := seen["ours"]
	if len(ours.wishes) == 0 || ours.first == 0 || ours.seconds == 0 || ours.megabytes < 5 {
		t.Fatalf("ours: %+v", ours)
	}
	for _, name := range []string{"HiGHS", "CP-SAT", "CBC"} {
		r := seen[name]
		if len(r.wishes) == 0 || measures(r.wishes) != measures(ours.wishes) {
			t.Errorf("%s: %v, ours %v: %s", name, r.wishes, ours.wishes, r.note)
		}
	}
	if greedy := seen["greedy alone"]; !measures(ours.wishes).Less(measures(greedy.wishes)) {
		t.Errorf("greedy %v is as good as ours %v: the season tells nothing", greedy.wishes, ours.wishes)
	}
	last := b.rows[len(b.rows)-1]
	if !strings.HasPrefix(last.what, "ours, as good as") || !strings.Contains(last.note, "stopped after") || !strings.Contains(last.note, "times faster") {
		t.Errorf("in the end: %+v", last)
	}
}

func TestLatePartIsMeasured(t *testing.T) {
	b := inRoot(t)
	z := invent.Grown(7, 0, true, 1)
	z.Passages = 3
	r := b.child(task{Do: "late", Size: &z, Work: 0.01, Days: 10})
	if r.Failure != "" || len(r.Wishes) == 0 || r.First == 0 || !strings.Contains(r.Note, "future sessions outside the part moved") {
		t.Errorf("%+v", r)
	}
}

// Parts in turn come late over one plan, which the first of them makes.
func TestLateInTurnOverOnePlan(t *testing.T) {
	b := inRoot(t)
	z := invent.Grown(10, 0, true, 1)
	z.Passages = 3
	of := task{Do: "late", Size: &z, Work: 0.01, Days: 10, Folder: t.TempDir(), Turn: 2}
	first := b.child(of)
	made, err := os.ReadFile(filepath.Join(of.Folder, "season.plan.json"))
	if err != nil || first.Failure != "" {
		t.Fatal(err, first.Failure)
	}
	again := b.child(of)
	kept, err := os.ReadFile(filepath.Join(of.Folder, "season.plan.json"))
	if err != nil || !bytes.Equal(made, kept) || measures(first.Wishes) != measures(again.Wishes) || first.Moved != again.Moved {
		t.Errorf("%v: %+v\nthen %+v", err, first, again)
	}
	if of.Turn = 3; b.child(of).Note == first.Note {
		t.Errorf("another programme's part: %s", first.Note)
	}
}

// A child that fails says why in its row, and nobody's failure is hidden.
func TestFailureIsNamed(t *testing.T) {
	b := inRoot(t)
	b.demo = "testdata/seasons/none.yaml"
	r := b.child(task{Do: "greedy", File: b.demo})
	if got := r.row("g", "w"); !strings.HasPrefix(got.note, "FAILED: ") || !strings.Contains(got.note, "none.yaml") {
		t.Errorf("%+v", got)
	}
}

func TestVariables(t *testing.T) {
	b := inRoot(t)
	mps, z := filepath.Join(b.folder, "p.mps"), invent.Small(1)
	if r := b.child(task{Do: "program", Size: &z, MPS: mps}); r.Failure != "" {
		t.Fatal(r.Failure)
	}
	names, err := variables(mps)
	if err != nil || len(names) < 20 || !slices.Contains(names, "wish[spacing]") {
		t.Errorf("%d variables: %v", len(names), err)
	}
}

func TestAnswers(t *testing.T) {
	names := []string{"a", "b[1,2]", "c"}
	for _, c := range []struct {
		what, text string
		read       func(string, []string) ([]float64, error)
		want       []float64
	}{
		{"CBC", "Optimal - objective value 3\n      0 a   1   0\n**    2 c   2.5   0\n", readCBC, []float64{1, 0, 2.5}},
		{"CBC in time", "Stopped on time - objective value 3\n      1 b[1,2]   1   0\n", readCBC, []float64{0, 1, 0}},
		{"CBC without", "Stopped on time (no integer solution - continuous used) - objective value 3\n      0 a   0.5   0\n", readCBC, nil},
		{"GLPK", "c Status: INTEGER OPTIMAL\ns mip 5 3 o 3\ni 1 0\nj 1 1\nj 2 0\nj 3 2.5\ne o f\n", readGLPK, []float64{1, 0, 2.5}},
		{"GLPK in time", "s mip 5 3 f 3\nj 2 1\n", readGLPK, []float64{0, 1, 0}},
		{"GLPK without", "s mip 5 3 u 0\nj 1 0\n", readGLPK, nil},
	} {
		file := filepath.Join(t.TempDir(), "answer.txt")
		if err := os.WriteFile(file, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		got, err := c.read(file, names)
		if !slices.Equal(got, c.want) || (err == nil) != (c.want != nil) {
			t.Errorf("%s: %v, %v; want %v", c.what, got, err, c.want)
		}
	}
}

func TestTable(t *testing.T) {
	b := &bench{}
	b.add(row{group: "g", what: "w", seconds: 1.5, left: 2, note: "n", wishes: []model.WishValue{
		{Value: 3}, {Value: 0}, {Value: 0}, {Value: 110, Bound: 100}, {Value: 7, Bound: 7}}})
	var out bytes.Buffer
	if err := b.write(&out, 0); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	if want := "g\tw\t\t1.50\t\t\t2\t3/0\t0\t0\t110/100 +10.0%\t7/7 +0.0%\tn"; len(lines) != 2 || lines[1] != want {
		t.Errorf("%q, want %q", lines, want)
	}
}

func TestMoved(t *testing.T) {
	at := func(id, part string, d model.Date) model.Session {
		return model.Session{ID: id, Part: part, Date: d, Stage: model.PassageStage}
	}
	old := &model.Plan{Sessions: []model.Session{at("past", "a", 1), at("kept", "a", 5), at("moved", "a", 6), at("gone", "a", 7), at("own", "late", 8)}}
	now := &model.Plan{Sessions: []model.Session{at("past", "a", 2), at("kept", "a", 5), at("moved", "a", 9), at("own", "late", 12), at("new", "a", 9)}}
	if m, all := moved(old, now, 5, "late"); m != 2 || all != 3 {
		t.Errorf("%d of %d moved, want 2 of 3", m, all)
	}
}

func TestDaysAreMeasured(t *testing.T) {
	b := inRoot(t)
	b.days()
	if len(b.rows) != 1 || b.rows[0].note != "the season gives no hours" {
		t.Errorf("without hours: %+v", b.rows)
	}
	text, err := os.ReadFile(b.demo)
	if err != nil {
		t.Fatal(err)
	}
	b.rows, b.demo = nil, filepath.Join(b.folder, "hours.yaml")
	if err := os.WriteFile(b.demo, append(text, "\nhours: {every day: [09:30-12:30, 14:00-17:00]}\n"...), 0o644); err != nil {
		t.Fatal(err)
	}
	b.days()
	if len(b.rows) != 2 {
		t.Fatalf("%+v", b.rows)
	}
	for _, r := range b.rows {
		if r.seconds == 0 || !strings.Contains(r.note, "days have other hours") {
			t.Errorf("%s: %s", r.what, r.note)
		}
	}
}

// Every way to the engine from Python does what ours does: a small program and
// its relaxation, with the same nodes and iterations.
func TestBindingDoesEqualWork(t *testing.T) {
	b := inRoot(t)
	mps, z := filepath.Join(b.folder, "p.mps"), invent.Small(1)
	if r := b.child(task{Do: "program", Size: &z, MPS: mps}); r.Failure != "" {
		t.Fatal(r.Failure)
	}
	for _, o := range others {
		for relaxed := range 2 {
			r := b.pair("binding", o.name, mps, relaxed, o)
			if !strings.Contains(r.note, "; equal work: ") || r.cpu == 0 {
				t.Errorf("%s, relaxed %d: %s", o.name, relaxed, r.note)
			}
		}
	}
}

func TestGrowthIsMeasured(t *testing.T) {
	b := inRoot(t)
	b.work, b.growing = 0.01, growing{weeks: []int{4}, recipes: []int{0}, seasons: []int{2, 3}}
	b.growth()
	if len(b.rows) != 2 {
		t.Fatalf("%+v", b.rows)
	}
	for n, r := range b.rows {
		if r.cpu == 0 || r.what != fmt.Sprintf("4 weeks, ordinary recipes, season %d", n+2) || !strings.Contains(r.note, "per week: ") {
			t.Errorf("%+v", r)
		}
	}
	if n, err := wholes("", 1, 6); n != nil || err != nil {
		t.Error(n, err)
	}
	if n, err := wholes("1,6", 1, 6); !slices.Equal(n, []int{1, 6}) || err != nil {
		t.Error(n, err)
	}
	for _, bad := range []string{"7", "0", "x", "1;2"} {
		if n, err := wholes(bad, 1, 6); err == nil {
			t.Errorf("%s: %v", bad, n)
		}
	}
}

// A small season that is worked at without the written-out program still comes to what CP-SAT proves best, or the row says by how much not.
func TestBesideOthers(t *testing.T) {
	b := inRoot(t)
	b.lives.First, b.seconds = 4, 30
	b.overfull()
	last := b.rows[len(b.rows)-2:]
	if !strings.Contains(last[0].note, "of 1 seasons ours is worse in 0 and better in 0; coverage proven by cpsat in 1; 0 failed") {
		t.Errorf("%+v", b.rows)
	}
	if last[1].note != "median 0.0%, worst 0.0%" {
		t.Errorf("%+v", last[1])
	}
}
