// What the page shows, from the days as the server gave them and what was tapped since.
// Nothing here touches the page or a store.

// nameOf takes the number of a visit off a session's id: by its name and its day the
// record knows it.
export const nameOf = (id) => id.replace(/\/visit-\d+$/, "");

// undone gives what own taps take back: ids and numbers of entries.
function undone(taps) {
  const gone = new Set();
  for (const t of [...taps].reverse()) {
    if (t.kind === "undo" && !gone.has(t.id)) gone.add(t.undoes);
  }
  return gone;
}

// dayOf gives a day with what was tapped here since: each session with what is said of it.
export function dayOf(day, taps) {
  const gone = undone(taps);
  const lines = day.lines.map((l) => {
    let said = l.said && !gone.has(l.said.entry) ? l.said : null;
    for (const t of taps) {
      if (l.id && t.session && t.date === day.date && nameOf(t.session) === nameOf(l.id) && !gone.has(t.id)) {
        said = { kind: t.kind, minutes: t.minutes || 0, tempo: t.tempo || 0, entry: t.id };
      }
    }
    return { ...l, said };
  });
  const pain = taps.find((t) => t.kind === "pain" && t.date === day.date && !gone.has(t.id))?.id
    ?? (day.pain && !gone.has(day.pain) ? day.pain : "");
  const found = [
    ...day.found.filter((f) => !gone.has(f.entry)),
    ...taps.filter((t) => t.kind === "found" && t.date === day.date && !gone.has(t.id) && !day.found.some((f) => f.entry === t.id))
      .map((t) => ({ part: t.part, work: t.work || t.part, bars: t.bars, entry: t.id })),
  ];
  return { ...day, lines, pain, found };
}

// stay gives a day with the sessions that were shown on it and have gone from the plan
// since, where something was said of them: the day's sheet does not change under the
// hand. touched are names of sessions.
export function stay(day, shown, touched) {
  if (shown?.date !== day.date) return day;
  const there = new Set(day.lines.filter((l) => l.id).map((l) => nameOf(l.id)));
  const also = new Map(day.also.map((a) => [nameOf(a.id), a.said]));
  const lines = [...day.lines];
  for (const l of shown.lines) {
    const name = nameOf(l.id);
    if (there.has(name) || !(touched.has(name) || also.has(name))) continue;
    const at = lines.findIndex((x) => x.number > l.number);
    lines.splice(at < 0 ? lines.length : at, 0, { ...l, said: also.get(name) || null });
  }
  return { ...day, lines };
}

// recordable tells of what the record takes a word: a warm-up goes with its day.
export const recordable = (l) => Boolean(l.id) && l.stage !== "warm-up";

// at gives the day that is on: the server's today, and as many days more as have begun
// on the phone since it said so.
export function dayAt(state, daysSince) {
  const i = state.days.findIndex((d) => d.date === state.today);
  return state.days[Math.min(Math.max(i, 0) + Math.max(daysSince, 0), state.days.length - 1)];
}

// keyOf names a line of a day, also a rest: by where it stands.
export const keyOf = (day, i) => day.lines[i].id || `rest-${i}`;

// hand gives what is at hand, and what comes then: places in day.lines. passed are
// warm-ups and rests that are over, chosen is what the player took out of its turn.
export function hand(day, passed, chosen) {
  const over = (i) => {
    const l = day.lines[i];
    return recordable(l) ? Boolean(l.said) : passed.has(keyOf(day, i)) || day.lines.slice(i + 1).some((x) => x.said);
  };
  let begun = false; // a rest comes after something played
  const open = [];
  day.lines.forEach((l, i) => {
    if (!over(i) && (l.id || begun || open.length > 0)) open.push(i);
    if (l.playing && over(i)) begun = true;
  });
  const at = day.lines.findIndex((_, i) => keyOf(day, i) === chosen);
  if (at >= 0) {
    return { now: at, next: open.filter((i) => i !== at && day.lines[i].id).slice(0, 2) };
  }
  return { now: open.length ? open[0] : -1, next: open.slice(1).filter((i) => day.lines[i].id).slice(0, 2) };
}

// sums gives the day's figures: sessions said and in all, minutes of playing left.
export function sums(day) {
  const all = day.lines.filter(recordable);
  const left = day.lines.filter((l) => l.playing && recordable(l) && !l.said).reduce((n, l) => n + l.minutes, 0);
  return { said: all.filter((l) => l.said).length, all: all.length, left };
}

// ladder gives the tempos of a visit: the metronome's marks from where it begins to where
// it ends, its goal, and the step above it.
export function ladder(tempo, scale) {
  const top = Math.max(tempo.to, tempo.over || 0);
  const steps = new Set(scale.filter((t) => t > tempo.from && t < top));
  for (const t of [tempo.from, tempo.to, tempo.over]) if (t) steps.add(t);
  return [...steps].sort((a, b) => a - b);
}
