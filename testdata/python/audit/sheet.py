"""Numbers on a day's sheet, and how often sessions and days changed (section 8)."""

from .record import name_of
from .values import clock, day
from .wanted import kind

SAME = ("date", "minutes", "start", "ends", "visits")


def by_date(plan):
    out = {}
    for s in (plan or {}).get("sessions", []):
        out.setdefault(s["date"], []).append(s)
    return out


def name(s):
    return s["id"] if s["stage"] == "warm-up" else name_of(s["id"])


def numbers(plan, before, today):
    """Disagreements about the numbers of sessions."""
    out, old_days = [], by_date(before)
    for date, sessions in by_date(plan).items():
        old = {name(s): s["number"] for s in old_days.get(date, [])} if day(date) <= today else {}
        kept = [s for s in sessions if name(s) in old]
        for s in kept:
            if s["number"] != old[name(s)]:
                out.append(f"{s['id']} on {date}: number {s['number']}, was {old[name(s)]}")
        highest = max((s["number"] for s in kept), default=0)
        others = [s for s in sessions if name(s) not in old]
        got = sorted(s["number"] for s in others)
        least = max(old.values(), default=0)
        if got not in (list(range(highest + 1, highest + 1 + len(got))), list(range(least + 1, least + 1 + len(got)))):
            out.append(f"{date}: numbers {got} after {highest} (highest before: {least})")
        rank = ["listening", "recordings", "warm-up", "read-through", "passage"].index
        key = (lambda s: clock(s["start"])) if all(s["start"] for s in others) else (lambda s: rank(s["stage"]))
        order = sorted(others, key=lambda s: s["number"])
        if [key(s) for s in order] != sorted(key(s) for s in order):
            out.append(f"{date}: numbers are not in the order played")
    return out


def sequences(plan, before):
    """Disagreements about sequences and what was cancelled."""
    out, now = [], {s["id"]: s for s in plan["sessions"]}
    old = {s["id"]: s for s in (before or {}).get("sessions", [])}
    gone = {c["id"]: c.get("sequence", 0) for c in (before or {}).get("cancelled", [])}
    for identity, s in now.items():
        if identity in old:
            was = old[identity]
            same = all(s.get(k) == was.get(k) for k in SAME)
            want = was.get("sequence", 0) + (not same)
        else:
            want = gone[identity] + 1 if identity in gone else 0
        if s.get("sequence", 0) != want:
            out.append(f"{identity}: sequence {s.get('sequence', 0)}, not {want}")
    want = {i: q for i, q in gone.items() if i not in now}
    want.update({i: s.get("sequence", 0) + 1 for i, s in old.items() if i not in now})
    got = {c["id"]: c.get("sequence", 0) for c in plan.get("cancelled", [])}
    for identity in sorted(set(want) | set(got)):
        if want.get(identity) != got.get(identity):
            out.append(f"cancelled {identity}: sequence {got.get(identity)}, not {want.get(identity)}")
    stood = {c["id"]: c for c in (before or {}).get("cancelled", [])} | old
    for c in plan.get("cancelled", []):
        if any(c.get(key) != stood.get(c["id"], {}).get(key) for key in ("date", "start", "minutes")):
            out.append(f"cancelled {c['id']}: {c}, last as {stood.get(c['id'])}")
    return out


def runs(sessions):
    """Runs of sessions without time between; without hours the day is one."""
    times = sorted((clock(s["start"]), clock(s["ends"])) for s in sessions if s["start"])
    count, end = 0, None
    for a, b in times:
        count += end is None or a > end
        end = b if end is None else max(end, b)
    return count or 1


def changes(plan, before):
    """Disagreements about the days that changed."""
    if not before:
        return ["changed_days in a first plan"] if plan.get("changed_days") else []
    now, old = by_date(plan), by_date(before)
    want = {c["date"]: (c["sequence"], c.get("blocks", 0)) for c in before.get("changed_days", [])}
    for date in set(now) | set(old):
        def listed(sessions):
            sessions = sorted(sessions, key=lambda s: s["start"] or "")  # without hours as in the file
            return [(s["id"], s["minutes"], s["start"], s["ends"], s["visits"]) for s in sessions]
        if listed(now.get(date, [])) != listed(old.get(date, [])) and (old.get(date) or date in want):
            count, most = want.get(date, (0, 0))
            want[date] = count + 1, max(most, runs(old[date]) if old.get(date) else 0)
    got = {c["date"]: (c["sequence"], c.get("blocks", 0)) for c in plan.get("changed_days", [])}
    return [f"changed day {d}: (sequence, blocks) {got.get(d)}, not {want.get(d)}"
            for d in sorted(set(want) | set(got)) if want.get(d) != got.get(d)]


def fields(plan):
    """Disagreements about what a session's id says of it."""
    out = []
    for s in plan["sessions"]:
        identity, stage = s["id"], s["stage"]
        visit = int(identity.rsplit("-", 1)[1]) if stage == "passage" else None
        want = {"playing": stage in ("warm-up", "read-through", "passage"), "visit": visit,
                "part": None if stage == "warm-up" else "/".join(identity.split("/")[:2]),
                "passage": name_of(identity) if stage == "passage" else None}
        if stage not in ("passage", "warm-up") and kind(identity.split("/")[-1]) != stage:
            out.append(f"{identity}: stage is {stage}")
        out += [f"{identity}: {key} is {s.get(key)}, not {value}" for key, value in want.items() if s.get(key) != value]
    return out
