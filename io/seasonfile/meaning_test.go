package seasonfile

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"primaprova/model"
)

// TestThePageKnowsEveryKey: docs/meaning.md names every key that the reader takes
// of limits and habits, and gives the defaults that hold; the file that `new`
// writes names them with the same.
func TestThePageKnowsEveryKey(t *testing.T) {
	data, err := os.ReadFile("../../docs/meaning.md")
	if err != nil {
		t.Fatal(err)
	}
	template, err := os.ReadFile("new.yaml.tmpl")
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]string{}
	for _, line := range strings.Split(string(data), "\n") {
		cells := strings.Split(line, "|")
		if len(cells) < 4 {
			continue
		}
		for _, key := range regexp.MustCompile("`([a-z_]+)`").FindAllStringSubmatch(cells[1], -1) {
			rows[key[1]] += strings.Join(cells[2:], "|")
		}
	}
	l, h := model.DefaultLimits(), model.DefaultHabits()
	list := func(n []int) string { return strings.Trim(strings.ReplaceAll(fmt.Sprint(n), " ", ", "), "[]") }
	for key, want := range map[string]string{
		"playing": fmt.Sprint(int(l.Playing.Every)), "warm_up": fmt.Sprint(int(l.WarmUp)), "passages": fmt.Sprint(l.Passages),
		"block": fmt.Sprint(int(l.Block)), "block_rest": fmt.Sprint(int(l.BlockRest)), "heavy": fmt.Sprintf("%d %%", l.Heavy),
		"rise": fmt.Sprintf("%d %%", l.Rise), "rise_floor": fmt.Sprint(int(l.RiseFloor)), "light": fmt.Sprintf("%d %%", l.Light),
		"light_days": fmt.Sprint(l.LightDays), "before_concert": fmt.Sprintf("%d %%", l.BeforeConcert), "two_services": fmt.Sprint(int(l.TwoServices)),
		"return":      fmt.Sprintf("%d days, %d days, %d %%, %d min", l.Return.After, l.Return.Ill, l.Return.First, int(l.Return.Rise)),
		"service_gap": fmt.Sprint(int(l.ServiceGap)), "step": fmt.Sprint(int(h.Step)), "visits": list(h.Visits[1:]),
		"shares": list(h.Shares) + " %", "least_gaps": list(h.LeastGaps), "preferred_gaps": list(h.PreferredGaps),
		"upkeep": fmt.Sprint(int(h.Upkeep)), "upkeep_after": fmt.Sprint(h.UpkeepAfter),
		"ready_days": fmt.Sprint(h.ReadyDays), "fresh_days": fmt.Sprint(h.FreshDays), "last_days": fmt.Sprint(h.LastDays),
		"service_playing": fmt.Sprintf("%d %%", h.ServicePlaying), "tempo_steps": fmt.Sprint(h.TempoSteps),
		"exposed_weight": fmt.Sprint(h.ExposedWeight), "visit_values": list(h.VisitValues),
	} {
		if !strings.Contains(rows[key], want) {
			t.Errorf("%s: the page gives no default of %s: %q", key, want, rows[key])
		}
		if !strings.Contains(string(template), key+":") {
			t.Errorf("%s: the file that new writes does not name it", key)
		}
	}
	source, err := os.ReadFile("season.go")
	if err != nil {
		t.Fatal(err)
	}
	keys := regexp.MustCompile(`\b(?:opt|must|with)\("([a-z_]+)"`).FindAllStringSubmatch(string(source), -1)
	for _, key := range keys {
		if !strings.Contains(string(data), "`"+key[1]) && !strings.Contains(string(data), key[1]+",") {
			t.Errorf("%s: the page does not name it", key[1])
		}
	}
	if len(keys) < 50 {
		t.Errorf("only %d keys were found in the reader", len(keys))
	}
}

// TestThePageKnowsEveryRule: what is judged by says what each rule asks for, and the
// second auditor, who goes by the page, has a breach of it.
func TestThePageKnowsEveryRule(t *testing.T) {
	page, err := os.ReadFile("../../docs/meaning.md")
	if err != nil {
		t.Fatal(err)
	}
	var second strings.Builder
	files, err := filepath.Glob("../../testdata/python/audit/*.py")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		source, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		second.Write(source)
	}
	for _, r := range model.Rules() {
		if !strings.Contains(second.String(), `"`+string(r.ID)+`", `) {
			t.Errorf("%s: testdata/python/audit judges no such rule: %s", r.ID, r.Sentence)
		}
		if !regexp.MustCompile(`\b` + string(r.ID) + `\b`).Match(page) {
			t.Errorf("%s is not on the page: %s", r.ID, r.Sentence)
		}
	}
}
