"""The head of a plan, and what its wishes say of themselves (section 8)."""

import hashlib
import os

from .values import iso

UNITS = {"coverage": "points", "ready-by": "passage-days", "closeness": "visit-days", "body": "minutes",
         "spacing": "days"}


def head(case, plan, seed):
    """Disagreements about what stands above the wishes; seed: None where chance was not asked."""
    out, season, before = [], case.season, case.before
    if (plan["format"], plan["from"], plan["to"]) != ("primaprova/plan/1", iso(season.first), iso(season.last)):
        out.append("format, from or to")
    if plan["season"]["file"] != os.path.basename(season.path) or plan["season"]["sha256"] != digest(season):
        out.append(f"season {plan['season']}, not {digest(season)}")
    mark = hashlib.sha256("\0".join([season.title, iso(season.first), season.instrument]).encode()).hexdigest()[:16]
    mark = before["calendar"] if before else mark
    if plan["calendar"] != mark:
        out.append(f"calendar {plan['calendar']}, not {mark}")
    if plan["season"].get("record", 0) != case.record.last:
        out.append(f"entry {plan['season'].get('record', 0)}, not {case.record.last}")
    if plan["provenance"]["seed"] != seed and not given_back(plan, before):
        out.append(f"seed {plan['provenance']['seed']}, not {seed}")
    return out


def given_back(plan, before):
    """Whether a plan is the one before, which has then moved nothing."""
    def marked(p):
        return p["sessions"], p["season"]["content"]
    return before is not None and marked(plan) == marked(before)


def values(plan, mine):
    """Disagreements about values and bounds; mine: values by wish, in their order."""
    out, given = [], plan["provenance"]["wishes"]
    if [w["name"] for w in given] != list(mine):
        return [("wishes", f"{[w['name'] for w in given]}")]
    for w in given:
        if abs(float(mine[w["name"]]) - w["value"]) > 0.005:
            out.append((w["name"], f"is {w['value']}, not {float(mine[w['name']])}"))
        if w["bound"] > w["value"] + 0.005 or w["bound"] < 0:
            out.append(("bound", f"of {w['name']} is {w['bound']}, above its value {w['value']}"))
        if w["unit"] != UNITS[w["name"]]:
            out.append(("wishes", f"{w['name']} in {w['unit']}"))
    return out


def kept(plan, before, otherwise):
    """Disagreements about the bounds of a plan given back; otherwise: whether days gone by took
    other minutes than planned. Of one that was planned once more and came out alike nothing is said."""
    out = []
    alike = all(plan["provenance"][key] == before["provenance"][key] for key in ("engine", "status", "seed"))
    # Of one that was not proven more work may raise a bound and find the same sessions.
    if not alike or before["provenance"]["status"] != "proven" or plan["unplaced"] != before["unplaced"]:
        return out
    for w, was in zip(plan["provenance"]["wishes"], before["provenance"]["wishes"]):
        want = max(0, w["value"] - (was["value"] - was["bound"]))
        if w["name"] == "body" and otherwise:
            want = 0
        if abs(want - w["bound"]) > 0.011:
            out.append(("bound", f"of {w['name']}, given back, is {w['bound']}, not {want}"))
    return out


def status(given, said, tolerances):
    """Disagreements about proven: what no plan within the limits of the wishes before can better."""
    out, proven = [], abs(given[-1]["value"] - given[-1]["bound"]) < 0.005
    for w in given:
        tolerance = 0 if w is given[-1] else tolerances.get(w["name"], 0)
        if w.get("tolerance", 0) != tolerance:
            out.append(f"tolerance of {w['name']} is {w.get('tolerance', 0)}, not {tolerance}")
        limit = w["bound"] * (100 + tolerance) / 100
        limit = int(100 * limit + 1e-6) / 100 if w["name"] == "body" else int(limit + 1e-6)
        proven = proven and w["value"] <= limit + 0.005
    if said not in ("proven", "not proven", "cut short", "first plan"):
        out.append(said)
    if said == "proven" and not proven or said == "not proven" and proven:
        out.append(f"{said}, with {[(w['value'], w['bound']) for w in given]}")
    return out


def digest(season):
    with open(season.path, "rb") as f:
        whole = hashlib.sha256(f.read()).hexdigest()
    if not season.sides:
        return whole
    lines = f"{whole}  {os.path.basename(season.path)}\n"
    for name in sorted(season.sides):
        with open(os.path.join(season.folder, name), "rb") as f:
            lines += f"{hashlib.sha256(f.read()).hexdigest()}  {name}\n"
    return hashlib.sha256(lines.encode()).hexdigest()
