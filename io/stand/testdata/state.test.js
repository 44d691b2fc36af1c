// Run by make node: what the page shows.
import test from "node:test";
import assert from "node:assert/strict";
import { dayOf, dayAt, hand, keyOf, ladder, stay, sums } from "../page/state.js";
import { barsOf, tempoTyped, typedOn } from "../page/pad.js";
import * as timers from "../page/timer.js";

const day = () => ({
  date: "2027-03-05", pain: "", found: [], also: [],
  lines: [
    { id: "warm-up/2027-03-05", number: 1, stage: "warm-up", playing: true, minutes: 10 },
    { id: "a/b/1-16/visit-2", number: 2, stage: "passage", playing: true, minutes: 15, said: null },
    { minutes: 5, do: "rest" },
    { id: "a/b/20-24/visit-1", number: 3, stage: "passage", playing: true, minutes: 10, said: null },
    { id: "a/b/listening", number: 4, stage: "listening", playing: false, minutes: 30, said: null },
  ],
});
const tap = (id, kind, session, more = {}) => ({ id, kind, session, date: "2027-03-05", ...more });
const shown = (d) => d.lines.map((l) => l.said?.kind || "");

test("own taps count at once, and an undo takes back what it names", () => {
  const taps = [tap("x1", "done", "a/b/1-16/visit-2", { minutes: 17 })];
  assert.equal(dayOf(day(), taps).lines[1].said.minutes, 17);
  taps.push({ id: "x2", kind: "undo", undoes: "x1" });
  assert.deepEqual(shown(dayOf(day(), taps)), ["", "", "", "", ""]);
  taps.push({ id: "x3", kind: "undo", undoes: "x2" });
  assert.equal(shown(dayOf(day(), taps))[1], "done");
});

test("what the record has is taken back by its number, and known under another visit", () => {
  const d = day();
  d.lines[1].said = { kind: "done", entry: "7" };
  assert.equal(shown(dayOf(d, [{ id: "x1", kind: "undo", undoes: "7" }]))[1], "");
  assert.equal(shown(dayOf(d, [tap("x1", "did-not-hold", "a/b/1-16/visit-5")]))[1], "did-not-hold");
  assert.equal(shown(dayOf(d, [{ ...tap("x1", "not-done", "a/b/1-16/visit-2"), date: "2027-03-04" }]))[1], "done");
});

test("pain ends the day until it is taken back", () => {
  const taps = [{ id: "x1", kind: "pain", date: "2027-03-05" }];
  assert.equal(dayOf(day(), taps).pain, "x1");
  assert.equal(dayOf(day(), [...taps, { id: "x2", kind: "undo", undoes: "x1" }]).pain, "");
  assert.equal(dayOf({ ...day(), pain: "9" }, [{ id: "x2", kind: "undo", undoes: "9" }]).pain, "");
});

test("one thing after the other is at hand, rests too", () => {
  const d = day(), passed = new Set();
  assert.deepEqual(hand(d, passed, ""), { now: 0, next: [1, 3] });
  passed.add("warm-up/2027-03-05");
  assert.deepEqual(hand(d, passed, ""), { now: 1, next: [3, 4] });
  d.lines[1].said = { kind: "done", entry: "1" };
  assert.deepEqual(hand(d, passed, ""), { now: 2, next: [3, 4] });
  passed.add(keyOf(d, 2));
  assert.deepEqual(hand(d, passed, ""), { now: 3, next: [4] });
  assert.deepEqual(hand(d, passed, "a/b/listening"), { now: 4, next: [3] });
  d.lines[3].said = d.lines[4].said = { kind: "done", entry: "2" };
  assert.deepEqual(hand(d, passed, ""), { now: -1, next: [] });
});

test("who begins in the middle is not asked for the warm-up", () => {
  const d = day();
  d.lines[3].said = { kind: "done", entry: "1" };
  assert.deepEqual(hand(d, new Set(), ""), { now: 1, next: [4] });
});

