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


WAYS = [moved, longer, dropped, doubled, renamed, numbered, counted, capped, wished, left]


def spoil(plan, chance):
    """A copy with one thing wrong, and the name of what was done; None of a plan without sessions."""
    if not plan["sessions"]:
        return None, ""
    other, way = copy.deepcopy(plan), chance.choice(WAYS)
    way(other, chance.choice(other["sessions"]), chance)
    return other, way.__name__
