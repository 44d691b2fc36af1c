package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// audited are the campaign's arguments unless AUDIT in the environment gives others:
// `make audit AUDIT='--seeds 1000'` is the long campaign.
const audited = "--first 1 --seeds 10"

// TestSecondAuditor lives invented seasons through commands of every kind and has each plan
// judged by testdata/python/audit, which was written from docs/meaning.md alone and shares no
// code with ours.
func TestSecondAuditor(t *testing.T) {
	references, err := filepath.Abs("../../.deps/python")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(references, "yaml")); err != nil {
		t.Fatal("the second auditor's reader of YAML is not there; fetch it with: make deps")
	}
	engines, err := filepath.Abs("../../.deps/engines")
	if err != nil {
		t.Fatal(err)
	}
	program, err := exec.LookPath("primaprova")
	if err != nil {
		t.Fatal(err)
	}
	python, err := filepath.Abs("../../testdata/python")
	if err != nil {
		t.Fatal(err)
	}
	args := os.Getenv("AUDIT")
	if args == "" {
		args = audited
	}
	home := t.TempDir()
	c := exec.Command("python3", append([]string{"-m", "audit.campaign", "--program", program}, strings.Fields(args)...)...)
	c.Env = append(os.Environ(),
		"PYTHONPATH="+references+string(os.PathListSeparator)+python, "PYTHONDONTWRITEBYTECODE=1",
		"HOME="+home, "XDG_CONFIG_HOME="+home, "TZ=UTC", "PRIMAPROVA_TODAY=", "PRIMAPROVA_ENGINES="+engines)
	var stdout, stderr bytes.Buffer
	c.Stdout, c.Stderr = &stdout, &stderr
	err = c.Run()
	t.Log(stdout.String())
	if err != nil {
		t.Errorf("%v: the page and the plans disagree, or the campaign broke off\n%s", err, stderr.String())
	}
}
