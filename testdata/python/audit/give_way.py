"""Which parts give way where days are short (section 6, whole_parts)."""


class Work:
    """Minutes that have to be done within days."""

    def __init__(self, minutes, first, last):
        self.minutes, self.first, self.last = minutes, first, last


def settle(wanted, rooms, hours):
    """Lowers what the visits of parts that give way are worth."""
    season, start = wanted.season, max(wanted.first, wanted.season.first)
    if not season.whole_parts:
        return
    room = {d: holds(season, rooms, hours, d) for d in range(start, season.last + 1)}
    taken, rest, giving = [], {}, []
    for part in season.parts:
        first, later, whole = shares(wanted, part, start)
        taken += first
        if not whole:
            giving.append(part)
        elif later:
            rest[part.key] = later
    staying = []
    for part in sorted((p for p in season.parts if p.key in rest), key=wanted.due.read_for):
        staying.append(part)
        while True:
            run = tightest(taken + [w for p in staying for w in rest[p.key]], room)
            inside = [p for p in staying if run and any(run[1] <= w.first and w.last <= run[2] for w in rest[p.key])]
            if not run or run[0] >= 0 or not inside:
                break
            longest = max(inside, key=lambda p: sum(w.minutes for w in rest[p.key]))
            staying.remove(longest)
            giving.append(longest)
    for want in wanted.items.values():
        if want.part in giving and want.visit and want.visit > 2:
            want.most = 2 if want.visit == 3 else 1


def holds(season, rooms, hours, d):
    if rooms.no_playing(d):
        return 0
    if not season.timed:
        return rooms.beside(d)
    return min(rooms.beside(d), max(0, hours.held(d) - season.warm_up)) if hours.blocks(hours.playable(d)) else 0


def shares(wanted, part, start):
    """First work, rest, and whether each passage has days for all its visits."""
    first, rest, whole, passages = [], [], True, {}

    def add(to, minutes, days):
        work = Work(minutes, max(start, days[0]), days[1])
        if minutes and work.first <= work.last:
            to.append(work)

    for want in wanted.items.values():
        if want.part is part and want.stage == "read-through":
            add(first, want.minutes, wanted.window(part))
        elif want.part is part and want.passage:
            passages.setdefault(want.passage.key, []).append(want)
    for key, visits in passages.items():
        days, done = wanted.visit_days(visits[0].passage), wanted.visited[key]
        d = max(start, days[0], *[done[-1].day + visits[0].least] if done else [])
        whole = whole and d + sum(v.least for v in visits[1:]) <= days[1]
        add(first, sum(v.minutes for v in visits if v.visit <= 2), days)
        add(rest, sum(v.minutes for v in visits if v.visit > 2), days)
    return first, rest, whole


def tightest(work, room):
    """Minutes to spare, first and last day of the run of days with the least, or None."""
    best = None
    for last in sorted({w.last for w in work}):
        for first in sorted({w.first for w in work if w.last <= last}, reverse=True):
            need = sum(w.minutes for w in work if first <= w.first and w.last <= last)
            spare = sum(room[d] for d in range(first, last + 1)) - need
            if best is None or spare < best[0]:
                best = spare, first, last
    return best
