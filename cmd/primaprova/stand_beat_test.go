//go:build browser

package main

import (
	"fmt"
	"math"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"primaprova/io/page/browser"
)

// The sound of the clicks themselves, sample by sample, while the page is kept busy: each
// lies where its tempo puts it on the audio clock.
func TestStandBeatInABrowser(t *testing.T) {
	h := home(t, "2027-03-05")
	p := h.phone(browser.Start(t), 360, 740, "light")
	browser.Call(p.Tab, page.SetBypassCSP, page.SetBypassCSPParams{Enabled: true}) // for the recorder below
	if err := chromedp.Do(p.Ctx, chromedp.Reload()); err != nil {
		t.Fatal(err)
	}
	p.Until(`globalThis.standPage`)
	tempo, seconds := 132.0, 30
	onsets := eval[[]float64](p, fmt.Sprintf(heard, tempo, seconds))
	if len(onsets) < int(tempo/60*float64(seconds)/2) { // where the machine stood still some are left out
		t.Fatalf("%d clicks in %d s", len(onsets), seconds)
	}
	off := func(at float64) float64 { return math.Remainder(at-onsets[0], 60/tempo) }
	worst := 0.0
	for _, at := range onsets {
		worst = max(worst, math.Abs(off(at)))
	}
	last := onsets[len(onsets)-1]
	drift := off(last) / (last - onsets[0]) * 60
	t.Logf("%d clicks: at most %.3f ms off, drift %.4f ms a minute", len(onsets), worst*1000, drift*1000)
	if worst > 0.001 || math.Abs(drift) > 0.001 {
		t.Errorf("at most %.3f ms off, drift %.4f ms a minute: want less than 1", worst*1000, drift*1000)
	}
}

// heard plays clicks into a recorder on the audio's own thread, and gives the seconds of
// the audio clock at which they begin. (A worklet is there because a test's browser
// trusts this machine; over plain http a phone has none, and the page needs none.)
const heard = `(async () => {
  const tempo = %f, seconds = %d, audio = new AudioContext(), onsets = [];
  await audio.resume();
  await audio.audioWorklet.addModule(URL.createObjectURL(new Blob([` + "`" + `registerProcessor("ear", class extends AudioWorkletProcessor {
    quiet = 1e9;
    process([[x]]) {
      for (let i = 0; x && i < x.length; i++) {
        if (Math.abs(x[i]) > 0.05) {
          if (this.quiet > sampleRate * 0.1) this.port.postMessage((currentFrame + i) / sampleRate);
          this.quiet = 0;
        } else this.quiet++;
      }
      if (!x) this.quiet += 128;
      return true;
    }
  })` + "`" + `], { type: "text/javascript" })));
  const ear = new AudioWorkletNode(audio, "ear");
  ear.port.onmessage = (e) => onsets.push(e.data);
  ear.connect(audio.destination);
  const clicks = new standPage.Clicks({ audio, sound: standPage.knock(audio, ear) });
  clicks.start(tempo);
  const end = performance.now() + seconds * 1000;
  while (performance.now() < end) {
    await new Promise(r => setTimeout(r, 20 + Math.random() * 30));
    for (const busy = performance.now() + Math.random() * 40; performance.now() < busy;);
  }
  clicks.stop();
  await new Promise(r => setTimeout(r, 500));
  await audio.close();
  return onsets;
})()`
