// What stands on the page. Texts are set as texts, never as markup.

export const $ = (id) => document.getElementById(id);

// text sets a text, and hides what has none.
export function text(id, words) {
  const e = $(id);
  if (e.textContent !== words) e.textContent = words;
  e.hidden = words === "";
}

export function list(id, rows, make = (words) => Object.assign(document.createElement("li"), { textContent: words, dir: "auto" })) {
  $(id).replaceChildren(...rows.map(make));
  $(id).hidden = rows.length === 0;
}

export function button(words, tap, props = {}) {
  const b = Object.assign(document.createElement("button"), { type: "button", textContent: words, ...props });
  b.addEventListener("click", tap);
  return b;
}

// titleOf says in few words what a line is.
export function titleOf(l) {
  if (!l.id) return "Rest";
  if (l.bars) return l.bars;
  return l.stage[0].toUpperCase() + l.stage.slice(1);
}

export const kinds = { done: "done", "did-not-hold": "didn’t hold", "not-done": "not today" };

// saidOf says what is said of a session.
export function saidOf(l) {
  if (!l.said) return "";
  let out = kinds[l.said.kind] || l.said.kind;
  if (l.said.minutes) out += `, ${l.said.minutes} min`;
  if (l.said.tempo) out += `, at ${l.said.tempo}`;
  return out;
}

// tempoOf says the tempos of a visit: "from 72 to 84 of 96".
export function tempoOf(t) {
  if (!t) return "";
  let out = t.from === t.to ? `at ${t.to}` : `from ${t.from} to ${t.to}`;
  if (t.to < t.goal) out += ` of ${t.goal}`;
  if (t.over) out += `, once ${t.over}`;
  return out;
}

// lineOf is a line of the day in one row.
export function lineOf(l) {
  const number = l.number ? `${l.number}  ` : "";
  const at = l.at ? `${l.at}  ` : "";
  const work = l.work ? `, ${l.work}` : "";
  return `${number}${at}${titleOf(l)}${work}, ${l.minutes} min`;
}

// showNow fills the upper half for a line; null: nothing is at hand.
export function showNow(day, line) {
  text("title", day.title);
  text("ahead", day.ahead);
  list("services", [...day.services, ...(day.marks || [])]);
  list("caution", []);
  if (!line) {
    text("work", "");
    text("bars", day.lines.some((l) => l.id) ? "Nothing more today" : free[day.free] || "Nothing is planned");
    text("visit", "");
    text("do", "");
    return;
  }
  text("work", line.work ? `${line.number}  ${line.work}` : line.number ? String(line.number) : "");
  text("bars", titleOf(line));
  const visit = line.visit ? `${line.check ? "check, visit" : "visit"} ${line.visit}` : "";
  text("visit", [visit, line.nature, tempoOf(line.tempo), saidOf(line) && `now: ${saidOf(line)}`].filter(Boolean).join(" · "));
  text("do", line.do || "");
}

const free = { lost: "A lost day", "day of pain": "Nothing more today", "day off": "A day off", "on tour": "On tour", "rest day": "A rest day" };

// showPain puts the caution in place of everything else.
export function showPain(day, caution) {
  showNow(day, null);
  text("bars", "Stop for today");
  list("caution", caution);
}

export function showNext(day, places) {
  list("next", places.map((i) => `then ${lineOf(day.lines[i])}`));
}
