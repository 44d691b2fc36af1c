"""Plans spoiled in one place, which an auditor has to notice."""

import copy

from .values import day, iso


def moved(plan, s, c):
    s["date"] = iso(day(s["date"]) + c.choice([-1, 1]))


def longer(plan, s, c):
    s["minutes"] += 5


def dropped(plan, s, c):
    plan["sessions"].remove(s)


def doubled(plan, s, c):
    plan["sessions"].append(dict(s))


def renamed(plan, s, c):
    s["id"] += "0"


def numbered(plan, s, c):
    s["number"] += 1


def counted(plan, s, c):
    s["sequence"] = s.get("sequence", 0) + 1


def capped(plan, s, c):
    c.choice(plan["days"])["cap"] += 1


def wished(plan, s, c):
    c.choice(plan["provenance"]["wishes"])["value"] += 1


def left(plan, s, c):
    plan["unplaced"].append({k: s.get(k) for k in ("id", "stage", "part", "passage", "visit", "minutes")})


def othered(plan, s, c):
    row = c.choice(plan["days"])
    row["other"] = row.get("other", 0) + 1


def forgotten(plan, s, c):
    plan["season"]["record"] = plan["season"].get("record", 0) + 1


def played(plan, s, c):
    s["playing"] = not s["playing"]


def cancelled(plan, s, c):
    plan.setdefault("cancelled", []).append({k: s[k] for k in ("id", "date", "start", "minutes")})


WAYS = [moved, longer, dropped, doubled, renamed, numbered, counted, capped, wished, left,
        othered, forgotten, played, cancelled]


def spoil(plan, chance):
    """A copy with one thing wrong, and the name of what was done; None of a plan without sessions."""
    if not plan["sessions"]:
        return None, ""
    other, way = copy.deepcopy(plan), chance.choice(WAYS)
    way(other, chance.choice(other["sessions"]), chance)
    return other, way.__name__


def spoil_shown(shown, first):
    """What was shown with a tempo or a level of noise wrong, or None; first: the first day that is judged."""
    other = copy.deepcopy(shown)
    for row in other.get("days", []):
        for s in row["sessions"]:
            if s.get("tempo") and day(s["date"]) > first:
                s["tempo"]["to"] += 1
                return other
    for row in other.get("weeks", [other]):
        if row.get("noise"):
            row["noise"]["weekly_db"] += 0.2
            return other
    return None
