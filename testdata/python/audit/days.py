"""A day's room (section 4)."""


class Rooms:
    """Caps and rooms of the days of a season with its record."""

    def __init__(self, season, record):
        self.season, self.record = season, record
        self.by_day = {}
        for s in season.services:
            self.by_day.setdefault(s.day, []).append(s)

    def services(self, d):
        """Minutes played in the services of a day."""
        return sum(s.playing for s in self.by_day.get(d, []))

    def concert(self, d):
        return any(s.kind == "concert" for s in self.by_day.get(d, []))

    def day_off(self, d):
        return d in self.season.days_off or d in self.record.lost or d in self.record.pain

    def no_playing(self, d):
        rest = d in self.season.rest_days and d not in self.season.played
        return self.day_off(d) or d in self.season.tours or rest

    def base(self, d):
        base, r = self.season.playing[d], self.record
        if d - 1 in r.pain and d not in r.pain and d not in r.lost:
            return base * self.season.light // 100
        return base

    def off(self, d):
        """Whether a day counts as off for what comes back after time off."""
        if not self.season.first <= d <= self.season.last:
            return False
        return d in self.record.lost or self.day_off(d) and d not in self.by_day

    def back(self, d):
        s = self.season
        if not s.back_after or self.off(d):
            return None
        run, last = 0, None
        for e in range(d - 1, s.first - 2, -1):
            if self.off(e):
                last, run = (e, 1) if not run else (last, run + 1)
                continue
            if run >= s.back_after:
                break
            run = 0
            if d - e >= 57 + s.back_after + 400:
                break
        if run < s.back_after or d - last >= 57:
            return None
        n = d - last - 1
        risen = 0 if n == 0 else 3 * ((n - 1) // 7) + min(3, 1 + (n - 1) % 7)
        return self.base(d) * s.back_first // 100 + s.back_rise * risen

    def cap(self, d):
        cap = self.base(d)
        if self.concert(d + 1) and not self.concert(d):
            cap = cap * self.season.before_concert // 100
        back = self.back(d)
        return cap if back is None else min(cap, back)

    def beside(self, d):
        beside = max(0, self.cap(d) - self.services(d) - self.season.warm_up)
        if len(self.by_day.get(d, [])) >= 2:
            beside = min(beside, self.season.two_services)
        return beside
