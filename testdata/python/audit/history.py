"""What happened: who was done when, by the record and by silence (section 7.3)."""

from .record import name_of
from .values import day


class Done:
    """A session that was done: name, day, minutes really taken (None: as the season file has it)."""

    def __init__(self, name, ordinal, minutes, held=True, said=True):
        self.name, self.day, self.minutes, self.held, self.said = name, ordinal, minutes, held, said


class History:
    """What was done before today and, as far as the record says it, today."""

    def __init__(self, record, before, today, unrecorded):
        self.record, self.before, self.today = record, before, today
        self.old = {}  # sessions of the plan before by name and day
        for s in (before or {}).get("sessions", []):
            if s["stage"] != "warm-up":
                self.old[name_of(s["id"]), day(s["date"])] = s
        self.done, self.silent_done, self.kept = [], set(), []
        for (name, d), line in record.said.items():
            if line.kind != "not-done":
                minutes = line.get("minutes") or line.get("planned") or None
                if minutes is None and (name, d) in self.old:
                    minutes = self.old[name, d]["minutes"]
                self.done.append(Done(name, d, minutes, line.kind == "done"))
        for (name, d), s in self.old.items():
            if d < today and (name, d) not in record.said and unrecorded == "done" and self.as_planned(s, d):
                self.done.append(Done(name, d, s["minutes"], said=False))
                self.silent_done.add((name, d))

    def as_planned(self, s, d):
        """Whether silence can take a session as done (7.3, 2)."""
        r = self.record
        if d in r.lost or d in r.pain or r.speaks_later(s["id"], d):
            return False
        return all((name_of(s["id"]), e) in self.old for e in r.done_days(s["id"]))

    def todays(self):
        """Sessions of the plan before, today, of which the record says nothing."""
        return [s for (name, d), s in self.old.items() if d == self.today and (name, d) not in self.record.said]

    def keep(self, sessions):
        """Takes sessions of a today that stands as done (7.4)."""
        self.kept = sessions
        self.done += [Done(name_of(s["id"]), self.today, s["minutes"], said=False) for s in sessions]

    def of(self, name):
        return sorted((d for d in self.done if d.name == name), key=lambda d: d.day)

    def not_done_today(self):
        return {n for (n, d), l in self.record.said.items() if d == self.today and l.kind == "not-done"}
