"""The lines of a record as a command leaves them (section 7.1)."""

import json

from .record import SESSIONS, name_of
from .values import day

KEYS = {"entry", "at", "kind", "date", "session", "planned", "minutes", "tempo", "part", "bars", "hard", "exposed", "due",
        "passage", "undoes", "last", "open", "services", "stood", "from", "to", "note", "more", "id", "unseen", "heard"}
KINDS = SESSIONS + ("found", "not-needed", "day-lost", "pain", "better", "undo", "set-aside")


def judge(before, after, plan):
    """Disagreements about what a command added to a record; before and after: the bytes, or None."""
    before, after = before or b"", after or b""
    if not after.startswith(before):
        return ["what stood there is otherwise"]
    texts, number = after.decode(errors="replace").splitlines(), len(before.decode(errors="replace").splitlines())
    out = []
    if texts and json.loads(texts[0]) != {"format": "primaprova/record/1"}:
        out.append(f"begins with {texts[0]}")
    fresh = [json.loads(t) for t in texts[max(1, number):]]
    for old, new in zip(fresh, fresh[1:]):
        if new["entry"] != old["entry"] + (0 if old.get("more") else 1):
            out.append(f"entry {new['entry']} after {old['entry']}")
    if fresh and fresh[-1].get("more"):
        out.append("the last entry does not end")
    for line in fresh:
        out += one(line, plan)
    return out


def one(line, plan):
    """Disagreements about a line by itself."""
    kind, out = line["kind"], []
    if kind not in KINDS or set(line) - KEYS:
        out.append(f"{kind} with {sorted(set(line) - KEYS)}")
    if ("date" in line) != (kind not in ("undo", "set-aside")):
        out.append(f"{kind} with date {line.get('date')}")
    if kind in SESSIONS:
        stood = [s["minutes"] for s in plan["sessions"] if s["date"] == line["date"]
                 and name_of(s["id"]) == name_of(line["session"])]
        if stood and line.get("planned", 0) != stood[0]:
            out.append(f"{line['session']} on {line['date']}: planned {line.get('planned', 0)}, not {stood[0]}")
    if kind in ("day-lost", "pain") and "stood" in line:
        out += stand(line, plan)
    return out


def stand(line, plan):
    """Disagreements about the planned playing that stood on days after a spell."""
    first, stood = day(line.get("last", line["date"])) + 1, {}
    for row in plan["days"]:
        if first <= day(row["date"]) < first + 28:
            stood[row["date"]] = row["planned"]
    got = {row["date"]: row.get("minutes", 0) for row in line["stood"]}
    return [f"{line['kind']} of {line['date']}: {d} stood with {got.get(d)}, not {stood.get(d)}"
            for d in sorted(set(got) | set(stood)) if got.get(d, 0) != stood.get(d, 0)]


def torn(content, chance):
    """A record whose last bytes a power cut took."""
    last = len(content.splitlines(keepends=True)[-1])
    return content[:len(content) - chance.randrange(1, last)]
