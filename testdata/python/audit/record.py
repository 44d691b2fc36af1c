"""The record: which of its lines hold, and what they say (sections 7.1 and 7.2)."""

import json
import os
import re

from .values import day

SESSIONS = ("done", "not-done", "did-not-hold")
CARE = ("not-done", "done", "did-not-hold")  # what counts of lines that did not know of each other: the last of these


def name_of(identity):
    """What a session is known by: a visit by its passage, a stage by its id (section 3.1)."""
    return re.sub(r"/visit-\d+$", "", identity)


class Line:
    def __init__(self, fields):
        self.fields, self.kind, self.entry = fields, fields.get("kind"), fields.get("entry", 0)
        self.day = day(fields["date"]) if "date" in fields else None
        self.session = fields.get("session")
        self.name = name_of(self.session) if self.session else None

    def get(self, key, default=None):
        return self.fields.get(key, default)


class Record:
    """What holds of a record on a day taken for today."""

    def __init__(self, path, today):
        lines = read(path) if path and os.path.exists(path) else []
        self.last = highest(path)
        lines = holding(lines)
        self.read_spells(lines, today)
        self.not_needed = {l.get("passage") for l in lines if l.kind == "not-needed"}
        self.found = [l for l in lines if l.kind == "found"]
        # Of several lines about one name on one day one counts (7.5).
        about = {}
        for l in lines:
            if l.kind in SESSIONS and l.day <= today:
                about.setdefault((l.name, l.day), []).append(l)
        self.said = {key: counting(said) for key, said in about.items()}

    def read_spells(self, lines, today):
        """Lost days and days of pain, those whose services were missed, and what stood after pain."""
        self.lost, self.pain, self.missed, self.stood = set(), set(), set(), {}
        better = [l.day for l in lines if l.kind == "better"]
        said = {}
        for l in lines:
            if l.kind not in ("day-lost", "pain"):
                continue
            last = day(l.get("last")) if l.get("last") else l.day
            if l.get("open"):
                last = min([today + 6] + [b - 1 for b in better if b > l.day])
            days = range(l.day, last + 1)
            (self.lost if l.kind == "day-lost" else self.pain).update(days)
            if l.get("services") or l.kind == "day-lost":
                said.update({d: l.get("services", "missed") for d in days})
            for row in l.get("stood") or []:
                d = day(row["date"])
                self.stood[d] = min(row.get("minutes", 0), self.stood.get(d, 10**6))
        self.pain -= self.lost
        self.missed = {d for d in self.lost | self.pain if said.get(d) == "missed"}

    def speaks_later(self, identity, ordinal):
        return any(l.session == identity and l.day > ordinal for l in self.said.values())

    def done_days(self, identity):
        return [l.day for l in self.said.values() if l.session == identity and l.kind != "not-done"]


def knows(line, above):
    """Whether who recorded a line knew one that stands above it."""
    unseen = line.get("unseen")
    return not unseen or above.entry < unseen or above.entry == line.entry


def counting(said):
    """The line that counts of those about one name and day, in the order of the file."""
    left = [l for k, l in enumerate(said) if not any(knows(later, l) for later in said[k + 1:])]
    left.sort(key=lambda l: l.get("id") or "")
    return max(left, key=lambda l: (CARE.index(l.kind), l.get("minutes") or l.get("planned") or 0))


def read(path):
    """The lines of a file; None for those without effect: of a power cut, or set aside."""
    with open(path, encoding="utf-8") as f:
        texts = f.read().split("\n")
    if texts and not texts[-1]:
        texts.pop()
    lines = []
    for k, text in enumerate(texts):
        try:
            lines.append(Line(json.loads(text)))
        except ValueError:
            lines.append(None)
            if k < len(texts) - 1 and not any(l and l.kind == "set-aside" for l in map(safe, texts[k:])):
                raise
    while lines and (lines[-1] is None or lines[-1].get("more")):
        lines.pop()
    for line in list(lines):
        if line and line.kind == "set-aside":
            for k in range(line.get("from"), line.get("to") + 1):
                lines[k - 1] = None
    lines = [line for line in lines if line]
    first = {}
    for line in lines:
        if line.get("id"):
            first.setdefault(line.get("id"), line.entry)
    return [line for line in lines if not line.get("id") or first[line.get("id")] == line.entry]


def highest(path):
    """The number of the last entry, of lines without effect, too."""
    if not path or not os.path.exists(path):
        return 0
    with open(path, encoding="utf-8") as f:
        return max((line.entry for line in map(safe, f.read().split("\n")) if line), default=0)


def safe(text):
    try:
        return Line(json.loads(text))
    except ValueError:
        return None


def holding(lines):
    """The lines that no undo takes back; worked off from the last to the first."""
    undone = set()
    for line in reversed(lines):
        if line.kind == "undo" and line.entry not in undone:
            undone.add(line.get("undoes"))
    return [line for line in lines if line.entry not in undone and line.kind != "undo"]
