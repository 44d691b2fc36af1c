// What the page knows: the days, what is at hand of them, and what was tapped.
import { newID } from "./keep.js";
import { localDay } from "./send.js";
import * as days from "./state.js";
import * as timers from "./timer.js";

export const page = {
  state: null, // as the server gave it last
  on: 0, // the phone's day on which it did
  entries: [], // taps that are kept here
  chosen: "", // what was taken out of its turn
};

// here is what the phone keeps of a day beside its taps.
const here = () => ({
  date: "",
  passed: [], // warm-ups and rests that are over
  mine: [], // own taps that an undo may take back, oldest first: {id, what}
  shown: null, // the sessions of the day as they were shown: {date, lines}
  touched: [], // names of sessions of which something was said here
  timed: "", // what the timer is of
  timer: timers.fresh(),
  since: timers.fresh(), // playing since the last rest
  adjust: 0, // minutes by plus and minus
  tempo: 0, // beats a minute
  worked: false, // the tempo is recorded
  called: {}, // what was said of the clock already
});
Object.assign(page, here());

// at is what is at work: store, sender, pad, audio, clicks, sync.
export const at = {};

export async function recall() {
  Object.assign(page, await at.store.fact("here"));
  const before = await at.store.fact("state");
  if (before) Object.assign(page, { state: before.state, on: before.on });
  page.entries = await at.store.all();
}

export async function remember() {
  const kept = Object.fromEntries(Object.keys(here()).map((k) => [k, page[k]]));
  await at.store.setFact("here", kept);
}

const waiting = () => page.entries.filter((e) => e.state !== "refused").map((e) => e.tap);

// planned is the day that is on, as the server has it; with another day begins another page.
export function planned() {
  const day = days.dayAt(page.state, localDay(new Date()) - page.on);
  if (day.date !== page.date) Object.assign(page, here(), { date: day.date, chosen: "" });
  return day;
}

const held = (day) => days.stay(day, page.shown, new Set(page.touched));

// keepShown notes what is shown now, so that it stays.
export function keepShown() {
  const day = held(planned());
  page.shown = { date: day.date, lines: day.lines.filter((l) => l.id) };
}

export function today() {
  const day = planned();
  return days.dayOf(held(day), waiting());
}

// atHand gives the day, the line at hand (null: none), and what comes then.
export function atHand() {
  const day = today();
  const h = days.hand(day, new Set(page.passed), page.chosen);
  return { day, ...h, line: h.now >= 0 ? day.lines[h.now] : null, key: h.now >= 0 ? days.keyOf(day, h.now) : "" };
}

export const tookNow = (line) => Math.max(1, (timers.minutes(page.timer, Date.now()) || line.minutes) + page.adjust);

// lastMine gives the last tap of this phone, today, that still holds.
export const lastMine = () => page.mine.at(-1) || null;

// tap keeps taps on the phone first, and sends them after.
export async function tap(list, what) {
  const made = list.map((t) => ({ id: newID(), unseen: page.state.unseen, ...t }));
  const day = planned();
  await at.store.add(made);
  const names = list.flatMap((t) => (t.kind === "pain" ? day.lines.filter(days.recordable).map((l) => l.id) : t.session ? [t.session] : []));
  page.touched = [...new Set([...page.touched, ...names.map(days.nameOf)])];
  for (const t of made) {
    if (t.kind === "undo") page.mine = page.mine.filter((m) => m.id !== t.undoes);
    else page.mine = [...page.mine, { id: t.id, what }];
  }
  // Not read from the store anew: what has gone from there may not be in the days yet.
  page.entries = [...page.entries, ...made.map((t) => ({ tap: t, state: "waiting" }))];
  await remember();
  at.sync();
}
