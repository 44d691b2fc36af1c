// What stands on the page, from what it knows.
import * as days from "./state.js";
import * as timers from "./timer.js";
import { hum } from "./clicks.js";
import { page, at, atHand, today, tookNow, lastMine, remember } from "./hand.js";
import { $, text, list, button, showNow, showPain, showNext, lineOf, saidOf } from "./show.js";

// say puts a word into the lower half; call: it is for the player to hear and see.
export function say(words, call = false) {
  $("word").classList.toggle("call", call);
  text("word", words);
  $("word").hidden = false;
  if (call && at.audio?.state === "running") hum(at.audio);
}

export function render() {
  if (!page.state) return;
  const { day, line, next, key } = atHand();
  if (key !== page.timed) turnTo(key, line);
  document.title = `${day.title}, ${page.state.season}`;
  const hurt = Boolean(day.pain);
  if (hurt) showPain(day, page.state.pain);
  else showNow(day, line);
  showNext(day, hurt ? [] : next);
  text("sum", hurt ? "" : sumOf(day));
  const can = Boolean(line) && !hurt, word = can && days.recordable(line), paced = can && Boolean(line.tempo);
  $("clocks").hidden = $("main").hidden = !can;
  $("tempoRow").hidden = $("slower").hidden = $("faster").hidden = $("beat").hidden = !paced;
  $("less").disabled = $("more").disabled = $("notToday").disabled = !word;
  $("notHeld").disabled = !word || line.stage !== "passage";
  for (const id of ["notHeld", "notToday", "find", "hurts"]) $(id).hidden = hurt;
  $("find").disabled = page.state.parts.length === 0;
  const last = lastMine();
  $("undo").disabled = !last && !hurt;
  $("undo").textContent = hurt ? "by mistake: undo" : last ? `undo ${last.what}` : "undo";
  labels();
  if ($("day").open) showDay();
}

function sumOf(day) {
  if (!day.lines.length) return day.load || "";
  const s = days.sums(day);
  return `${s.said} of ${s.all} ticked off · ${s.left} min left · ${day.load || ""}`;
}

// turnTo begins with another line: its own time and its own beat.
function turnTo(key, line) {
  Object.assign(page, { timed: key, timer: timers.fresh(), adjust: 0, worked: false, tempo: line?.tempo ? line.tempo.from : 0, called: { ...page.called, time: false } });
  at.clicks?.stop();
  remember();
}

// labels are what changes with the clock.
function labels() {
  const { line } = atHand();
  if (!line) return;
  const runs = timers.runs(page.timer), on = Boolean(at.clicks?.on);
  $("time").textContent = `${runs ? "" : "time: "}${timers.words(page.timer, Date.now())} of ${line.minutes}`;
  $("time").classList.toggle("on", runs);
  $("time").setAttribute("aria-pressed", String(runs));
  $("done").textContent = days.recordable(line) ? `done · ${tookNow(line)} min${page.worked ? ` at ${page.tempo}` : ""}` : "go on";
  if (!line.tempo) return;
  $("beat").textContent = `${page.tempo} ${on ? "stop" : "beat"}`;
  $("beat").classList.toggle("on", on);
  $("worked").textContent = `worked at ${page.tempo}`;
  $("worked").setAttribute("aria-pressed", String(page.worked));
}

// tick looks at the clock: what is up is said once, gently.
export function tick() {
  if (!page.state) return;
  const now = Date.now(), { line } = atHand(), block = page.state.block * 60000;
  if (line && timers.runs(page.timer) && !page.called.time && timers.gone(page.timer, now) >= line.minutes * 60000) {
    page.called.time = true;
    say(line.id ? `${line.minutes} min are up: go on, the next place counts as much` : "The rest is over", true);
  }
  if (block && timers.runs(page.since) && !page.called.rest && timers.gone(page.since, now) >= block) {
    page.called.rest = true;
    say(`A rest is due: ${page.state.rest} min after ${page.state.block} min of playing`, true);
  }
  labels();
}

// showDay lists all of the day, what is said of it, and what goes on.
export function showDay() {
  const day = today();
  const kept = page.entries.filter((e) => e.state === "waiting").length;
  text("net", (at.sender.reached === false ? "Out of reach of home" : "In reach of home") +
    (kept ? `; ${kept} kept on this phone until it is.` : "; all that was tapped is there.") +
    (at.store.lasting ? "" : " This browser keeps nothing: leave the page open until all is at home.") +
    ("wakeLock" in navigator ? "" : " Set the display to stay on: over plain http a page can’t."));
  list("refused", page.entries.filter((e) => e.state === "refused"), (e) => {
    const li = Object.assign(document.createElement("li"), { textContent: `Not taken (${e.tap.session || e.tap.bars || e.tap.kind}): ${e.why} ` });
    li.append(button("away with it", async () => { await at.store.drop([e.seq]); page.entries = page.entries.filter((x) => x.seq !== e.seq); render(); }));
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
