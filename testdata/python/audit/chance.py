"""Chooses the steps of a life by chance."""

import os
import re

from .away import Away
from .illness import Illness
from .values import day, iso


class Chance:
    """Chooses the next step of a life; the steps themselves know nothing of chance."""

    def __init__(self, chance, life, first, last):
        self.c, self.life, self.today, self.first, self.last = chance, life, first, first, last
        self.unrecorded = chance.choice(["done", "not-done"])
        self.learn = chance.random() < 0.15
        self.tolerance = chance.choice([None] * 6 + ["none", "closeness 5, body 10", "coverage 20, ready-by 50"])
        self.illness, self.away = Illness(chance), Away(chance, life)
        if chance.random() < 0.3:
            self.today -= chance.randrange(3)

    def planning(self):
        c = self.c
        flags = ["--today", iso(self.today), "--budget", str(c.choice([1, 1, 1, 1, 2, 5]))]
        unrecorded = self.unrecorded if c.random() < 0.9 else c.choice(["done", "not-done"])
        if unrecorded != "done":
            flags += ["--unrecorded", unrecorded]
        if self.learn:
            flags += ["--learn", "yes"]
        if c.random() < 0.1:
            flags += ["--seed", str(c.randrange(2, 9))]
        if self.tolerance:
            flags += ["--tolerance", self.tolerance]
        if c.random() < 0.1:
            flags += ["--limit", c.choice(["1ms", "50ms", "300ms"])]
        return flags

    def plan(self):
        extra = self.c.choice([[]] * 8 + [["--from-today"], ["--anew"]])
        self.life.do(["plan", "season.yaml"] + self.planning() + extra)

    def live(self, steps):
        """A first plan, then steps: each day is recorded or not, and planned again."""
        self.plan()
        for _ in range(steps):
            self.today += self.c.choice([0, 0, 1, 1, 1, 1, 2, 3])
            if self.today > self.last + 1 or self.life.plan() is None:
                return
            for _ in range(self.c.choice([0, 1, 1, 2, 3])):
                self.something()
            self.plan()

    def something(self):
        kind = self.c.random()
        if kind < 0.72:
            self.record()
        elif kind < 0.8:
            self.pin()
        elif kind < 0.87:
            self.late()
        elif kind < 0.88:
            self.life.refuse(self.c)
        elif kind < 0.89:
            self.life.tear(self.c)
        elif kind < 0.9:
            self.take()
        else:
            self.edit()

    def take(self):
        """An offer of what would help is asked for and taken."""
        flags = self.planning()
        flags = flags if "--limit" in flags else flags + ["--limit", "2s"]
        of = self.c.choice([[], [self.part()]])
        self.life.do(["why", "season.yaml"] + of + flags)
        offers = re.findall(r"--take (\S+)", self.life.said)
        if offers:
            self.life.do(["why", "season.yaml"] + of + ["--take", self.c.choice(offers).strip("'\"")] + flags)

    def sessions(self, d):
        out = [s for s in self.life.plan()["sessions"] if s["date"] == iso(d) and s["stage"] != "warm-up"]
        return [s for s in out if s["id"]]

    def record(self):
        c = self.c
        d = self.today - c.choice([0, 0, 0, 1, 1, 2])
        head = ["record", "season.yaml"]
        tail = ["--today", iso(self.today)] + (["--on", iso(d)] if d != self.today else [])
        kind, sessions = c.random(), self.sessions(d)
        if kind < 0.14:
            self.life.do(head + self.illness.step(self.today))
        elif kind < 0.16:
            self.life.do(head + self.illness.services(self.today))
        elif kind < 0.26:
            self.life.do(head + ["--found", f"{c.randrange(90, 97)}-99", "--part", self.part()]
                         + c.choice([[], ["--hard", "3"], ["--exposed"], ["--due", iso(self.today + c.randrange(2, 9))]])
                         + c.choice([[], [], ["--minutes", "12"]]) + tail)
        elif kind < 0.31:
            passages = sorted({s["passage"] for s in self.life.plan()["sessions"] if s["passage"]})
            if passages:
                self.life.do(head + ["--no-longer-needed", c.choice(passages)] + tail[:2])
        elif kind < 0.36 and sessions and self.whole():
            self.life.do(["append", self.away.come_in(self.today, sessions)])
        elif kind < 0.4:
            self.life.do(head + [c.choice(["--undo", "--undo", f"--undo={c.randrange(1, 6)}"])] + tail[:2])
        elif sessions:
            self.sessions_of(head, tail, d, sessions)

    def whole(self):
        """Whether the record ends with a whole entry, which others may follow."""
        content = self.life.snapshot()["season.record.jsonl"]
        return content is not None and content.endswith(b"}\n") and b'"more":true' not in content.splitlines()[-1]

    def sessions_of(self, head, tail, d, sessions):
        c = self.c
        if c.random() < 0.2:
            self.life.do(head + ["all"] + (tail if c.random() < 0.8 else tail[:2] + ["--on", f"{iso(d - 2)}..{iso(d)}"]))
            return
        if c.random() < 0.15:
            lines = "".join(f"{s['id']}{c.choice(['', ' --not-done', ' --minutes 9'])} --on {iso(d)}\n" for s in sessions)
            name = f"lines-{len(self.life.steps)}.txt"
            with open(os.path.join(self.life.folder, name), "w", encoding="utf-8") as f:
                f.write(lines)
            self.life.do(head + ["--lines", name, "--today", iso(self.today)])
            return
        chosen = c.sample(sessions, c.randint(1, len(sessions)))
        what = [c.choice([str(s["number"]), s["id"]]) for s in chosen]
        how = c.random()
        flags = []
        if how < 0.25:
            flags = ["--not-done"]
        elif how < 0.45 and any(s["passage"] for s in chosen):
            chosen = [s for s in chosen if s["passage"]]
            what, flags = [s["id"] for s in chosen], ["--did-not-hold"]
        elif how < 0.65:
            what, flags = what[:1], ["--minutes", str(c.choice([3, 11, 17, 30]))]
        elif how < 0.75 and any(self.has_tempo(s) for s in chosen):
            what = [next(s for s in chosen if self.has_tempo(s))["id"]]
            flags = ["--tempo", str(c.choice([44, 58, 61, 80, 100]))] + c.choice([[], ["--did-not-hold"]])
        self.life.do(head + what + flags + tail)

    def has_tempo(self, session):
        """Whether the passage of a session may have a tempo; its line in the season file says it."""
        name = (session["passage"] or "").rsplit("/", 1)[-1]
        return bool(name) and any("tempo" in line for line in re.findall(rf"bars: {re.escape(name)}\b.*", self.life.text()))

    def part(self):
        parts = sorted({s["part"] for s in self.life.plan()["sessions"] if s.get("part")})
        return self.c.choice(parts) if parts else "tide/slate"

    def pin(self):
        c, sessions = self.c, [s for s in self.life.plan()["sessions"] if s["stage"] != "warm-up"]
        ahead = [s for s in sessions if day(s["date"]) >= self.today]
        pins = re.findall(r"session: ([^,\s]+)", self.life.text())
        if pins and c.random() < 0.4:
            self.life.do(["pin", "season.yaml", c.choice(pins), "--off"])
        elif ahead:
            s = c.choice(ahead)
            near = max(self.first, min(self.last, c.choice([self.today, day(s["date"]) + c.randrange(-3, 4)])))
            self.life.do(["pin", "season.yaml", s["id"]] + ([iso(near)] if c.random() < 0.8 else []))

    def late(self):
        c = self.c
        arrives = iso(max(self.first, self.today + c.randrange(-3, 6)))
        flags = self.planning() + c.choice([[], [], ["--try"], ["--from-today"]])
        if c.random() < 0.4:
            name = self.part().split("/")[0] + f"/new-{c.randrange(4)}"
            what = c.choice([["--estimate", "50 min"],
                             ["--estimate", "1 h 5 min", "--listening", "0", "--read-through", "17 min"],
                             ["--estimate", "35 min", "--recordings", "0", "--instead-of", self.part()],
                             ["--passage", "45-61, hard, exposed", "--passage", "102-110, easy, 8 min"]])
            self.life.do(["late", "season.yaml", "--new", name, "--arrives", arrives] + what + flags)
        else:
            self.life.do(["late", "season.yaml", self.part(), "--arrives", arrives] + flags)

    def edit(self):
        """Something in the season file becomes otherwise."""
        c, text = self.c, self.life.text()
        some = iso(max(self.first, min(self.last, self.today + c.randrange(0, 4))))
        edits = [(r"every day: \d+ min", f"every day: {c.choice([30, 45, 60, 100])} min"),
                 (r"playing: \{(?!.*" + some + r": )", f"playing: {{{some}: {c.choice([0, 20, 30, 50])} min, "),
                 (r"limits:\n(?!(?:.*\n)*?  days_off)", f"limits:\n  days_off: [{some}]\n"),
                 (r"limits:\n(?!(?:.*\n)*?  tours)", f"limits:\n  tours: [{some}]\n"),
                 (r"minutes: \d+ min", f"minutes: {c.choice([5, 11, 19])} min"),
                 (r"estimate: \d+ min", f"estimate: {c.choice([10, 37, 70])} min"),
                 (r"read_through: \d+ min", f"read_through: {c.choice([10, 25])} min"),
                 (r"listening: \d+ min", f"listening: {c.choice([10, 25])} min"),
                 (r"        passages:\n", f"        passages:\n          - {{bars: {c.randrange(200, 220)}-300}}\n"),
                 (r"          - \{bars: 11-18.*\n", ""),
                 (r"other_playing:\n  - .*\n",
                  f"other_playing:\n  - {{title: Lessons, on: [{some}], lasts: 45 min, playing: 60 %}}\n"),
                 (r"programmes:\n",
                  f"other_playing: [{{title: Band, on: [{some}], at: 09:15-10:05, playing: 50 %}}]\nprogrammes:\n"),
                 (r"excused: .*\n", ""), (r"light_days: .*", "light_days: 2"),
                 (r"busy: \[\{file", "busy: [{playing: 20 %, file"),
                 (r"warm_up: \d+ min", f"warm_up: {c.choice([0, 5, 10])} min"),
                 (r"09:00-12:00", "10:00-12:30"), (r", hard: \d", ""), (r"bars: 1-8\b", "bars: 2-9")]
        pattern, new = c.choice(edits)
        found = list(re.finditer(pattern, text))
        if found:
            self.life.do((c.choice(found)[0], new))
