// Run by make node: what the phone keeps and sends, against a server that answers late,
// twice, or not at all.
import test from "node:test";
import assert from "node:assert/strict";
import { memory, newID, open } from "../page/keep.js";
import { Sender } from "../page/send.js";

const json = (body, status = 200) => ({ ok: status < 300, status, json: async () => body, headers: new Map([["ETag", '"x"']]) });

// server keeps taps as the record does: each id once.
function server() {
  const record = new Map();
  return {
    record,
    refuse: new Set(),
    down: () => false, // before a request is taken
    lost: () => false, // after it, before the answer
    async ask(path, options = {}) {
      if (this.down()) throw new TypeError("no network");
      let answer;
      if (path === "taps") {
        const { taps } = JSON.parse(options.body);
        assert.ok(taps.length <= 200);
        for (const t of taps) if (!this.refuse.has(t.id) && !record.has(t.id)) record.set(t.id, t);
        answer = json({ kept: taps.filter((t) => record.has(t.id)).map((t) => t.id), refused: taps.filter((t) => this.refuse.has(t.id)).map((t) => ({ id: t.id, why: "no" })), unseen: record.size + 1 });
      } else {
        answer = json({ unseen: record.size + 1, days: [] });
      }
      if (this.lost()) throw new TypeError("the answer is lost");
      return answer;
    },
  };
}

const phone = (s, keep = memory()) => ({ keep, sender: new Sender({ keep, ask: (p, o) => s.ask(p, o) }) });

test("ids are of chance and no numbers", () => {
  const ids = new Set(Array.from({ length: 1000 }, () => newID()));
  assert.equal(ids.size, 1000);
  for (const id of ids) assert.match(id, /^t[0-9a-f]{32}$/);
});

test("nothing is lost and nothing doubled, whatever the network does", async () => {
  let seed = 7;
  const chance = () => (seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648;
  for (let round = 0; round < 200; round++) {
    const s = server();
    s.down = () => chance() < 0.3;
    s.lost = () => chance() < 0.3;
    const phones = [phone(s), phone(s)];
    const tapped = [];
    for (let i = 0; i < 30; i++) {
      const p = phones[chance() < 0.5 ? 0 : 1];
      if (chance() < 0.5) {
        const id = newID();
        tapped.push(id);
        await p.keep.add([{ id, kind: "done" }]);
      } else {
        await p.sender.sync();
      }
    }
    s.down = s.lost = () => false;
    for (const p of phones) {
      await p.sender.sync();
      assert.deepEqual(await p.keep.all(), []);
    }
    assert.deepEqual([...s.record.keys()].sort(), tapped.sort());
  }
});

test("a tap is shown until the days that are shown have it", async () => {
  const s = server();
  const { keep, sender } = phone(s);
  await keep.add([{ id: "phone-aa", kind: "done" }]);
  const ask = s.ask.bind(s);
  s.ask = async (path, o) => { if (path === "state") throw new TypeError("no network"); return ask(path, o); };
  await sender.sync();
  assert.deepEqual((await keep.all()).map((e) => [e.state, e.unseen]), [["kept", 2]]);
  s.ask = ask;
  await sender.sync();
  assert.deepEqual(await keep.all(), []);
});

test("days from before a tap do not end it", async () => {
  const s = server();
  const { keep, sender } = phone(s);
  await keep.add([{ id: "phone-aa", kind: "done" }]);
  const ask = s.ask.bind(s);
  s.ask = async (path, o) => (path === "state" ? json({ unseen: 1, days: [] }) : ask(path, o)); // made before it came in
  await sender.sync();
  assert.deepEqual((await keep.all()).map((e) => e.state), ["kept"]);
});

test("an answer that answers nothing is none", async () => {
  const keep = memory();
  let asked = 0;
  const sender = new Sender({ keep, ask: async () => { asked++; return json({ kept: [], refused: [], unseen: 1 }); } });
  await keep.add([{ id: "phone-aa", kind: "done" }]);
  await sender.sync();
  assert.deepEqual([asked, sender.reached, (await keep.all())[0].state], [1, false, "waiting"]);
});

test("what is refused stays, with the reason, and holds nothing up", async () => {
  const s = server();
  const { keep, sender } = phone(s);
  s.refuse.add("phone-aa");
  await keep.add([{ id: "phone-aa" }, { id: "phone-bb" }]);
  await sender.sync();
  assert.deepEqual((await keep.all()).map((e) => [e.tap.id, e.state, e.why]), [["phone-aa", "refused", "no"]]);
  assert.ok(s.record.has("phone-bb"));
});

test("more than the server takes at once goes over bit by bit, oldest first", async () => {
  const s = server();
  const { keep, sender } = phone(s);
  const ids = Array.from({ length: 450 }, (_, i) => `phone-${i}`);
  await keep.add(ids.map((id) => ({ id })));
  await sender.sync();
  assert.deepEqual([...s.record.keys()], ids);
});

test("where a browser keeps nothing, it works and says so", async () => {
  const refuses = { open() { throw new Error("not in this window"); } };
  assert.equal((await open(refuses)).lasting, false);
});
