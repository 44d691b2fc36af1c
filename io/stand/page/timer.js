// The time of what is at hand, and how long was played since the last rest. Times are
// given in milliseconds of any clock; a timer is a plain object, so that it can be kept.

export const fresh = () => ({ since: 0, gone: 0 });

export const runs = (t) => t.since > 0;

export const gone = (t, now) => t.gone + (runs(t) ? Math.max(0, now - t.since) : 0);

export const started = (t, now) => (runs(t) ? t : { ...t, since: now });

export const stopped = (t, now) => ({ since: 0, gone: gone(t, now) });

// minutes are whole ones, begun ones from the half on, at least one once it ran a moment.
export function minutes(t, now) {
  const g = gone(t, now);
  return g < 1000 ? 0 : Math.max(1, Math.round(g / 60000));
}

// words writes 4:05.
export function words(t, now) {
  const s = Math.floor(gone(t, now) / 1000);
  return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
}
