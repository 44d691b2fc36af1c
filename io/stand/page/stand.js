// The page at the stand: what is at hand, its time and its beat, and what is tapped.
import * as keeping from "./keep.js";
import { Sender, localDay } from "./send.js";
import * as days from "./state.js";
import * as timers from "./timer.js";
import { Clicks, knock, hum } from "./clicks.js";
import { Pad } from "./pad.js";
import { $, text, list, button, showNow, showPain, showNext, lineOf, saidOf, titleOf } from "./show.js";

const page = {
  state: null, // as the server gave it last
  on: 0, // the phone's day on which it did
  entries: [], // taps that are kept here
  passed: {}, // date -> warm-ups and rests that are over
  chosen: "", // what was taken out of its turn
  mine: [], // own taps that an undo may take back, oldest first
  timer: timers.fresh(),
  timed: "", // what the timer is of
  since: timers.fresh(), // playing since the last rest
  adjust: 0, // minutes by plus and minus
  tempo: 0,
  worked: false,
  seenChange: 0,
  called: {}, // what was said of the clock already
  shown: null, // the sessions of a day as they were shown: {date, lines}
  touched: {}, // date -> names of sessions of which something was said here
};
let store, sender, pad, audio, clicks;

const base = new URL(".", location.href);
const ask = (path, options = {}) => fetch(new URL(path, base), { cache: "no-store", credentials: "omit", signal: AbortSignal.timeout(8000), ...options });

const waitingTaps = () => page.entries.filter((e) => e.state !== "refused").map((e) => e.tap);
const planned = () => days.dayAt(page.state, localDay(new Date()) - page.on);
const today = () => {
  const day = planned();
  return days.dayOf(days.stay(day, page.shown, new Set(page.touched[day.date])), waitingTaps());
};
const passedOf = (day) => new Set(page.passed[day.date] || []);

function atHand() {
  const day = today();
  const h = days.hand(day, passedOf(day), page.chosen);
  return { day, ...h, line: h.now >= 0 ? day.lines[h.now] : null, key: h.now >= 0 ? days.keyOf(day, h.now) : "" };
}

// say puts a word into the lower half; call: it is for the player to hear and see.
function say(words, call = false) {
  $("word").classList.toggle("call", call);
  text("word", words);
  $("word").hidden = false;
}

function render() {
  if (!page.state) return;
  const { day, line, next, key } = atHand();
  if (key !== page.timed) turnTo(key, line);
  const hurt = Boolean(day.pain);
  if (hurt) showPain(day, page.state.pain);
  else showNow(day, line);
  showNext(day, hurt ? [] : next);
  const s = days.sums(day);
  text("sum", hurt || !day.lines.length && !day.playing ? "" : `${s.said} of ${s.all} said · ${s.left} min left · ${day.playing} min of ${day.most}${day.in_services ? `, ${day.in_services} in services` : ""}`);
  const can = Boolean(line) && !hurt, word = can && days.recordable(line);
  $("clocks").hidden = $("main").hidden = !can;
  $("tempoRow").hidden = !can || !line.tempo;
  $("slower").hidden = $("faster").hidden = $("beat").hidden = !can || !line.tempo;
  $("less").disabled = $("more").disabled = !word;
  $("notToday").disabled = !word;
  $("notHeld").disabled = !word || line.stage !== "passage";
  for (const id of ["notHeld", "notToday", "find", "hurts"]) $(id).hidden = hurt;
  $("find").disabled = hurt || page.state.parts.length === 0;
  const last = lastMine();
  $("undo").disabled = !last && !hurt;
  $("undo").textContent = hurt ? "by mistake: undo" : last ? `undo ${last.what}` : "undo";
  labels();
  if ($("day").open) showDay();
}

// turnTo begins with another line: its own time and its own beat.
function turnTo(key, line) {
  page.timed = key;
  page.timer = timers.fresh();
  page.adjust = 0;
  page.called.time = false;
  page.worked = false;
  page.tempo = line?.tempo ? line.tempo.from : 0;
  clicks?.stop();
  remember();
}

// labels are what changes with the clock.
function labels() {
  const { line } = atHand();
  if (!line) return;
  const now = Date.now();
  $("time").textContent = `${timers.runs(page.timer) ? "" : "time: "}${timers.words(page.timer, now)} of ${line.minutes}`;
  $("time").classList.toggle("on", timers.runs(page.timer));
  $("time").setAttribute("aria-pressed", String(timers.runs(page.timer)));
  const took = tookNow(line);
  $("done").textContent = days.recordable(line) ? `done · ${took} min${page.worked ? ` at ${page.tempo}` : ""}` : "go on";
  if (line.tempo) {
    $("beat").textContent = clicks?.on ? `${page.tempo} stop` : `${page.tempo} beat`;
    $("beat").classList.toggle("on", Boolean(clicks?.on));
    $("worked").textContent = `worked at ${page.tempo}`;
    $("worked").setAttribute("aria-pressed", String(page.worked));
  }
}

