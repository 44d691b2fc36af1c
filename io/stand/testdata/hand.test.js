// Run by make node: what the page knows, while what was tapped goes over.
import test from "node:test";
import assert from "node:assert/strict";
import { page, at, tap, today } from "../page/hand.js";
import { memory } from "../page/keep.js";
import { localDay } from "../page/send.js";

test("what has gone over stays said until the days have it, and what is tapped meanwhile too", async () => {
  const line = (n) => ({ id: `a/b/${n}/visit-1`, number: n, stage: "passage", playing: true, minutes: 10, said: null });
  at.store = memory();
  at.sync = () => {};
  page.state = { today: "2027-03-05", unseen: 1, days: [{ date: "2027-03-05", pain: "", found: [], also: [], lines: [line(1), line(2)] }] };
  page.on = localDay(new Date());
  const said = () => today().lines.map((l) => l.said?.kind || "");
  await tap([{ kind: "done", date: "2027-03-05", session: "a/b/1/visit-1" }], "1");
  await at.store.drop((await at.store.all()).map((e) => e.seq)); // home has it, and the days are not shown yet
  await tap([{ kind: "not-done", date: "2027-03-05", session: "a/b/2/visit-1" }], "2");
  assert.deepEqual(said(), ["done", "not-done"]);
  assert.equal((await at.store.all()).length, 1);
  await tap([{ kind: "undo", undoes: page.mine.at(-1).id }], "");
  assert.deepEqual(said(), ["done", ""]);
});
