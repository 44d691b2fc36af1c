"""What the plan has to say of what happened (section 8)."""

from .record import name_of
from .today import by_season
from .values import day


def expected(season, history, wanted, first_planned):
    """Sessions that happened, by name and day; and the minutes really played, by day."""
    out, played, before = {}, {}, history.before
    for done in history.done:
        if done.day > first_planned:
            continue
        old, fresh = history.old.get((done.name, done.day)), by_season(season, wanted, done)
        if fresh is None and old is None:
            continue
        stage = (fresh or old)["stage"]
        if fresh and stage != "passage" and history.of(done.name)[0].day != done.day:
            continue
        fields = dict(fresh or renumbered(history, old, done))
        if old:
            for key in ("minutes", "start", "ends", "rests", "number"):
                fields[key] = old.get(key)
            if old["id"] == fields["id"]:
                fields["visits"] = old.get("visits")
        out[done.name, done.day] = fields
        if stage in ("passage", "read-through") and done.day < first_planned:
            minutes = fields["minutes"] if done.minutes is None else done.minutes
            played[done.day] = played.get(done.day, 0) + minutes
    at_work = {d for (_, d), s in out.items() if s["stage"] in ("passage", "read-through")}
    for s in (before or {}).get("sessions", []):
        d = day(s["date"])
        if s["stage"] == "warm-up" and d < first_planned and d in at_work:
            out[s["id"], d] = dict(s)
    return out, played


def renumbered(history, old, done):
    """A session that the season file no longer has, under the number that its visit has come to."""
    if old["stage"] != "passage":
        return old
    k = 1 + [d.day for d in history.of(done.name)].index(done.day)
    fields = dict(old, id=f"{done.name}/visit-{k}", visit=k)
    if fields["id"] != old["id"]:
        del fields["visits"]  # nothing says how many there would be
    return fields


def compare(want, got):
    """Disagreements about one session that happened."""
    out = []
    for key in ("id", "stage", "minutes", "visits", "start", "ends", "rests", "number"):
        if key in want and (want[key] or None) != (got.get(key) or None):
            out.append(f"{got['id']} on {got['date']}: {key} is {got.get(key)}, not {want[key]}")
    return out


def split(plan, happened, first_planned):
    """The plan's sessions that happened, by name and day, and those that are planned."""
    past, ahead = {}, []
    for s in plan["sessions"]:
        d, name = day(s["date"]), s["id"] if s["stage"] == "warm-up" else name_of(s["id"])
        if d < first_planned or d == first_planned and (name, d) in happened and (name, d) not in past:
            past[name, d] = s
        else:
            ahead.append(s)
    return past, ahead
