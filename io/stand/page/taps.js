// What is tapped, and what it does.
import * as days from "./state.js";
import * as timers from "./timer.js";
import { Clicks, knock } from "./clicks.js";
import { page, at, atHand, today, tookNow, lastMine, tap, remember } from "./hand.js";
import { say, render, showDay } from "./look.js";
import { $, titleOf, kinds } from "./show.js";

// record says something of the session at hand. What was said of it before is taken
// back by name, so that it is clear which word was known.
async function record(kind, more = {}) {
  const { line } = atHand();
  if (!line) return;
  if (!days.recordable(line)) {
    page.passed = [...page.passed, page.timed];
    if (!line.id) Object.assign(page, { since: timers.fresh(), called: { ...page.called, rest: false } });
  } else {
    const before = line.said ? [{ kind: "undo", undoes: line.said.entry }] : [];
    await tap([...before, { kind, date: page.date, session: line.id, ...more }], `${line.number}`);
    say(`${line.number} ${titleOf(line)}: ${kinds[kind]}`);
  }
  page.since = timers.stopped(page.since, Date.now());
  page.chosen = "";
  at.clicks?.stop();
  wake(false);
}

// did is what a session that was played is recorded with.
function did(line) {
  if (!line) return {};
  const m = tookNow(line);
  return { ...(m === line.minutes ? {} : { minutes: m }), ...(page.worked ? { tempo: page.tempo } : {}) };
}

// sounding makes sure, within a tap, that the page may be heard.
function sounding() {
  at.audio ??= new AudioContext();
  if (at.audio.state !== "running") at.audio.resume();
  at.clicks ??= new Clicks({ audio: at.audio, sound: knock(at.audio), hidden: () => document.hidden });
  if (navigator.audioSession) navigator.audioSession.type = "playback"; // or a phone's mute switch has it
}

function step(by) {
  const { line } = atHand();
  if (!line?.tempo) return;
  const steps = days.ladder(line.tempo, page.state.scale);
  page.tempo = (by > 0 ? steps.find((t) => t > page.tempo) : steps.findLast((t) => t < page.tempo)) ?? page.tempo;
  at.clicks?.set(page.tempo);
}

let lock = null;
export async function wake(on) {
  if (!("wakeLock" in navigator)) return;
  if (on) lock ??= await navigator.wakeLock.request("screen").catch(() => null);
  else { await lock?.release(); lock = null; }
}

// found takes what the pad gives.
export async function found({ part, bars, hard, exposed, tempo, heard }) {
  const work = page.state.parts.find((p) => p.name === part)?.work || part;
  await tap([{ kind: "found", date: today().date, part, bars, hard, ...(exposed ? { exposed } : {}), ...(tempo ? { tempo } : {}), ...(heard ? { heard } : {}) }], bars);
  say(`${bars} of ${work}: found; it is planned as soon as this is at home`);
  render();
}

// actions are the buttons, by their names.
export const actions = {
  time() {
    sounding();
    const now = Date.now(), { line } = atHand(), run = !timers.runs(page.timer);
    const turn = run ? timers.started : timers.stopped;
    page.timer = turn(page.timer, now);
    if (line?.playing) page.since = turn(page.since, now);
    wake(run);
  },
  beat() {
    sounding();
    if (at.clicks.on) at.clicks.stop();
    else at.clicks.start(page.tempo);
  },
  slower: () => step(-1),
  faster: () => step(1),
  worked() { page.worked = !page.worked; },
  less() { page.adjust -= tookNow(atHand().line) > 1 ? 1 : 0; },
  more() { page.adjust++; },
  done: () => record("done", did(atHand().line)),
  notHeld: () => record("did-not-hold", did(atHand().line)),
  notToday: () => record("not-done"),
  async undo() {
    const { pain } = today(), last = lastMine();
    if (!pain && !last) return;
    await tap([{ kind: "undo", undoes: pain || last.id }], "");
    say(pain ? "taken back" : `taken back: ${last.what}`);
  },
  async hurts() {
    at.clicks?.stop();
    page.timer = timers.stopped(page.timer, Date.now());
    page.since = timers.stopped(page.since, Date.now());
    wake(false);
    await tap([{ kind: "pain", date: today().date }], "the day’s end");
    say("");
  },
  find() {
    const { line } = atHand();
    at.pad.open(page.state.parts, line?.part, Boolean(line) && (line.stage === "listening" || line.stage === "recordings"));
  },
  whole() {
    showDay();
    $("day").showModal();
  },
  close: () => $("day").close(),
};

// ONCE are what a thumb that bounces must not say twice, within so many milliseconds
// (common practice, no source): the second would be about what comes then.
const ONCE = ["done", "notHeld", "notToday", "undo", "hurts"], BOUNCE = 300;
let acting = false, last = { name: "", at: 0 };

// act does what a button is for, keeps it, and shows it.
export async function act(name) {
  const once = ONCE.includes(name), now = performance.now();
  if (once && (acting || (name === last.name && now - last.at < BOUNCE))) return;
  if (once) acting = true;
  try {
    await actions[name]();
    await remember();
  } finally {
    if (once) acting = false;
  }
  last = { name, at: now };
  render();
}
