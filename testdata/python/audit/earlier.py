"""What an earlier season knows of a part (section 3.7)."""

import os

from .values import day


class Known:
    """A part of an earlier season as its record left it: passages (as nodes of the season file), estimate and
    the day on which it was last played."""

    def __init__(self, season, node, own):
        from .history import History
        from .record import Record
        from .season import Season
        from .wanted import Wanted
        name, wanted_part = (node["file"], node.get("part", own)) if isinstance(node, dict) else (node, own)
        old = Season(os.path.join(season.folder, name), earlier=True)
        record = os.path.splitext(name)[0] + ".record.jsonl"
        season.sides.add(name)
        if os.path.exists(os.path.join(season.folder, record)):
            season.sides.add(record)
        after = old.last + 1
        self.record = Record(os.path.join(season.folder, record), after)
        wanted = Wanted(old, self.record, History(self.record, None, after, "not-done"), after)
        part, = [p for p in old.parts if wanted_part in (p.key, p.id)]
        self.estimate = part.estimate
        self.passages = [self.passage(p, old.step) for p in wanted.passages.values()
                         if p.part is part and not p.unnamed and not p.upkeep and p.key not in self.record.not_needed]
        self.played = self.last_played(old, part, wanted)

    def passage(self, p, step):
        lines = [l for l in self.record.said.values() if l.name == p.key]
        node = {"id": p.id, "bars": p.id, "hard": str(p.hard), "exposed": "yes" if p.exposed else "no",
                "daily": "yes" if p.daily else "no"}
        took = [l.get("minutes") for l in lines
                if l.session.endswith("/visit-1") and l.kind != "not-done" and l.get("minutes")]
        if took:
            node["minutes"] = str(max(step, (took[0] + step // 2) // step * step))
        elif p.minutes:
            node["minutes"] = str(p.minutes)
        if any(l.kind == "did-not-hold" for l in lines):
            node["hard"] = str(min(3, p.hard + 1))
        if p.tempo and p.tempo[1]:
            node["tempo"] = {"goal": str(p.tempo[1])}
        return node

    def last_played(self, old, part, wanted):
        days = [l.day for l in self.record.said.values() if l.kind != "not-done" and
                (l.name == f"{part.key}/read-through" or wanted.passages.get(l.name) and wanted.passages[l.name].part is part)]
        for s in part.programme.services:
            if (not s.works or part.id in s.works) and not s.excused and s.day not in self.record.missed:
                days.append(s.day)
        return max(days, default=None)


def known_from(season, node, part):
    """The node of a part with what its known_from takes over; the day it was last played, None where nobody can say."""
    if not node.get("known_from") or season.earlier:
        return node, None
    known, out = Known(season, node["known_from"], part), dict(node)
    own = list(node.get("passages") or [])
    if not own and "estimate" not in node:
        out["estimate"] = str(known.estimate)
    ids = named(own)
    out["passages"] = own + [p for p in known.passages if p["id"] not in ids]
    return out, known.played


def named(nodes):
    from .season import free_id, slug
    taken = set()
    for p in nodes:
        taken.add(free_id(p.get("id") or slug(p["bars"]), taken))
    return taken
