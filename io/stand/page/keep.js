// What the phone keeps: taps that are not answered yet, in their order, and a few facts
// about the day. It all lies in IndexedDB, which plain http has too; where a browser
// refuses that (some private windows), in memory, and the page says so.

const NAME = "primaprova-stand";

// open gives the store. All of its methods give promises.
export async function open(factory = globalThis.indexedDB) {
  try {
    const db = await asked(factory.open(NAME, 1), (r) => {
      r.result.createObjectStore("taps", { keyPath: "seq", autoIncrement: true });
      r.result.createObjectStore("facts");
    });
    return stored(db);
  } catch {
    return memory();
  }
}

function asked(request, upgrade) {
  return new Promise((resolve, reject) => {
    if (upgrade) request.onupgradeneeded = () => upgrade(request);
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function stored(db) {
  const ended = (t) => new Promise((resolve, reject) => {
    t.oncomplete = () => resolve();
    t.onabort = t.onerror = () => reject(t.error);
  });
  return {
    lasting: true,
    // add keeps taps, all of them or none, before anything is said of them.
    async add(taps) {
      const t = db.transaction("taps", "readwrite", { durability: "strict" });
      for (const tap of taps) t.objectStore("taps").add({ tap, state: "waiting" });
      await ended(t);
    },
    // all gives what is kept, oldest first: {seq, tap, state, why, unseen}.
    all: () => asked(db.transaction("taps").objectStore("taps").getAll()),
    async put(entries) {
      const t = db.transaction("taps", "readwrite", { durability: "strict" });
      for (const e of entries) t.objectStore("taps").put(e);
      await ended(t);
    },
    async drop(seqs) {
      const t = db.transaction("taps", "readwrite");
      for (const seq of seqs) t.objectStore("taps").delete(seq);
      await ended(t);
    },
    fact: (name) => asked(db.transaction("facts").objectStore("facts").get(name)),
    async setFact(name, value) {
      const t = db.transaction("facts", "readwrite");
      t.objectStore("facts").put(value, name);
      await ended(t);
    },
  };
}

// memory is a store that is gone with the page.
export function memory() {
  const taps = new Map(), facts = new Map();
  let seq = 0;
  const copy = (x) => (x === undefined ? x : structuredClone(x));
  return {
    lasting: false,
    async add(list) { for (const tap of list) { seq++; taps.set(seq, { seq, tap: copy(tap), state: "waiting" }); } },
    async all() { return [...taps.values()].map(copy); },
    async put(entries) { for (const e of entries) taps.set(e.seq, copy(e)); },
    async drop(seqs) { for (const s of seqs) taps.delete(s); },
    async fact(name) { return copy(facts.get(name)); },
    async setFact(name, value) { facts.set(name, copy(value)); },
  };
}

// newID makes the id of a tap: 128 bits of chance, and never like a number.
export function newID(random = globalThis.crypto) {
  const bytes = random.getRandomValues(new Uint8Array(16));
  return "t" + Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
}
