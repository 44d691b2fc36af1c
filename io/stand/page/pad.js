// The pad on which bars, rehearsal letters and tempos are typed with a thumb.
import { $, button, list } from "./show.js";

const TEMPO = [..."123456789", "0", "⌫"];
const NUMBERS = [..."123456789", "–", "0", "⌫", "A–Z", "before", "after"];
const LETTERS = [..."ABCDEFGHIJKLMNOPQRSTUVWXYZ", "–", "1–9", "⌫"];
const SAID = { "⌫": "Take the last away", "–": "to" };

// barsOf gives the name of the bars that were typed, "" where they are none: "61",
// "61-64", "C", "C-E", "17 after C-4 before D"; a movement comes before them.
export function barsOf(typed, move) {
  const place = String.raw`(?:([1-9]\d{0,3})|(?:[1-9]\d{0,2} (?:before|after) )?([A-Z])\%?)`;
  const m = new RegExp(`^${place.replace("%", "2")}(?:-${place.replace("%", "4")})?$`).exec(typed);
  if (!m || (m[1] && m[3] && Number(m[3]) < Number(m[1]))) return "";
  return [move, ...typed.split(" ")].filter(Boolean).join("-");
}

// typedOn gives what is typed once a key was pressed.
export function typedOn(typed, key) {
  const last = typed.split("-").at(-1);
  switch (key) {
    case "⌫": return typed.endsWith(" ") ? typed.replace(/ \w+ $/, "") : typed.slice(0, -1);
    case "–": return typed && !typed.includes("-") ? typed + "-" : typed;
    case "before":
    case "after": return /^\d{1,3}$/.test(last) ? `${typed} ${key} ` : typed;
  }
  const fits = /\d/.test(key) ? /^\d{0,3}$/ : new RegExp(`(^| )${key}?$`); // AA comes after Z
  return fits.test(last) ? typed + key : typed;
}

// tempoTyped gives the tempo that was typed, or 0: the scale goes from 40 to 208.
export function tempoTyped(typed) {
  return /^\d{2,3}$/.test(typed) && Number(typed) >= 40 && Number(typed) <= 208 ? Number(typed) : 0;
}

export class Pad {
  // keep({part, bars, hard, exposed, tempo, heard}) takes what was found.
  constructor({ keep }) {
    this.keep = keep;
    $("padClose").addEventListener("click", () => $("pad").close());
    $("part").addEventListener("change", () => { this.showMoves(); this.show(); });
  }

  // open begins with the part at hand; heard: it is listened to, not played.
  open(parts, part, heard) {
    Object.assign(this, { parts, heard, typed: "", bars: "", move: "", letters: false });
    $("part").replaceChildren(...parts.map((p) => Object.assign(document.createElement("option"), { value: p.name, textContent: p.work })));
    if (parts.some((p) => p.name === part)) $("part").value = part;
    this.showMoves();
    this.show();
    $("pad").showModal();
  }

  showMoves() {
    const { moves = [], letters } = this.parts.find((p) => p.name === $("part").value) || {};
    this.letters = Boolean(letters);
    if (!moves.includes(this.move)) this.move = "";
    list("moves", moves, (m) => button(m, () => { this.move = this.move === m ? "" : m; this.showMoves(); this.show(); }, { ariaPressed: String(this.move === m) }));
  }

  press(k) {
    const before = this.typed;
    if (k === "A–Z" || k === "1–9") this.letters = k === "A–Z";
    else if (this.bars && k !== "⌫") this.typed += this.typed.length < 3 ? k : "";
    else this.typed = typedOn(this.typed, k);
    if (this.typed !== before && this.typed.endsWith(" ")) this.letters = true; // a letter comes after it
    this.show();
  }

  show() {
    const keys = this.bars ? TEMPO : this.letters ? LETTERS : NUMBERS;
    if (keys !== this.keys) {
      this.keys = keys;
      $("keys").classList.toggle("letters", keys === LETTERS);
      $("keys").replaceChildren(...keys.map((k) => button(k, () => this.press(k), SAID[k] ? { ariaLabel: SAID[k] } : {})));
    }
    const ready = this.bars ? tempoTyped(this.typed) : barsOf(this.typed, this.move);
    $("padTitle").textContent = this.bars ? `Tempo at bars ${this.bars}` : this.heard ? "Heard a place" : "Found a place";
    $("typed").textContent = [this.bars ? "" : this.move, this.typed].filter(Boolean).join(" ") || (this.bars ? "beats a minute" : "bars");
    const tap = (words, done) => button(words, done, { disabled: !ready });
    const found = (more) => () => { this.keep({ part: $("part").value, bars: this.bars || ready, hard: 2, exposed: false, tempo: 0, heard: this.heard, ...more }); $("pad").close(); };
    const kinds = this.bars
      ? [tap("keep", () => found({ tempo: ready })())]
      : this.heard
        ? [tap("a tempo", () => { this.bars = ready; this.typed = ""; this.show(); }), tap("exposed", found({ exposed: true }))]
        : [tap("fails", found({})), tap("fails, hard", found({ hard: 3 })), tap("exposed", found({ exposed: true }))];
    $("kinds").replaceChildren(...kinds);
  }
}
