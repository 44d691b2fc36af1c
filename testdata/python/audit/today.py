"""Today: whether what stands on it can stay, and so the first day that is planned (section 7.4)."""

from .record import name_of
from .rules import Placed
from .values import day, iso
from .wanted import Want


def stands(season, record, history, wanted, rules):
    """Why today cannot stand, or None; and the sessions that stay."""
    today, kept = history.today, history.todays()
    placed, why = [], None
    for s in kept:
        name = name_of(s["id"])
        want = wanted.next_of(name)
        if want is None and s["stage"] == "read-through":
            part = next((p for p in season.parts if p.key == s["part"]), None)
            if part and any(l.get("part") == part.key and l.day == today and not l.get("heard") for l in record.found):
                want = Want(s["id"], "read-through", part, s["minutes"], by_finding=True)
        if want is None:
            why = why or f"nothing asks for {s['id']}"
            continue
        placed.append(Placed(s, want))
    if why:
        return why, kept
    done = recorded_today(season, history, wanted)
    warm = [Placed(s, None) for s in history.before["sessions"] if s["stage"] == "warm-up" and day(s["date"]) == today]
    if any(p.work for p in placed):
        breaches = rules.judge(placed + warm, {today: done})
    else:
        breaches = rules.judge(placed, {today: [p for p in done if not p.work]})
        # That what was recorded done has no warm-up is no breach; one of another length is.
        if any(p.work for p in done) and any(w.minutes != season.warm_up for w in warm):
            breaches = breaches + [("warm-up", f"{iso(today)}: not {season.warm_up} min")]
    if breaches:
        return "{}: {}".format(*breaches[0]), kept
    return round_waits(history, wanted, placed) or pins(season, record, wanted, placed, today), kept


def recorded_today(season, history, wanted):
    """Sessions recorded done today, as they stand in the plan before or by the season file."""
    out = []
    for done in history.done:
        if done.day != history.today or not done.said:
            continue
        old = history.old.get((done.name, done.day))
        if old is None:
            old = by_season(season, wanted, done)
        if old:
            out.append(Placed(old, None))
    return out


def by_season(season, wanted, done):
    """A session that was done and stands in no plan, with the lengths of the season file."""
    fields = {"id": done.name, "date": iso(done.day)}
    if done.name in wanted.passages:
        lengths = wanted.lengths[done.name]
        k = 1 + [d.day for d in wanted.visited[done.name]].index(done.day)
        return dict(fields, id=f"{done.name}/visit-{k}", stage="passage", minutes=lengths[min(k, len(lengths)) - 1],
                    visit=k, visits=max(k, len(lengths)))
    for part in season.parts:
        for stage, minutes in part.stages.items():
            if done.name == f"{part.key}/{stage}":
                return dict(fields, stage="listening" if stage.startswith("listening") else stage, minutes=minutes)
    return None


def round_waits(history, wanted, placed):
    """A third visit or the recordings that stand today while a first visit stands on another day."""
    for p in placed:
        if p.want.visit != 3 and p.stage != "recordings":
            continue
        for (name, d), s in history.old.items():
            passage = wanted.passages.get(name)
            if d != history.today and passage and passage.part is p.want.part and passage.found is None:
                first = wanted.next_of(name)
                if first and first.visit == 1:
                    return f"{'all-once' if p.want.visit else 'order'}: {p.id} stands today, the first visit of {name} on {iso(d)}"
    return None


def pins(season, record, wanted, placed, today):
    ids = {p.want.id for p in placed}
    for p in placed:
        if season.pins.get(p.want.id, today) > today:
            return f"pinned: {p.want.id} is pinned to {iso(season.pins[p.want.id])}"
    for identity, d in season.pins.items():
        if d == today and identity in wanted.items and identity not in ids:
            want = wanted.next_of(name_of(identity))
            if want and want.id == identity:
                return f"pinned: {identity} is pinned to today"
    return None
