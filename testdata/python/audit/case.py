"""A plan judged: every disagreement with the page, as (rule, text)."""

import hashlib
import json
import os

from . import happened, sheet, today, wishes
from .days import Rooms
from .history import History
from .hours import Hours
from .record import Record
from .rules import Placed, Rules
from .season import Season
from .values import day, iso
from .wanted import Wanted


class Case:
    """A season with its record, the plan that stood before, and how it was planned."""

    def __init__(self, path, before=None, record=None, now=None, unrecorded="done", learn=False, from_today=False,
                 anew=False, tolerance="body 2"):
        self.season = Season(path)
        self.today = self.season.first if now is None else now
        self.before, self.anew, self.learn, self.unrecorded = before, anew, learn, unrecorded
        self.record = Record(record, self.today)
        pairs = [] if tolerance == "none" else [pair.split() for pair in tolerance.split(",")]
        self.tolerance = {name: int(percent) for name, percent in pairs}
        self.why, self.kept = "planned without what stands", []
        inside = self.season.first <= self.today <= self.season.last
        if before and not from_today and inside:
            history, wanted = self.state([], self.today)
            _, played = happened.expected(self.season, history, wanted, self.today)
            self.rooms = Rooms(self.season, self.record, self.today + 1, played)
            self.hours = Hours(self.season, self.rooms)
            rules = Rules(self.season, self.rooms, wanted, self.hours)
            self.why, self.kept = today.stands(self.season, self.record, history, wanted, rules)

    def state(self, kept, first):
        history = History(self.record, self.before, self.today, self.unrecorded)
        history.keep(kept)
        return history, Wanted(self.season, self.record, history, first, self.learn)

    def judge(self, plan):
        """Breaches of a plan; of one that treats today otherwise than the page, that alone."""
        stays = self.why is None
        out = self.judge_as(plan, stays)
        if out and self.before and self.season.first <= self.today <= self.season.last:
            if not stays:
                history, _ = self.state([], self.today)
                self.kept = history.todays()
            other = self.judge_as(plan, not stays)
            if len(other) < len(out) and not other:
                return [("today", f"planned anew, though it can stand" if stays else f"stands, though {self.why}")]
        return out

    def judge_as(self, plan, stays):
        season = self.season
        self.first = self.today + 1 if stays else max(self.today, season.first)
        self.out = []
        self.history, self.wanted = self.state(self.kept if stays else [], self.first)
        self.past, self.played = happened.expected(season, self.history, self.wanted, self.first)
        self.rooms = Rooms(season, self.record, self.first, dict(self.played))
        self.hours = Hours(season, self.rooms)
        self.rules = Rules(season, self.rooms, self.wanted, self.hours)
        past, ahead = happened.split(plan, self.past, self.first)
        for key in sorted(set(past) | set(self.past)):
            if key not in past:
                self.say("happened", f"{key[0]} on {iso(key[1])} is missing")
            elif key not in self.past:
                self.say("happened", f"{past[key]['id']} on {iso(key[1])} did not happen")
            else:
                self.out += [("happened", text) for text in happened.compare(self.past[key], past[key])]
        done = {}
        for (_, d), s in past.items():
            if d >= self.first:
                done.setdefault(d, []).append(Placed(s, None))
        placed = [Placed(s, self.wanted.items.get(s["id"])) for s in ahead]
        self.judge_account(plan, placed)
        placed = [p for p in placed if p.want or p.stage == "warm-up"]
        self.out += self.rules.judge(placed, done)
        self.judge_pins(placed)
        self.judge_rows(plan)
        self.judge_head(plan)
        self.judge_changed(plan)
        self.judge_wishes(plan, placed)
        self.out += [("number", t) for t in sheet.numbers(plan, self.before, self.today)]
        self.out += [("sequence", t) for t in sheet.sequences(plan, self.before)]
        self.out += [("changed-days", t) for t in sheet.changes(plan, self.before)]
        return self.out

    def say(self, rule, text):
        self.out.append((rule, text))

    def judge_account(self, plan, placed):
        gone, seen = self.history.not_done_today(), set()
        self.left_out = []
        for p in placed:
            if p.stage == "warm-up":
                if p.fields.get("number", 0) < 1 or p.id != f"warm-up/{iso(p.day)}":
                    self.say("minutes", f"{p.id} on {iso(p.day)}")
                continue
            self.account(p.fields, p.want, seen)
            if p.want and p.day == self.today and p.want.name in gone:
                self.say("past", f"{p.id} was not done today and is planned today")
        for s in plan["unplaced"]:
            want = self.wanted.items.get(s["id"])
            self.account(s, want, seen)
            if want:
                self.left_out.append(want)
        for identity in sorted(set(self.wanted.items) - seen):
            self.say("accounted", f"{identity} is wanted, and neither planned nor left out")

    def account(self, fields, want, seen):
        identity = fields["id"]
        if want is None:
            self.say("accounted", f"{identity} is not wanted")
            return
        if identity in seen:
            self.say("accounted", f"{identity} stands twice")
        seen.add(identity)
        expected = {"minutes": want.minutes, "stage": want.stage, "part": want.part.key, "visit": want.visit,
                    "passage": want.passage.key if want.passage else None}
        if "date" in fields:
            expected.update(visits=want.visits, playing=want.playing)
        for key, value in expected.items():
            if fields.get(key) != value:
                self.say("minutes", f"{identity}: {key} is {fields.get(key)}, not {value}")

    def judge_pins(self, placed):
        for p in placed:
            pin = self.season.pins.get(p.id)
            if pin is not None and pin >= self.first and p.day != pin:
                self.say("pinned", f"{p.id} on {iso(p.day)}, not on {iso(pin)}")

    def given_back(self, plan):
        """Whether a plan is the one before, which has then moved nothing."""
        def marked(p):
            return p["sessions"], p["season"]["content"]
        return self.before is not None and marked(plan) == marked(self.before)

    def judge_rows(self, plan):
        days = sheet.by_date(plan)
        rows = {r["date"]: r for r in plan["days"]}
        if len(rows) != self.season.last - self.season.first + 1 or len(rows) != len(plan["days"]):
            self.say("days", f"{len(plan['days'])} rows")
        for d in range(self.season.first, self.season.last + 1):
            sessions = days.get(iso(d), [])
            want = {"cap": self.rooms.cap(d), "services": self.rooms.services(d), "rest": self.rooms.no_playing(d),
                    "warm_up": sum(s["minutes"] for s in sessions if s["stage"] == "warm-up")
                    + self.hours.warmed_again(d, sessions),
                    "planned": sum(s["minutes"] for s in sessions if s["stage"] in ("read-through", "passage"))}
            row = rows.get(iso(d), {})
            for key, value in want.items():
                if row.get(key) != value:
                    self.say("days", f"{iso(d)}: {key} is {row.get(key)}, not {value}")

    def judge_head(self, plan):
        season = self.season
        if (plan["format"], plan["from"], plan["to"]) != ("primaprova/plan/1", iso(season.first), iso(season.last)):
            self.say("head", "format, from or to")
        if plan["season"]["file"] != os.path.basename(season.path) or plan["season"]["sha256"] != digest(season):
            self.say("head", f"season {plan['season']}, not {digest(season)}")
        mark = hashlib.sha256("\0".join([season.title, iso(season.first), season.instrument]).encode()).hexdigest()[:16]
        mark = self.before["calendar"] if self.before else mark
        if plan["calendar"] != mark:
            self.say("head", f"calendar {plan['calendar']}, not {mark}")

    def judge_wishes(self, plan, placed):
        for p in placed:
            if p.work:
                self.played[p.day] = self.played.get(p.day, 0) + p.minutes
        mine = {"coverage": wishes.coverage(self.left_out), "ready-by": wishes.ready_by(self.wanted, placed),
                "closeness": 0 if self.anew else wishes.closeness(self.season, self.before, placed, self.first),
                "body": wishes.body(self.season, self.rooms, self.played),
                "spacing": wishes.spacing(self.wanted, placed)}
        given = plan["provenance"]["wishes"]
        if [w["name"] for w in given] != list(mine):
            self.say("wishes", f"{[w['name'] for w in given]}")
        if self.given_back(plan):
            mine["closeness"] = 0
        for w in given:
            if abs(float(mine[w["name"]]) - w["value"]) > 0.005:
                self.say(w["name"], f"is {w['value']}, not {float(mine[w['name']])}")
            if w["bound"] > w["value"] + 0.005:
                self.say("bound", f"of {w['name']} is {w['bound']}, above its value {w['value']}")
        if not self.given_back(plan):
            self.judge_status(plan["provenance"]["status"], given)

    def judge_status(self, status, given):
        """Proven is what no plan within the limits of the wishes before can better."""
        proven = abs(given[-1]["value"] - given[-1]["bound"]) < 0.005
        for w in given:
            tolerance = 0 if w is given[-1] else self.tolerance.get(w["name"], 0)
            if w.get("tolerance", 0) != tolerance:
                self.say("status", f"tolerance of {w['name']} is {w.get('tolerance', 0)}, not {tolerance}")
            limit = w["bound"] * (100 + tolerance) / 100
            limit = int(100 * limit + 1e-6) / 100 if w["name"] == "body" else int(limit + 1e-6)
            proven = proven and w["value"] <= limit + 0.005
        if status == "proven" and not proven or status == "not proven" and proven:
            self.say("status", f"{status}, with {[(w['value'], w['bound']) for w in given]}")

    def judge_changed(self, plan):
        """The day of the last planning that changed a session."""
        def listed(p):
            return {s["id"]: [s[k] for k in ("date", "start", "ends", "minutes")] for s in p["sessions"]}
        want = iso(self.today)
        if self.before and listed(plan) == listed(self.before):
            want = self.before.get("changed")
        if plan.get("changed") != want:
            self.say("changed", f"is {plan.get('changed')}, not {want}")


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


def load(path):
    if not path or not os.path.exists(path):
        return None
    with open(path, encoding="utf-8") as f:
        return json.load(f)
