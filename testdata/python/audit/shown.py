"""What `show week` and `show load` say of a plan beside it: tempos and noise (sections 9 and 10)."""

from .noise import week
from .record import name_of
from .tempo import Tempo
from .values import day, iso, weekday


def tempos(case, plan):
    """Where visits from F on begin, what they go for, and their goals, by id."""
    out = {}
    for key, passage in case.wanted.passages.items():
        if passage.tempo is None:
            continue
        way = Tempo(*passage.tempo, case.season.tempo_steps)
        visits = [s for s in plan["sessions"] if s["passage"] == key]
        for s in sorted(visits, key=lambda s: s["visit"]):
            d, total = day(s["date"]), max(v["visits"] for v in visits)
            if d >= case.first and (name_of(s["id"]), d) not in case.past:
                out[s["id"]] = (*way.visit(s["visit"], total), passage.tempo[1])
            line = case.record.said.get((key, d))
            said = line.get("tempo") if line else None
            way.done(s["visit"], total, said, not line or line.kind != "did-not-hold")
    return out


def judge(case, plan, shown):
    """Disagreements about a week as it is shown."""
    out, want = [], tempos(case, plan)
    for row in shown["days"]:
        for s in row["sessions"]:
            if day(s["date"]) <= case.first:
                continue
            got = s.get("tempo")
            got = got and (got["from"], got["to"], got["goal"])
            if got != want.get(s["id"]):
                out.append(("tempo", f"{s['id']}: {got}, not {want.get(s['id'])}"))
    return out + noise(case, day(shown["from"]), shown.get("noise"))


def noise(case, first, got):
    """Disagreements about the noise of the week of a day."""
    monday = first - weekday(first)
    want = week(case.season, case.record, monday)
    if not want or not got:
        return [("noise", f"week of {iso(monday)}: {got}, not {want}")] if got or want else []
    days, whole, without = want
    told = {day(r["date"]): r["daily_db"] for r in got["days"]}
    alike = set(told) == set(days) and all(abs(told[d] - days[d]) < 0.0501 for d in days)
    if alike and abs(got["weekly_db"] - whole) < 0.0501 and got["services_without_db"] == without:
        return []
    return [("noise", f"week of {iso(monday)}: {got}, not {want}")]


def load(case, shown):
    """Disagreements about the noise of all weeks."""
    return [breach for row in shown["weeks"] for breach in noise(case, day(row["from"]), row.get("noise"))]
