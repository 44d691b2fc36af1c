"""The five wishes, reckoned anew (section 6)."""

from fractions import Fraction

from .values import day, weekday


def coverage(left_out):
    """Points; left_out: wants."""
    return sum(value(w) for w in left_out)


def value(want):
    points = max(1, (want.points * want.worth + 2) // 5) if want.points else 0
    return points if want.most is None else min(points, want.most)


def last_visits(placed):
    last = {}
    for p in placed:
        if p.stage == "passage":
            key = p.want.passage.key
            last[key] = max(last.get(key, 0), p.day)
    return last


def ready_by(wanted, placed):
    season, cost = wanted.season, 0
    for key, last in last_visits(placed).items():
        p = wanted.passages[key]
        cost += max(0, last - (wanted.first_date(p) - (0 if p.upkeep else p.part.ready_days)))
    return cost


def closeness(season, before, placed, first_planned):
    """first_planned: F; what was done has not been moved."""
    cost, start = 0, max(first_planned, season.first)
    now = {p.id: p.day for p in placed if p.want}
    for s in (before or {}).get("sessions", []):
        d, to = day(s["date"]), now.get(s["id"])
        if s["stage"] == "warm-up" or d < start or to is None or to == d:
            continue
        weight = 3 if d < first_planned + 7 else 2 if d < first_planned + 21 else 1
        cost += weight * (abs(to - d) + 3)
    return cost


def body(season, rooms, played):
    """Minutes, exact; played: read-throughs and visits by day."""
    days = range(season.first, season.last + 1)
    heavy, warm = season.heavy, season.warm_up
    cap, services = {d: rooms.cap(d) for d in days}, {d: rooms.services(d) for d in days}
    p = {d: played.get(d, 0) for d in days}
    cost = Fraction(0)
    for d in days:
        cost += max(0, p[d] - max(0, heavy * cap[d] // 100 - services[d] - warm))
        if d < season.last:
            pair = max(0, heavy * (cap[d] + cap[d + 1]) // 100 - services[d] - services[d + 1] - 2 * warm)
            cost += max(0, p[d] + p[d + 1] - pair)
    load = {}
    for d in days:
        monday = d - weekday(d)
        load[monday] = load.get(monday, 0) + services[d] + p[d]
    for monday in load:
        if monday - 7 >= season.first:
            rise = load[monday] - Fraction((100 + season.rise) * load[monday - 7], 100) - season.rise_floor
            cost += max(Fraction(0), rise)
    return cost


def spacing(wanted, placed):
    season, cost = wanted.season, 0
    at = {p.want.id: p.day for p in placed if p.want}
    for p in placed:
        if p.stage == "passage" and p.want.visit > 1:
            done = wanted.visited[p.want.passage.key]
            k = p.want.visit - 1
            before = done[k - 1].day if k <= len(done) else at.get(f"{p.want.passage.key}/visit-{k}")
            if before is not None:
                cost += max(0, p.day - before - p.want.preferred)
    for key, last in last_visits(placed).items():
        p = wanted.passages[key]
        cost += max(0, (wanted.first_date(p) - 2 if p.upkeep else wanted.first_date(p) - season.fresh_days) - last)
    return cost