test("a session that was put off stays on the day that was shown", () => {
  const before = day(), after = day();
  after.lines.splice(3, 1);
  const shownDay = { date: before.date, lines: before.lines.filter((l) => l.id) };
  const touched = new Set(["a/b/20-24"]);
  assert.deepEqual(stay(after, shownDay, touched).lines.map((l) => l.number), [1, 2, undefined, 3, 4]);
  assert.equal(stay(after, shownDay, new Set()).lines.length, 4); // planned otherwise: not held on to
  after.also = [{ id: "a/b/20-24/visit-1", said: { kind: "not-done", entry: "4" } }];
  assert.equal(stay(after, shownDay, new Set()).lines[3].said.kind, "not-done");
  assert.equal(stay(after, { ...shownDay, date: "2027-03-04" }, touched).lines.length, 4);
});

test("sums", () => {
  const d = day();
  d.lines[1].said = { kind: "done", entry: "1" };
  assert.deepEqual(sums(d), { said: 1, all: 3, left: 10 });
});

test("the day goes on by the phone's own days while home is out of reach", () => {
  const state = { today: "b", days: [{ date: "a" }, { date: "b" }, { date: "c" }] };
  assert.equal(dayAt(state, 0).date, "b");
  assert.equal(dayAt(state, 1).date, "c");
  assert.equal(dayAt(state, 9).date, "c");
  assert.equal(dayAt(state, -1).date, "b"); // a clock put back
});

test("a ladder has the marks of the scale, and the goal where it is none", () => {
  const scale = [40, 42, 72, 76, 80, 84, 88, 92, 96, 100];
  assert.deepEqual(ladder({ from: 72, to: 88, goal: 96 }, scale), [72, 76, 80, 84, 88]);
  assert.deepEqual(ladder({ from: 92, to: 97, over: 100, goal: 97 }, scale), [92, 96, 97, 100]);
  assert.deepEqual(ladder({ from: 96, to: 96, goal: 96 }, scale), [96]);
});

test("bars and tempos as they are typed", () => {
  for (const [typed, want] of [["61", "61"], ["61-64", "61-64"], ["64-61", ""], ["", ""], ["-4", ""], ["0", ""], ["61-", ""],
    ["C", "C"], ["AA", "AA"], ["AB", ""], ["C-E", "C-E"], ["17 after C", "17-after-C"], ["17-20 after C", "17-20-after-C"], ["4 before D-6 after DD", "4-before-D-6-after-DD"],
    ["61-D", "61-D"], ["17 after", ""], ["17 after ", ""], ["C-", ""], ["after C", ""]]) assert.equal(barsOf(typed, ""), want);
  assert.equal(barsOf("61-64", "II"), "II-61-64");
  assert.equal(barsOf("17 after C", "II"), "II-17-after-C");
  for (const [typed, want] of [["96", 96], ["39", 0], ["209", 0], ["", 0], ["9", 0]]) assert.equal(tempoTyped(typed), want);
});

test("only what can become bars is typed", () => {
  const type = (...keys) => keys.reduce(typedOn, "");
  assert.equal(type(..."61", "–", ..."64"), "61-64");
  assert.equal(type("–", "1", "–", "–", ..."23456"), "1-2345");
  assert.equal(type(..."17", "after", "C", "D", "1"), "17 after C");
  assert.equal(type("after", "A", "A", "A", "B", "5", "before"), "AA");
  assert.equal(type(..."17", "after", "⌫"), "17");
  assert.equal(type(..."4", "before", "D", "–", ..."6", "after", "D", "⌫", "⌫", "⌫"), "4 before D-");
});

test("a timer can be stopped, gone on with, and kept", () => {
  let t = timers.started(timers.fresh(), 1000);
  t = timers.stopped(JSON.parse(JSON.stringify(t)), 61000);
  t = timers.started(t, 100000);
  assert.equal(timers.gone(t, 130000), 90000);
  assert.equal(timers.minutes(t, 130000), 2);
  assert.equal(timers.words(t, 130000), "1:30");
  assert.equal(timers.minutes(timers.fresh(), 5), 0);
  assert.equal(timers.gone(timers.started(timers.fresh(), 5000), 4000), 0); // a clock put back
});
