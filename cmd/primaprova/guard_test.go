package main

import (
	"bytes"
	"strings"
	"testing"
)

// Whatever is said, and whoever it comes from, a terminal gets nothing to obey.
func TestGuard(t *testing.T) {
	const evil = "a\x1b]0;PWNED\ab\x9b31mc\u009b31md\r\x7f\x00e\u0085f"
	for name, say := range map[string]func(*voice){
		"result":  func(v *voice) { v.result(evil) },
		"title":   func(v *voice) { v.title("%s", evil) },
		"line":    func(v *voice) { v.line("%s", evil) },
		"aside":   func(v *voice) { v.aside("%s", evil) },
		"next":    func(v *voice) { v.next("plan %s", evil) },
		"trouble": func(v *voice) { v.trouble(wrong("%s", evil).then("%s", evil)) },
	} {
		var out, err bytes.Buffer
		v := newVoice(&out, &err)
		v.colour, v.width = true, 80
		say(v)
		got := strings.NewReplacer("\x1b[1m", "", "\x1b[0m", "").Replace(out.String() + err.String())
		if got == "" || strings.ContainsFunc(got, func(r rune) bool { return r < ' ' && r != '\n' || 0x7f <= r && r <= 0x9f }) {
			t.Errorf("%s: %q", name, got)
		}
		for _, c := range "abcdef" {
			if !strings.ContainsRune(got, c) {
				t.Errorf("%s: %q has lost %c", name, got, c)
			}
		}
	}
}
