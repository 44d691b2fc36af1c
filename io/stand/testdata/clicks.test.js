// Run by make node: when clicks are put on the audio clock, however unevenly the page
// is looked after.
import test from "node:test";
import assert from "node:assert/strict";
import { Clicks } from "../page/clicks.js";

function rig({ hidden = () => false } = {}) {
  const audio = { currentTime: 5 }, at = [], late = [];
  let look = null;
  const clicks = new Clicks({
    audio, hidden,
    sound: (t) => { at.push(t); if (t < audio.currentTime) late.push(t); return { stop: () => at.splice(at.indexOf(t), 1) }; },
    every: (f) => { look = f; return 1; },
    clear: () => { look = null; },
  });
  return { audio, at, late, clicks, run: (seconds, steps) => { const end = audio.currentTime + seconds; while (audio.currentTime < end) { audio.currentTime += steps(); look?.(); } } };
}

test("no click is late and none drifts, with looks of 5 to 95 ms", () => {
  const r = rig();
  let seed = 3;
  const step = () => 0.005 + 0.09 * ((seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648);
  r.clicks.start(132);
  r.run(600, step);
  assert.equal(r.late.length, 0);
  assert.ok(r.at.length >= 1319);
  r.at.forEach((t, n) => assert.ok(Math.abs(t - r.at[0] - n * 60 / 132) < 1e-9));
});

test("another tempo begins with the next click", () => {
  const r = rig();
  r.clicks.start(60);
  r.run(2.5, () => 0.025);
  r.clicks.set(120);
  r.run(2, () => 0.025);
  const gaps = r.at.slice(1).map((t, i) => Math.round((t - r.at[i]) * 1000));
  assert.deepEqual(gaps.slice(0, 5), [1000, 1000, 1000, 500, 500]);
});

test("after a sleep what was missed is left out, and the beat is where it was", () => {
  const r = rig();
  r.clicks.start(60);
  r.run(1, () => 0.025);
  r.audio.currentTime += 10.3;
  r.run(3, () => 0.025);
  assert.equal(r.late.length, 0);
  r.at.forEach((t) => assert.ok(Math.abs((t - r.at[0]) % 1) < 1e-9 || Math.abs((t - r.at[0]) % 1 - 1) < 1e-9));
});

test("a page that is not seen puts more ahead, since it is looked after once a second", () => {
  const r = rig({ hidden: () => true });
  r.clicks.start(208);
  r.run(20, () => 1);
  assert.equal(r.late.length, 0);
  assert.ok(r.at.length > 60);
});

test("stopped, nothing sounds any more", () => {
  const r = rig();
  r.clicks.start(60);
  r.run(1.93, () => 0.025);
  r.clicks.stop();
  assert.ok(r.at.every((t) => t <= r.audio.currentTime));
  assert.equal(r.clicks.on, false);
});
