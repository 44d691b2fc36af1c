"""A day's room: caps, spells of time off, light days and the way back (section 4)."""

from .hours import Hours


class Spell:
    """A run of days off, lost or of pain: first and last day, what was usual before it."""

    def __init__(self, first, last, rooms):
        self.first, self.last, record = first, last, rooms.record
        days = range(first, last + 1)
        self.pain = any(d in record.pain for d in days)
        self.lost = any(d in record.lost for d in days)
        start = max(rooms.season.first, first - 28)
        sums = [m for m in map(rooms.playing, range(start, min(first, rooms.planned))) if m]
        if len(sums) < 5:
            after = [d for d in range(last + 1, min(last + 28, rooms.season.last) + 1) if d in record.stood]
            sums += [m for m in (rooms.playing(d, record.stood[d]) for d in after) if m]
        self.known = len(sums) >= 5
        self.usual = sum(sums) // len(sums) if self.known else rooms.season.playing[first]
        self.fullest = max(sums) if self.known else self.usual
        self.ceilings = None

    @property
    def length(self):
        return self.last - self.first + 1


class Rooms:
    """Caps and rooms of the days of a season with its record; played: minutes really played by
    day; planned: the first day that is planned."""

    def __init__(self, season, record, planned, played):
        self.season, self.record, self.planned, self.played = season, record, planned, played
        self.by_day = {}
        for s in season.services:
            if s.day not in record.missed and not s.excused:
                self.by_day.setdefault(s.day, []).append(s)
        self.spells, first = [], None
        for d in range(season.first, season.last + 2):
            inside = d <= season.last and (self.off(d) or d in record.lost or d in record.pain)
            if inside and first is None:
                first = d
            elif not inside and first is not None:
                self.spells.append(Spell(first, d - 1, self))
                first = None

    def playing(self, d, minutes=None):
        minutes = self.played.get(d, 0) if minutes is None else minutes
        return self.services(d) + (minutes + self.season.warm_up if minutes else 0)

    def services(self, d):
        """Minutes played in the services of a day, with the warming up before them, and other playing."""
        again, end, s = 0, None, self.season
        for service in sorted(self.by_day.get(d, []), key=lambda v: v.start):
            if service.playing and s.warm_again:
                again += s.warm_again * (end is None or service.start - end >= s.long_pause)
                end = max(end or 0, service.start + service.lasts)
        exact = sum(s.playing for s in self.by_day.get(d, []))
        return again + (exact + 50) // 100 + self.season.other.on(d, self.record)

    def concert(self, d):
        return any(s.kind not in ("rehearsal", "lesson") for s in self.by_day.get(d, []))

    def day_off(self, d):
        return d in self.season.days_off or d in self.record.lost or d in self.record.pain

    def no_playing(self, d):
        rest = d in self.season.rest_days and d not in self.season.played
        return self.day_off(d) or d in self.season.tours or rest

    def off(self, d):
        """Whether a day counts as off for what comes back after time off."""
        return self.season.first <= d <= self.season.last and self.day_off(d) and d not in self.by_day

    def begins(self, spell):
        """First day and level of the way back after a spell, or None."""
        s = self.season
        if spell.pain:
            return spell.last + 1 + s.light_days, s.warm_up + max(0, spell.usual - s.warm_up) * s.light // 100
        ill = spell.lost and spell.length >= (s.back_ill or s.back_after)
        rested = spell.known and spell.first <= self.planned and spell.length >= s.back_after
        if s.back_after and (ill or rested):
            return spell.last + 1, spell.usual * s.back_first // 100
        return None

    def risen(self, level, n):
        return level + self.season.back_rise * (0 if n == 0 else 3 * ((n - 1) // 7) + min(3, 1 + (n - 1) % 7))

    def backs(self, d, spells):
        """The caps that ways back after these spells give a day."""
        out = []
        for spell in spells if not self.off(d) else []:
            begun = self.begins(spell)
            if begun and 0 <= d - begun[0] < 56:
                back = self.risen(begun[1], d - begun[0])
                if back < spell.fullest:
                    out.append(back)
                ceiling = self.ceilings(spell, *begun).get((d - begun[0]) // 7)
                if ceiling is not None:
                    out.append(ceiling)
        s, last = self.season, None if self.off(d) else self.long_off(d)
        if last is not None and all(p.last != last or self.begins(p) is None for p in spells):
            out.append(self.risen(s.playing[d] * s.back_first // 100, d - last - 1))
        return out

    def long_off(self, d):
        """The last day of the latest run of days off, long enough, in the eight weeks before a day."""
        s, last, run = self.season, None, 0
        for day in range(max(s.first, d - 56 - s.back_after), d):
            run = run + 1 if self.off(day) else 0
            if run >= s.back_after > 0 and d - day < 57:
                last = day
        return last

    def ceilings(self, spell, first, level):
        """The ceilings of the weeks of the way back that have one, by their number."""
        if spell.ceilings is None:
            s, spell.ceilings, before = self.season, {}, 0
            steps = [self.risen(level, n) for n in range(56)]
            least = sum(min(step, spell.fullest) for step in steps[:7])
            for k in range(8):
                days = [d for d in range(first + 7 * k, first + 7 * k + 7) if s.first <= d <= s.last]
                played = sum(self.playing(d) for d in days if d < self.planned)
                ahead = []
                for d in days:
                    if d >= self.planned:
                        step = steps[d - first]
                        most = min([s.playing[d]] + [step] * (step < spell.fullest))
                        ahead.append((self.services(d), 0 if self.no_playing(d) else most))
                allowed = max(least, (100 + s.rise) * before // 100 + s.rise_floor)

                def total(c):
                    return played + sum(max(services, min(most, c)) for services, most in ahead)

                c = max([most for _, most in ahead], default=0)
                if k and total(c) > allowed:
                    while c > 0 and total(c) > allowed:
                        c -= 1
                    spell.ceilings[k] = c
                before = total(c)
        return spell.ceilings

    def plain(self, d, spells):
        """The cap but for light days, with the ways back after these spells."""
        cap = self.season.playing[d]
        if self.concert(d + 1) and not self.concert(d):
            cap = cap * self.season.before_concert // 100
        return min([cap] + self.backs(d, spells))

    def cap(self, d):
        s, cap = self.season, self.plain(d, self.spells)
        for k, spell in enumerate(self.spells):
            if spell.pain and spell.last < d <= spell.last + s.light_days:
                beside = self.room(d, self.plain(d, self.spells[: k + 1]))
                usual = max(0, spell.usual - self.services(d) - s.warm_up)
                light = min(beside, usual, self.record.stood.get(d, beside)) * s.light // 100
                cap = min(cap, self.services(d) + light + (s.warm_up if light else 0))
        return cap

    def room(self, d, cap):
        kept = self.season.warm_again * len(Hours(self.season, self).pauses(d)) if self.season.warm_again else 0
        beside = max(0, cap - self.services(d) - self.season.warm_up - kept)
        if len(self.by_day.get(d, [])) >= 2:
            beside = min(beside, self.season.two_services)
        return beside

    def beside(self, d):
        return self.room(d, self.cap(d))