const tookNow = (line) => Math.max(1, (timers.minutes(page.timer, Date.now()) || line.minutes) + page.adjust);

// lastMine gives the last tap of this phone that still holds.
function lastMine() {
  return page.mine.at(-1) || null;
}

async function remember() {
  await store.setFact("here", { passed: page.passed, mine: page.mine, timer: page.timer, timed: page.timed, since: page.since,
    seenChange: page.seenChange, called: page.called, shown: page.shown, touched: page.touched });
}

// tap keeps taps on the phone first, and sends them after.
async function tap(list, what) {
  const made = list.map((t) => ({ id: keeping.newID(), unseen: page.state.unseen, ...t }));
  await store.add(made);
  const day = planned();
  const names = list.flatMap((t) => (t.kind === "pain" ? day.lines.filter(days.recordable).map((l) => l.id) : t.session ? [t.session] : []));
  page.touched = { [day.date]: [...new Set([...(page.touched[day.date] || []), ...names.map(days.nameOf)])] };
  for (const t of made) {
    if (t.kind === "undo") page.mine = page.mine.filter((m) => m.id !== t.undoes);
    else page.mine = [...page.mine, { id: t.id, what }].slice(-20);
  }
  page.entries = await store.all();
  await remember();
  sync();
  return made;
}

// record says something of the session at hand. What was said of it before is taken
// back by name, so that it is clear which word was known.
async function record(kind, more = {}) {
  const { day, line } = atHand();
  if (!line) return;
  if (!days.recordable(line)) {
    page.passed[day.date] = [...(page.passed[day.date] || []), page.timed];
    if (!line.id) {
      page.since = timers.fresh();
      page.called.rest = false;
    }
  } else {
    const before = line.said ? [{ kind: "undo", undoes: line.said.entry }] : [];
    await tap([...before, { kind, date: day.date, session: line.id, ...more }], `${line.number}`);
    say(`${line.number} ${titleOf(line)}: ${kind === "done" ? "done" : kind === "not-done" ? "not today" : "didn’t hold"}`);
  }
  if (line.playing) page.since = timers.stopped(page.since, Date.now());
  page.chosen = "";
  clicks?.stop();
  await remember();
  render();
}

function took(line) {
  const m = tookNow(line);
  return m === line.minutes ? {} : { minutes: m };
}

function sounding() {
  audio ??= new AudioContext();
  if (audio.state !== "running") audio.resume();
  clicks ??= new Clicks({ audio, sound: knock(audio), hidden: () => document.hidden });
  if (navigator.audioSession) navigator.audioSession.type = "playback"; // or a phone's mute switch has it
}

const taps = {
  time() {
    sounding();
    const now = Date.now(), { line } = atHand();
    const run = !timers.runs(page.timer);
    page.timer = run ? timers.started(page.timer, now) : timers.stopped(page.timer, now);
    if (line?.playing) page.since = run ? timers.started(page.since, now) : timers.stopped(page.since, now);
    wake(run);
  },
  beat() {
    sounding();
    if (clicks.on) clicks.stop();
    else clicks.start(page.tempo);
  },
  slower: () => step(-1),
  faster: () => step(1),
  worked() { page.worked = !page.worked; },
  less() { page.adjust -= tookNow(atHand().line) > 1 ? 1 : 0; },
  more() { page.adjust++; },
  done() {
    const { line } = atHand();
    return line && record("done", { ...took(line), ...(page.worked ? { tempo: page.tempo } : {}) });
  },
  notHeld() {
    const { line } = atHand();
    return line && record("did-not-hold", { ...took(line), ...(page.worked ? { tempo: page.tempo } : {}) });
  },
  notToday: () => record("not-done"),
  async undo() {
    const day = today(), last = lastMine();
    const undoes = day.pain || last?.id;
    if (!undoes) return;
    await tap([{ kind: "undo", undoes }], "");
    say(day.pain ? "taken back" : `taken back: ${last.what}`);
  },
  async hurts() {
    clicks?.stop();
    page.timer = timers.stopped(page.timer, Date.now());
    page.since = timers.stopped(page.since, Date.now());
    wake(false);
    await tap([{ kind: "pain", date: today().date }], "the day’s end");
    say("");
  },
  find() {
    const { line } = atHand();
    pad.open(page.state.parts, line?.part, Boolean(line) && (line.stage === "listening" || line.stage === "recordings"));
  },
  whole() {
    showDay();
    $("day").showModal();
  },
  close: () => $("day").close(),
};

function step(by) {
  const { line } = atHand();
  if (!line?.tempo) return;
  const steps = days.ladder(line.tempo, page.state.scale);
  const up = steps.find((t) => t > page.tempo), down = steps.findLast((t) => t < page.tempo);
  page.tempo = (by > 0 ? up : down) ?? page.tempo;
  clicks?.set(page.tempo);
}

