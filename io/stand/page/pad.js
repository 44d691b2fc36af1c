// The number pad, on which bars and tempos are typed with a thumb.
import { $, button, list } from "./show.js";

const KEYS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "–", "0", "⌫"];

// barsOf tells whether what was typed names bars: "61", "61-64", "II 61-64".
export function barsOf(typed, move) {
  const m = /^(\d{1,4})(?:-(\d{1,4}))?$/.exec(typed);
  if (!m || Number(m[1]) === 0 || (m[2] && Number(m[2]) < Number(m[1]))) return "";
  return (move ? move + "-" : "") + typed;
}

// tempoTyped gives the tempo that was typed, or 0: the scale goes from 40 to 208.
export function tempoTyped(typed) {
  return /^\d{2,3}$/.test(typed) && Number(typed) >= 40 && Number(typed) <= 208 ? Number(typed) : 0;
}

export class Pad {
  // keep({part, bars, hard, exposed, tempo, heard}) takes what was found.
  constructor({ keep }) {
    this.keep = keep;
    $("keys").replaceChildren(...KEYS.map((k) => button(k, () => this.press(k), k === "⌫" ? { ariaLabel: "Take the last away" } : {})));
    $("padClose").addEventListener("click", () => $("pad").close());
    $("part").addEventListener("change", () => this.showMoves());
  }

  // open begins with the part at hand; heard: it is listened to, not played.
  open(parts, part, heard) {
    Object.assign(this, { parts, heard, typed: "", bars: "", move: "" });
    $("part").replaceChildren(...parts.map((p) => Object.assign(document.createElement("option"), { value: p.name, textContent: p.work })));
    if (parts.some((p) => p.name === part)) $("part").value = part;
    this.showMoves();
    this.show();
    $("pad").showModal();
  }

  showMoves() {
    const moves = this.parts.find((p) => p.name === $("part").value)?.moves || [];
    if (!moves.includes(this.move)) this.move = "";
    list("moves", moves, (m) => button(m, () => { this.move = this.move === m ? "" : m; this.showMoves(); this.show(); }, { ariaPressed: String(this.move === m) }));
  }

  press(k) {
    if (k === "⌫") this.typed = this.typed.slice(0, -1);
    else if (k === "–") this.typed += this.typed && !this.typed.includes("-") && !this.bars ? "-" : "";
    else if (this.typed.length < 9) this.typed += k;
    this.show();
  }

  show() {
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
