"""A plan judged: every disagreement with the page, as (rule, text)."""

import json
import os

from . import give_way, happened, provenance, sheet, today, wishes
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
                 anew=False, tolerance="body 2", seed=1):
        self.season = Season(path)
        self.today = self.season.first if now is None else now
        self.before, self.anew, self.learn, self.unrecorded = before, anew, learn, unrecorded
        self.record, self.seed = Record(record, self.today), seed
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
        give_way.settle(self.wanted, self.rooms, self.hours)
        self.rules = Rules(season, self.rooms, self.wanted, self.hours)
        past, ahead = happened.split(plan, self.past, self.first)
        if len(past) + len(ahead) != len(plan["sessions"]):
            self.say("happened", "a session stands twice")
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
        self.out += [("head", t) for t in provenance.head(self, plan, self.seed)]
        self.judge_changed(plan)
        self.judge_wishes(plan, placed)
        self.out += [("minutes", t) for t in sheet.fields(plan)]
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

    def judge_rows(self, plan):
        days = sheet.by_date(plan)
        rows = {r["date"]: r for r in plan["days"]}
        if len(rows) != self.season.last - self.season.first + 1 or len(rows) != len(plan["days"]):
            self.say("days", f"{len(plan['days'])} rows")
        for d in range(self.season.first, self.season.last + 1):
            sessions = days.get(iso(d), [])
            want = {"cap": self.rooms.cap(d), "services": self.rooms.services(d), "rest": self.rooms.no_playing(d),
                    "other": self.season.other.on(d, self.record) or None,
                    "warm_up": sum(s["minutes"] for s in sessions if s["stage"] == "warm-up")
                    + self.hours.warmed_again(d, sessions),
                    "planned": sum(s["minutes"] for s in sessions if s["stage"] in ("read-through", "passage"))}
            row = rows.get(iso(d), {})
            for key, value in want.items():
                if row.get(key) != value:
                    self.say("days", f"{iso(d)}: {key} is {row.get(key)}, not {value}")

    def judge_wishes(self, plan, placed):
        planned = {}
        for (_, d), s in self.past.items():
            if s["stage"] in ("read-through", "passage") and d < self.first:
                planned[d] = planned.get(d, 0) + s["minutes"]
        otherwise = planned != self.played
        for p in placed:
            if p.work:
                self.played[p.day] = self.played.get(p.day, 0) + p.minutes
        back, given = provenance.given_back(plan, self.before), plan["provenance"]["wishes"]
        near = 0 if self.anew or back else wishes.closeness(self.season, self.before, placed, self.first)
        mine = {"coverage": wishes.coverage(self.left_out), "ready-by": wishes.ready_by(self.wanted, placed),
                "closeness": near, "body": wishes.body(self.season, self.rooms, self.played),
                "spacing": wishes.spacing(self.wanted, placed)}
        self.out += provenance.values(plan, mine)
        if back and not self.anew:
            self.out += provenance.kept(plan, self.before, otherwise)
        if not back:
            said = plan["provenance"]["status"]
            self.out += [("status", t) for t in provenance.status(given, said, self.tolerance)]

    def judge_changed(self, plan):
        """The day of the last planning that changed a session."""
        def listed(p):
            return {s["id"]: [s[k] for k in ("date", "start", "ends", "minutes")] for s in p["sessions"]}
        want = iso(self.today)
        if self.before and listed(plan) == listed(self.before):
            want = self.before.get("changed")
        if plan.get("changed") != want:
            self.say("changed", f"is {plan.get('changed')}, not {want}")


def load(path):
    if not path or not os.path.exists(path):
        return None
    with open(path, encoding="utf-8") as f:
        return json.load(f)