async function found(f) {
  const day = today();
  const work = page.state.parts.find((p) => p.name === f.part)?.work || f.part;
  await tap([{ kind: "found", date: day.date, part: f.part, bars: f.bars, hard: f.hard, ...(f.exposed ? { exposed: true } : {}), ...(f.tempo ? { tempo: f.tempo } : {}), ...(f.heard ? { heard: true } : {}) }], f.bars);
  say(`${f.bars} of ${work}: found; it is planned as soon as this is at home`);
  render();
}

// showDay lists all of the day, what is said of it, and what goes on.
function showDay() {
  const day = today();
  const waiting = page.entries.filter((e) => e.state === "waiting").length;
  const stay = "wakeLock" in navigator ? "" : " Set the display to stay on: over plain http a page can’t.";
  text("net", (sender.reached === false ? "Out of reach of home" : "In reach of home") +
    (waiting ? `; ${waiting} kept on this phone until it is.` : "; all that was tapped is there.") +
    (store.lasting ? "" : " This browser keeps nothing: leave the page open until all is at home.") + stay);
  list("refused", page.entries.filter((e) => e.state === "refused"), (e) => {
    const li = Object.assign(document.createElement("li"), { textContent: `Not taken (${e.tap.session || e.tap.bars || e.tap.kind}): ${e.why} ` });
    li.append(button("away with it", async () => { await store.drop([e.seq]); page.entries = await store.all(); render(); }));
    return li;
  });
  list("changes", page.state.trouble ? [page.state.trouble] : page.state.changed?.lines || []);
  list("all", day.lines.map((l, i) => [l, i]), ([l, i]) => {
    const li = document.createElement("li");
    const words = lineOf(l) + (saidOf(l) ? `: ${saidOf(l)}` : "");
    li.append(button(words, () => { page.chosen = days.keyOf(day, i); $("day").close(); render(); }, { disabled: Boolean(day.pain) }));
    return li;
  });
  list("foundToday", day.found.map((f) => `Found: ${f.bars} of ${f.work}`));
  list("mind", day.mind);
}

// tick looks at the clock: what is up is said once, gently.
function tick() {
  if (!page.state) return;
  const now = Date.now(), { line } = atHand();
  const call = (words) => { say(words, true); if (audio?.state === "running") hum(audio); };
  if (line && timers.runs(page.timer) && !page.called.time && timers.gone(page.timer, now) >= line.minutes * 60000) {
    page.called.time = true;
    call(line.id ? `${line.minutes} min are up: go on, the next place counts as much` : "The rest is over");
  }
  const block = page.state.block * 60000;
  if (block && timers.runs(page.since) && !page.called.rest && timers.gone(page.since, now) >= block) {
    page.called.rest = true;
    call(`A rest is due: ${page.state.rest} min after ${page.state.block} min of playing`);
  }
  labels();
}

let lock = null;
async function wake(on) {
  if (!("wakeLock" in navigator)) return;
  if (on) lock ??= await navigator.wakeLock.request("screen").catch(() => null);
  else { await lock?.release(); lock = null; }
}

async function changed() {
  page.entries = await store.all();
  if (sender.state) {
    page.state = sender.state;
    page.on = localDay(new Date());
    newer(page.state.version);
    const day = days.stay(planned(), page.shown, new Set(page.touched[planned().date]));
    page.shown = { date: day.date, lines: day.lines.filter((l) => l.id) };
    const c = page.state.changed;
    if (c && c.number > page.seenChange) {
      page.seenChange = c.number;
      say(c.lines[0], true);
    } else if (c && c.number < page.seenChange) {
      page.seenChange = c.number; // the server began anew
    }
    await remember();
  }
  render();
}

// newer asks for the page again where the server has another one: once.
function newer(version) {
  const own = document.querySelector('meta[name="version"]').content;
  if (version !== own && sessionStorage.getItem("asked") !== version) {
    sessionStorage.setItem("asked", version);
    location.reload();
  }
}

const sync = () => sender.sync();

function often() {
  const soon = page.state?.planning || page.entries.some((e) => e.state === "kept");
  setTimeout(async () => {
    if (!document.hidden) await sync();
    often();
  }, soon ? 1000 : sender.reached === false ? 4000 : 5000);
}

async function begin() {
  store = await keeping.open();
  sender = new Sender({ keep: store, ask, changed });
  pad = new Pad({ keep: found });
  Object.assign(page, await store.fact("here"));
  const before = await store.fact("state");
  if (before) Object.assign(page, { state: before.state, on: before.on });
  page.entries = await store.all();
  for (const [id, act] of Object.entries(taps)) {
    $(id).addEventListener("click", async () => { await act(); await remember(); render(); });
  }
  render();
  addEventListener("online", sync);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { if (timers.runs(page.timer)) wake(true); sync(); } });
  setInterval(tick, 500);
  await sync();
  if (!page.state) text("bars", "No answer from home yet");
  often();
}

begin();
// For tests: what is at work, to be looked at and not touched.
globalThis.standPage = { page, get sender() { return sender; }, get store() { return store; }, get audio() { return audio; }, Clicks, knock };
