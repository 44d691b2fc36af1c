"""The dates that parts and passages are prepared for (section 3.2), and gaps that get short (3.3)."""

from .days import Rooms

REHEARSED = ("rehearsal", "lesson")


class Due:
    """Which date is whose, on the first day that is planned."""

    def __init__(self, season, record, first):
        self.season, self.record, self.first = season, record, first
        self.rooms = Rooms(season, record, first, {})

    def played(self, first, last):
        """The first day of first..last on which there may be playing, or None."""
        s, r = self.season, self.record
        for d in range(first, min(last, s.last) + 1):
            off = d in s.days_off or d in r.lost or d in r.pain or d in s.tours
            if not off and (d not in s.rest_days or d in s.played):
                return d
        return None

    def held(self, service):
        return service.day not in self.record.missed and not service.excused

    def new_on(self, d):
        concerts = [s for s in self.season.services if s.day == d and self.held(s) and s.kind not in REHEARSED]
        return self.season.new_on_concerts or not concerts

    def concert(self, part, d):
        """Whether the first service of a part's date is a concert."""
        own = [s for s in part.programme.services if s.day == d and (not s.works or part.id in s.works)]
        own = [s for s in own if self.held(s)] or own
        return min(own, key=lambda s: s.start).kind not in REHEARSED

    def upkeeps(self, part):
        """The concerts before which is kept up."""
        s, dates, target = self.season, self.dates(part), self.read_for(part)
        return [b for a, b in zip(dates, dates[1:])
                if s.upkeep and a >= target and b - a >= s.upkeep_after and self.concert(part, b)]

    def dates(self, part):
        own = [s for s in part.programme.services if not s.works or part.id in s.works]
        own = [s for s in own if self.held(s)] or own
        first = min((s.day for s in own if s.kind in REHEARSED), default=0)
        return sorted({s.day for s in own if s.day >= first})

    def begins(self, part):
        return max(part.arrives, self.season.first)

    def read_for(self, part):
        """D."""
        dates, a = self.dates(part), self.begins(part)
        after = [d for d in dates if d > a]
        for fits in (lambda d: self.leaves(d) >= part.stages["read-through"], lambda d: True):
            for date in after:
                if any(self.played(d, d) and fits(d) for d in range(a, date)):
                    return date
        return (after or dates[-1:])[0]

    def leaves(self, d):
        """What a day leaves by the season's own limits alone."""
        s, r = self.season, self.rooms
        base = s.playing[d]
        if r.concert(d + 1) and not r.concert(d):
            base = base * s.before_concert // 100
        left = base - r.services(d) - s.warm_up
        return min(left, s.two_services) if len(r.by_day.get(d, [])) >= 2 else left

    def earliest(self, p):
        """e of the first turn."""
        a, target = self.begins(p.part), self.read_for(p.part)
        last = min(target - 1, self.season.last)
        return max(p.found or 0, self.played(a, last) or last) + 1

    def settle(self, p, read, done, gaps):
        """First date, deadline, whether anything is wanted, the gaps; gaps: least days before each
        visit, done or wanted."""
        target, s, end = self.read_for(p.part), self.season, self.season.last + 1
        later = [d for d in self.dates(p.part) if d >= target]
        if p.part.comes_back:
            later = self.dates(p.part)[-1:]
        dates, turn, e = [p.due] if p.due is not None else later, 0, self.earliest(p)
        short = [min(g, 1) for g in gaps] if s.short_gaps else gaps
        while True:
            counts = [self.fitting(e, short, turn, d) for d in dates]
            if not any(counts):
                first = (dates or [target])[0]
                return min(first, end), min(first, end), target > self.first, gaps
            first = next(d for d, n in zip(dates, counts) if n)
            deadline = dates[counts.index(max(counts))]
            if deadline > self.first:
                return min(first, end), min(deadline, end), True, self.shortened(p.part.ready_days, gaps, done, turn, e, min(deadline, end))
            turn = sum(v.day < deadline for v in done)
            if turn:
                e = max(deadline, done[turn - 1].day + (short[turn] if turn < len(short) else 0))
            else:
                e = max(deadline, (read or 0) + 1)
            dates = [d for d in later if d > deadline]

    def fitting(self, e, gaps, turn, before):
        """How many visits from one on (counted from 0) lie before a date."""
        count, at = 0, e
        for k in range(turn, len(gaps)):
            at = self.played(at, before - 1)
            while at is not None and k == 0 and not self.new_on(at):
                at = self.played(at + 1, before - 1)
            if at is None:
                break
            count += 1
            at += gaps[k + 1] if k + 1 < len(gaps) else 0
        return count

    def shortened(self, ready_days, gaps, done, turn, e, deadline):
        """The gaps where the time is short."""
        if not self.season.short_gaps:
            return gaps
        gaps = list(gaps)
        free = range(max(1, turn), len(gaps))
        left = deadline - ready_days - (done[turn - 1].day if turn else e)
        while free and sum(gaps[k] for k in free) > left and max(gaps[k] for k in free) > 1:
            longest = max(gaps[k] for k in free)
            gaps[max(k for k in free if gaps[k] == longest)] -= 1
        return gaps
