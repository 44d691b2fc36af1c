// Sending: all that is not answered goes over, oldest first, again and again, until the
// server says of each tap that it is in the record. Then only is it forgotten here, and
// not before the days that are shown have it too.

const MOST = 200; // taps at once, as the server takes them

export class Sender {
  // ask(path, options) is fetch, under the page's own path.
  constructor({ keep, ask, changed = () => {} }) {
    this.keep = keep;
    this.ask = ask;
    this.changed = changed;
    this.reached = null; // whether the server answered last; null: not asked yet
    this.state = null;
    this.etag = "";
    this.busy = null;
  }

  // sync sends and asks for the days. Calls while one is under way wait for another after it.
  sync() {
    if (this.busy) {
      this.again = true;
      return this.busy;
    }
    this.busy = (async () => {
      do {
        this.again = false;
        try {
          await this.send();
          await this.fetchState();
          this.reached = true;
        } catch {
          this.reached = false;
          this.again = false;
        }
      } while (this.again);
      this.busy = null;
      this.changed();
    })();
    return this.busy;
  }

  async send() {
    for (;;) {
      const waiting = (await this.keep.all()).filter((e) => e.state === "waiting").slice(0, MOST);
      if (waiting.length === 0) return;
      const r = await this.ask("taps", {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ taps: waiting.map((e) => e.tap) }),
      });
      if (!r.ok) throw new Error(`answered ${r.status}`);
      const a = await r.json();
      const kept = new Set(a.kept), refused = new Map(a.refused.map((x) => [x.id, x.why]));
      const told = waiting.filter((e) => kept.has(e.tap.id) || refused.has(e.tap.id));
      if (told.length === 0) throw new Error("answered nothing of what was sent");
      await this.keep.put(told.map((e) => (kept.has(e.tap.id)
        ? { ...e, state: "kept", unseen: a.unseen }
        : { ...e, state: "refused", why: refused.get(e.tap.id) })));
    }
  }

  async fetchState() {
    const r = await this.ask("state", { headers: this.etag ? { "If-None-Match": this.etag } : {} });
    if (r.status !== 304) {
      if (!r.ok) throw new Error(`answered ${r.status}`);
      this.state = await r.json();
      this.etag = r.headers.get("ETag") || "";
      await this.keep.setFact("state", { state: this.state, on: localDay(new Date()) });
    }
    const unseen = this.state?.unseen ?? 0;
    await this.keep.drop((await this.keep.all()).filter((e) => e.state === "kept" && e.unseen <= unseen).map((e) => e.seq));
  }
}

// localDay counts the days of the phone's own calendar.
export function localDay(date) {
  return Math.round(Date.UTC(date.getFullYear(), date.getMonth(), date.getDate()) / 86400000);
}
