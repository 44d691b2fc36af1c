"""The rules of section 5.1, for sessions planned from F on and for those of a today that stands."""

from .values import at, clock, day, iso


class Placed:
    """A session on its day; want is what it fulfils, None for a warm-up."""

    def __init__(self, fields, want):
        self.fields, self.want = fields, want
        self.id, self.stage, self.minutes = fields["id"], fields["stage"], fields["minutes"]
        self.day, self.playing = day(fields["date"]), fields["stage"] in ("warm-up", "read-through", "passage")
        self.start = clock(fields["start"]) if fields.get("start") else None
        self.end = clock(fields["ends"]) if fields.get("ends") else None
        self.rests = [(clock(r["from"]), clock(r["to"])) for r in fields.get("rests") or []]

    @property
    def work(self):
        return self.stage in ("read-through", "passage")


class Rules:
    """Judges placed sessions against a state of what was done and is wanted."""

    def __init__(self, season, rooms, wanted, hours):
        self.season, self.rooms, self.wanted, self.hours = season, rooms, wanted, hours
        self.breaches = []

    def breach(self, rule, where, text):
        self.breaches.append((rule, f"{where}: {text}"))

    def judge(self, placed, done_by_day):
        """All rules but those of accounting; done_by_day: sessions recorded done on F, by day."""
        self.breaches, self.at = [], {p.want.id: p for p in placed if p.want}
        days = {}
        for p in placed:
            days.setdefault(p.day, []).append(p)
        for d, sessions in sorted(days.items()):
            self.judge_day(d, sessions, done_by_day.get(d, []))
            if self.season.timed:
                self.hours.judge(self, d, sessions, done_by_day.get(d, []))
        for p in placed:
            if p.want:
                self.judge_window(p)
                self.judge_order(p)
        self.judge_round(placed)
        return self.breaches

    def judge_day(self, d, sessions, done):
        season, rooms, where = self.season, self.rooms, iso(d)
        work = [p for p in sessions if p.work]
        visits = [p for p in sessions if p.stage == "passage"]
        heard = [p for p in sessions if p.stage in ("listening", "recordings")]
        quiet = rooms.no_playing(d)
        total = sum(p.minutes for p in work + [p for p in done if p.work])
        if work and not quiet and total > rooms.beside(d):
            self.breach("cap", where, f"{total} min of {rooms.beside(d)}")
        # The warm-up of what was recorded done on F is no breach.
        planned = work or not any(p.work for p in done)
        if quiet and any(p.playing for p in sessions) and planned:
            self.breach("rest-day", where, "playing is planned")
        if rooms.day_off(d) and sessions and (planned or heard):
            self.breach("day-off", where, "something is planned")
        number = len(visits) + sum(p.stage == "passage" for p in done)
        if visits and number > season.passages:
            self.breach("passages-a-day", where, f"{number} visits of {season.passages}")
        total = sum(p.minutes for p in heard + [p for p in done if p.stage in ("listening", "recordings")])
        if heard and total > season.listening:
            self.breach("listening-a-day", where, f"{total} min of {season.listening}")
        if rooms.concert(d) and not season.new_on_concerts and any(p.want.visit == 1 for p in visits):
            self.breach("new-passages", where, "a first visit on the day of a concert")
        self.judge_warm_up(where, sessions, work, done)

    def judge_warm_up(self, where, sessions, work, done):
        warm = [p for p in sessions + done if p.stage == "warm-up"]
        wanted = 1 if self.season.warm_up and (work or any(p.work for p in done)) else 0
        if len(warm) != wanted:
            self.breach("warm-up", where, f"{len(warm)} warm-ups, not {wanted}")
        for w in warm:
            if w.minutes != self.season.warm_up:
                self.breach("warm-up", where, f"{w.minutes} min, not {self.season.warm_up}")
            if w.start is not None and any(p.start < w.end for p in work if p.start is not None):
                self.breach("warm-up", where, "something is played before it")

    def judge_window(self, p):
        first, last = self.days_of(p.want)
        if not first <= p.day <= last:
            self.breach("window", p.id, f"{iso(p.day)} is not in {iso(first)}..{iso(last)}")

    def days_of(self, want):
        if want.stage == "passage":
            return self.wanted.visit_days(want.passage)
        if want.stage == "recordings":
            return self.wanted.recording_days(want.part)
        return self.wanted.window(want.part)

    def stage_day(self, part, stage):
        """The day on which a stage is done or planned, or None; with its session if planned."""
        p = self.at.get(f"{part.key}/{stage}")
        if p:
            return p.day, p
        if stage == "read-through":
            return self.wanted.read_day(part), None
        return self.wanted.stage_day[part.key, stage], None

    def judge_order(self, p):
        want, part = p.want, p.want.part
        for stage, given in part.stages.items():
            if p.stage != "read-through" or not stage.startswith("listening") or not given or want.by_finding:
                continue
            heard, session = self.stage_day(part, stage)
            if heard is None or heard > p.day:
                self.breach("order", p.id, "its listening is neither done nor planned before it")
            elif session and heard == p.day and p.start is not None and session.start is not None and session.end > p.start:
                self.breach("order", p.id, f"begins at {at(p.start)}, before its listening ends")
        if p.stage == "recordings" or want.visit == 1:
            read, _ = self.stage_day(part, "read-through")
            if read is None or read >= p.day:
                self.breach("order", p.id, "its read-through is neither done nor planned before its day")
        if p.stage == "listening":
            self.judge_sitting(p, part)
        if want.visit and want.visit > 1:
            self.judge_gap(p, want)

    def judge_sitting(self, p, part):
        """Of the sittings wanted all are planned, each on the day after the one before, days off aside."""
        ahead = [f"{part.key}/{s}" for s in part.stages if s.startswith("listening") and f"{part.key}/{s}" in self.wanted.items]
        if p.id not in ahead:
            return
        if any(name not in self.at for name in ahead):
            self.breach("order", p.id, "another sitting is wanted and not planned")
            return
        k = ahead.index(p.id)
        d = p.day - 1
        while k and d >= self.season.first and self.rooms.day_off(d):
            d -= 1
        if k and self.at[ahead[k - 1]].day != d:
            self.breach("order", p.id, "the sitting before it does not lie on the day before")

    def judge_gap(self, p, want):
        done = self.wanted.visited[want.passage.key]
        if len(done) >= want.visit - 1:
            last = done[want.visit - 2].day
        else:
            before = self.at.get(f"{want.passage.key}/visit-{want.visit - 1}")
            if before is None:
                self.breach("order", p.id, "the visit before it is neither done nor planned")
                return
            last = before.day
        if p.day - last < max(1, want.least):
            self.breach("gap", p.id, f"{p.day - last} days, not {want.least}")

    def judge_round(self, placed):
        first, third = {}, {}
        for p in placed:
            if p.want and p.want.visit == 1 and p.want.passage.found is None:
                first.setdefault(p.want.part.key, []).append(p)
            if p.want and p.want.visit == 3:
                third.setdefault(p.want.part.key, []).append(p)
        for p in placed:
            if p.want and p.stage == "recordings":
                for q in first.get(p.want.part.key, []):
                    if p.day <= q.day:
                        self.breach("order", p.id, f"{iso(p.day)}, but {q.id} on {iso(q.day)}")
        for part, thirds in third.items():
            for p in thirds:
                for q in first.get(part, []):
                    if p.day <= q.day:
                        self.breach("all-once", p.id, f"{iso(p.day)}, but {q.id} on {iso(q.day)}")
