"""Hours of a day: free spans, runs of playing, and what blocks hold (section 5.2)."""

import datetime
import zoneinfo

from .values import at, clock, iso


def less(spans, taken):
    """Spans less others; both lists of (start, end)."""
    for a, b in taken:
        spans = [(x, y) for s, e in spans for x, y in ((s, min(e, a)), (max(s, b), e)) if x < y]
    return spans


def joined(spans):
    out = []
    for a, b in sorted(spans):
        if out and a <= out[-1][1]:
            out[-1] = out[-1][0], max(b, out[-1][1])
        else:
            out.append((a, b))
    return out


def inside(a, b, spans):
    return any(s <= a and b <= e for s, e in spans)


class Hours:
    def __init__(self, season, rooms):
        self.season, self.rooms = season, rooms

    def skipped(self, d):
        """Minutes of the day that its clock skips."""
        zone, out = zoneinfo.ZoneInfo(self.season.zone), []
        midnight = datetime.datetime.combine(datetime.date.fromordinal(d), datetime.time())
        for m in range(0, 1440, 5):
            wall = midnight + datetime.timedelta(minutes=m)
            back = wall.replace(tzinfo=zone).astimezone(datetime.timezone.utc).astimezone(zone).replace(tzinfo=None)
            if back != wall:
                out.append((m, m + 5))
        return out

    def pauses(self, d):
        """When playing may go on after each long pause of a day."""
        s, out, end = self.season, [], None
        if not s.timed:
            return out
        services = [v for v in self.rooms.by_day.get(d, []) if v.playing]
        for a, b in less(self.all_free(d), s.quiet[d]):
            if end is not None and a - max([end] + [v.start + v.lasts for v in services if v.start < a]) >= s.long_pause:
                out.append(a)
            end = b
        return out

    def free(self, d):
        s, spans = self.season, self.all_free(d)
        if s.warm_again:
            spans = less(spans, [(a, a + s.warm_again + s.block_rest) for a in self.pauses(d)])
        return spans

    def warmed_again(self, d, sessions):
        """Minutes of warming up again that a day's sessions ask for."""
        s, out = self.season, 0
        starts = [v for v in self.pauses(d)] if s.warm_again else []
        played = [clock(v["start"]) for v in sessions if v["playing"] and v.get("start")]
        for a, b in zip(starts, starts[1:] + [1441]):
            out += s.warm_again * (any(m < a for m in played) and any(a <= m < b for m in played))
        return out

    def all_free(self, d):
        s = self.season
        spans = less(joined(s.hours[d]), [(s.latest[d], 1441)] + s.taken.get(d, []) + self.skipped(d))
        for day in (d - 1, d, d + 1):
            for service in self.rooms.by_day.get(day, []):
                gap, start = max(service.travel, s.gap), service.start + 1440 * (day - d)
                spans = less(spans, [(start - max(gap, s.warm_again), start + service.lasts + gap)])
        return spans

    def playable(self, d):
        return less(self.free(d), self.season.quiet[d])

    def held(self, d):
        """The most minutes that the blocks of a day hold."""
        s = self.season
        lengths = self.blocks(self.playable(d)) or self.blocks(self.free(d))
        stages = [m for part in s.parts for m in part.stages.values()]
        whole = all(m % s.step == 0 for m in stages + [s.warm_up])
        w = s.step if whole else 2 * s.step - 1
        return sum(lengths) - sum(min(w, m) for m in lengths[:-1])

    def blocks(self, spans):
        s, out, ready = self.season, [], 0
        for a, b in spans:
            start = max(a, ready)
            while start < b:
                length = min(s.block, b - start) // s.step * s.step
                if length < s.step:
                    break
                out.append(length)
                ready = start + length + s.block_rest
                start = ready
        return out

    def judge(self, rules, d, sessions, done):
        where, season = iso(d), self.season
        free, playable, pieces = self.free(d), self.playable(d), []
        for p in sessions:
            if p.start is None or p.end is None:
                rules.breach("hours", p.id, "has no hours")
                return
            pieces += [(a, b, p) for a, b in self.pieces(rules, p)]
        for a, b, p in pieces:
            if not inside(a, b, playable if p.playing else free):
                rules.breach("hours", p.id, f"{where} {at(a)}-{at(b)} is not free")
        self.judge_overlaps(rules, where, sessions + [p for p in done if p.start is not None])
        pieces += [(a, b, p) for p in done if p.start is not None for a, b in self.pieces(None, p)]
        self.judge_runs(rules, where, sorted(((a, b) for a, b, p in pieces if p.playing)), sessions)
        total = sum(p.minutes for p in sessions + done)
        if sessions and total > self.held(d):
            rules.breach("hours", where, f"{total} min in blocks that hold {self.held(d)}")

    def pieces(self, rules, p):
        out, start = [], p.start
        for a, b in p.rests + [(p.end, None)]:
            out.append((start, a))
            start = b
            if rules and (a <= out[-1][0] or b is not None and b <= a):
                rules.breach("hours", p.id, "its rests are not in order")
        if rules and sum(b - a for a, b in out) != p.minutes:
            rules.breach("hours", p.id, f"pieces of {sum(b - a for a, b in out)} min, not {p.minutes}")
        return out

    def judge_overlaps(self, rules, where, sessions):
        order = sorted(sessions, key=lambda p: (p.start, p.end))
        for p, q in zip(order, order[1:]):
            if q.start < p.end:
                rules.breach("hours", where, f"{p.id} and {q.id} overlap")

    def judge_runs(self, rules, where, pieces, sessions):
        if not self.season.block_rest or not any(p.playing for p in sessions):
            return
        run = None
        for a, b in pieces:
            if run is None or a - run[1] >= self.season.block_rest:
                run = [a, b]
            run[1] = max(b, run[1])
            if run[1] - run[0] > self.season.block:
                rules.breach("hours", where, f"playing from {at(run[0])} to {at(run[1])} without a rest")
