"""What is wanted, and when it may lie (sections 3.2, 7.3 and 9)."""

from fractions import Fraction

from . import recipes
from .due import Due
from .record import name_of
from .season import Passage, slug
from .values import day, iso


def kind(stage):
    """A stage of which this may be a sitting."""
    return "listening" if stage.startswith("listening") else stage


class Want:
    """A session that is wanted."""

    def __init__(self, identity, stage, part, minutes, **fields):
        self.id, self.name, self.stage, self.part, self.minutes = identity, name_of(identity), stage, part, minutes
        self.passage = self.visit = self.visits = None
        self.worth = minutes  # coverage values these minutes
        self.most = None  # and a visit that gives way so many points at most
        self.by_finding = False  # a read-through that finding says was done
        self.playing = stage in ("read-through", "passage")
        self.__dict__.update(fields)


class Wanted:
    """Sessions wanted after what was done, from F on; with the days of parts and passages."""

    def __init__(self, season, record, history, first, learn=False):
        self.season, self.record, self.history, self.first = season, record, history, first
        self.passages, self.stage_day, self.found_day, self.visited = {}, {}, {}, {}
        self.items, self.lengths, self.settled = {}, {}, {}
        self.due = Due(season, record, first)
        for part in season.parts:
            for stage in part.stages:
                days = history.of(f"{part.key}/{stage}")
                self.stage_day[part.key, stage] = days[0].day if days else None
            self.take_found(part)
            for p in self.with_upkeep(part, self.of_part(part)):
                self.passages[p.key], self.lengths[p.key] = p, self.with_returns(p, recipes.lengths(season, p))
                self.visited[p.key] = history.of(p.key)
        self.ratios = self.learned() if learn else {}
        self.over = self.left_over()
        for p in self.passages.values():
            self.want_visits(p)
        for part in season.parts:
            self.want_stages(part)

    def take_found(self, part):
        """The day of a read-through by finding: nothing said and nothing silent speaks against it."""
        name = f"{part.key}/read-through"
        spoken = any(n == name for n, _ in self.record.said) or any(n == name for n, _ in self.history.silent_done)
        days = [l.day for l in self.record.found if l.get("part") == part.key and not l.get("heard")]
        self.found_day[part.key] = min(days) if days and not spoken else None

    def with_returns(self, p, lengths):
        """The lengths of all visits; the gaps of those with which the passage comes back are kept with it."""
        more = recipes.returns(self.season, p, len(lengths))
        p.returns = {len(lengths) + k: (least, preferred) for k, (_, least, preferred) in enumerate(more)}
        return list(lengths) + [lengths[-1] if m is None else m for m, _, _ in more]

    def with_upkeep(self, part, passages):
        out = list(passages)
        for d in self.due.upkeeps(part):
            for p in passages:
                if (p.hard == 3 or p.exposed) and not p.unnamed and (p.found or 0) < d and p.key not in self.record.not_needed:
                    out.append(Passage(part, f"upkeep-{iso(d)}-{p.id}", hard=p.hard, exposed=p.exposed, upkeep=True, due=d,
                                       visits=[self.season.upkeep], found=d - self.season.upkeep_after + 1))
        return out

    def of_part(self, part):
        named = list(part.passages)
        for l in self.record.found:
            name = slug(l.get("bars", ""))
            if l.get("part") == part.key and all(p.id != name for p in named):
                named.append(Passage(part, name, hard=l.get("hard") or 2, exposed=bool(l.get("exposed")),
                                     minutes=l.get("minutes") or None, found=l.day,
                                     tempo=(None, l.get("tempo")) if l.get("tempo") else None,
                                     due=day(l.get("due")) if l.get("due") else None))
        worked = {int(d.name.rsplit("-", 1)[1]) for d in self.history.done if d.name.startswith(part.key + "/unnamed-")}
        return named + recipes.unnamed(self.season, part, named, worked)

    def read_day(self, part):
        """The day of a read-through that is done, or None."""
        done = self.stage_day[part.key, "read-through"]
        done = self.found_day[part.key] if done is None else done
        read_for = self.due.read_for(part)
        return read_for if done is None and read_for <= self.first else done

    def window(self, part):
        s = self.season
        return max(part.arrives, s.first), min(self.due.read_for(part) - 1, s.last)

    def recording_days(self, part):
        first, last = self.window(part)
        later = [self.deadline(p) - 1 for p in self.passages.values() if p.part is part and p.found is None]
        return max(first, last - self.season.last_days + 1), max([last, *later])

    def first_date(self, p):
        return self.settled[p.key][0]

    def deadline(self, p):
        return self.settled[p.key][1]

    def visit_days(self, p):
        return max(self.window(p.part)[0], p.found or 0), self.deadline(p) - 1

    def learned(self):
        """Ratios by kind of session, from what was recorded (section 9)."""
        sums = dict(self.season.learnt)
        for (name, d), line in self.record.said.items():
            if line.kind == "not-done":
                continue
            kind, given = self.kind_of(name, d)
            if kind is None:
                continue
            taken = next(e.minutes for e in self.history.done if e.name == name and e.day == d and e.said)
            count, planned, took = sums.get(kind, (0, 0, 0))
            sums[kind] = count + 1, planned + given, took + (given if taken is None else taken)
        return {kind: min(Fraction(2), max(Fraction(1, 2), Fraction(60 + took, 60 + planned)))
                for kind, (count, planned, took) in sums.items() if count >= 5}

    def left_over(self):
        """What whole steps have left over, in minutes, before each passage (section 9)."""
        out, sums = {}, {}
        for p in self.passages.values():
            if p.upkeep or p.hard not in self.ratios:
                continue
            over = sums.get((p.part.key, p.hard), Fraction(0))
            out[p.key] = over
            over += sum(recipes.hundredth(self.ratios[p.hard] * m) for m in self.lengths[p.key])
            sums[p.part.key, p.hard] = over - self.season.step * recipes.nearest(over / self.season.step)
        return out

    def kind_of(self, name, d):
        """Kind and minutes by the season file of a session done."""
        if name in self.passages:
            days = self.places(self.passages[name])
            return self.passages[name].hard, self.lengths[name][days[0][d] - 1]
        for part in self.season.parts:
            for stage in part.stages:
                if name == f"{part.key}/{stage}":
                    return kind(stage), part.stages[stage]
        return None, None

    def want_stages(self, part):
        for stage in part.stages:
            name, given = f"{part.key}/{stage}", part.stages[stage]
            done = self.read_day(part) if stage == "read-through" else self.stage_day[part.key, stage]
            over = self.due.read_for(part) <= self.first
            if stage == "recordings":
                over = self.recording_days(part)[1] < self.first
            if not given or done is not None or over:
                continue
            ratio = self.ratios.get(kind(stage), 1)
            minutes = recipes.nearest(ratio * given)
            if minutes != given:
                step = self.season.step
                minutes = step * max(1, recipes.nearest(Fraction(ratio * given) / step))
                if stage != "read-through":
                    minutes = min(minutes, self.season.listening)
            self.items[name] = Want(name, kind(stage), part, minutes, points=self.season.stage_values[kind(stage)])

    def places(self, p):
        """Place in the recipe by day of each visit done, the place of the next, and the
        number of visits since the start or since a failure."""
        most, place, count, by_day = len(self.lengths[p.key]), 1, 0, {}
        for done in self.visited[p.key]:
            k = min(place, most)
            by_day[done.day] = k
            place, count = k + 1 if place <= most else place, count + 1
            if not done.held:
                place, count = (k if k == 1 else max(2, k - 1)), 1
        return by_day, place, count

    def want_visits(self, p):
        s, lengths = self.season, self.lengths[p.key]
        _, place, count = self.places(p)
        ahead = [] if p.key in self.record.not_needed else list(range(place, len(lengths) + 1))
        visited = self.visited[p.key]
        anew = any(not done.held for done in visited)  # gaps begin anew after a failure

        def gap(k, of, n):
            return p.returns[k][n] if k in p.returns and not (anew and k >= len(visited)) else of(s, p, k)

        gaps = [gap(k, recipes.least_gap, 0) if k else 0 for k in range(len(visited))]
        gaps += [recipes.least_gap(s, p, count + j) if anew else gap(count + j, recipes.least_gap, 0) if count + j else 0
                 for j in range(len(ahead))]
        if p.upkeep:
            d = min(p.due, s.last + 1)
            self.settled[p.key], wanted = [d, d], p.due > self.first
        else:
            *self.settled[p.key], wanted, gaps = self.due.settle(p, self.read_day(p.part), visited, gaps)
        if not wanted or not ahead:
            return
        minutes = [lengths[a - 1] for a in ahead]
        ratio = self.ratios.get(p.hard, 1)
        whole = lengths if ratio == 1 else recipes.dealt([recipes.hundredth(ratio * m) for m in lengths], s.step, self.over.get(p.key, 0))
        scaled = [whole[a - 1] for a in ahead]
        done = len(self.visited[p.key])
        for j, a in enumerate(ahead):
            k = done + j + 1
            identity = f"{p.key}/visit-{k}"
            points = (s.visit_values.values[-1] if p.upkeep else s.visit_values[a]) * (p.hard + (s.exposed_weight if p.exposed else 0))
            since = count + j
            self.items[identity] = Want(
                identity, "passage", p.part, scaled[j], worth=minutes[j], passage=p, visit=k,
                visits=done + len(ahead), points=points,
                least=gaps[done + j],
                preferred=(recipes.preferred_gap(s, p, since) if anew else gap(since, recipes.preferred_gap, 1)) if since else 0)

    def next_of(self, name):
        """The next session of a name that is wanted, or None."""
        if name in self.items:
            return self.items[name]
        return self.items.get(f"{name}/visit-{len(self.visited.get(name, ())) + 1}")
