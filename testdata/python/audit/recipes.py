"""Recipes: lengths dealt in steps, and what an estimate stands for (sections 3.3 and 3.4)."""

from fractions import Fraction

from .season import Passage


def nearest(value):
    """The nearest whole number, halves up."""
    return int((2 * Fraction(value) + 1) // 2)


def hundredth(value):
    return Fraction(nearest(Fraction(value) * 100), 100)


def dealt(exact, step, over=0):
    """Exact lengths as whole steps, in minutes; rounded once, over all of them and what was left over before."""
    exact = [Fraction(e) for e in exact]
    wanted = nearest((sum(exact) + over) / step)
    steps = [max(1, int(e // step)) for e in exact]
    while sum(steps) < wanted:
        below = [e - step * s for e, s in zip(exact, steps)]
        steps[below.index(max(below))] += 1
    return [step * s for s in steps]


def exact(season, passage):
    if passage.visits is not None:
        return [Fraction(v) for v in passage.visits]
    first = season.first_visits[passage.hard - 1] if passage.minutes is None else passage.minutes
    full = season.visits[passage.hard - 1]
    count = max(min(full, 2), full - nearest(Fraction(2 * passage.kept, 100)))
    return [hundredth(Fraction(season.shares[k] * first * (200 - passage.kept), 20000)) for k in range(1, count + 1)]


def lengths(season, passage):
    """The minutes of each visit of a passage, but for those with which it comes back."""
    if passage.unnamed:
        return passage.visits
    return dealt(exact(season, passage), season.step)


def returns(season, passage, count):
    """The visits with which a passage comes back after as many: minutes, least and preferred gap of each (3.7)."""
    part, out = passage.part, []
    if not part.comes_back or passage.upkeep or not count:
        return out
    own = [s.day for s in part.programme.services if not s.works or part.id in s.works]
    last = passage.due if passage.due is not None else max(own)
    span = min(last, season.last + 1) - max(part.arrives, season.first, passage.found or 0) - 1 - part.ready_days
    gaps = [preferred_gap(season, passage, k) for k in range(1, count)] or [season.preferred[1]]
    at, gap = sum(gaps) if count > 1 else 0, gaps[-1]
    while count + len(out) < 20 and span - at >= max(1, gap):
        gap = min(2 * max(1, gap), span - at)
        minutes = dealt([season.upkeep], season.step)[0] if season.upkeep else None
        out.append((minutes, 1 if passage.daily else max(1, gap // 2), gap))
        at += gap
    return out


def unnamed(season, part, named, worked):
    """The passages that stand for an estimate; worked: numbers of those that were worked at."""
    if not part.estimate:
        return []
    step = season.step
    ordinary = exact(season, Passage(part, "ordinary", kept=part.kept))
    whole = sum(dealt(ordinary, step))
    wanted = max(1, nearest(Fraction(part.estimate * (200 - part.kept), 200)))
    left = max(0, wanted - sum(sum(lengths(season, p)) for p in named))
    n = max((left + whole // 2) // whole, len(worked), 0 if named else 1)
    if not n:
        return []
    numbers, k = set(worked), 1
    while len(numbers) < n:
        numbers.add(k)
        k += 1
    out = []
    for number, total in zip(sorted(numbers), dealt([Fraction(left, n)] * n, step)):
        count = min(len(ordinary), total // step)
        parts = [hundredth(total * e / sum(ordinary[:count])) for e in ordinary[:count]]
        out.append(Passage(part, f"unnamed-{number}", unnamed=True, visits=dealt(parts, step)))
    return out


def least_gap(season, passage, k):
    """Least days between the k-th visit counted from the start (or from a failure) and the next."""
    gap = season.least[k]
    return min(gap, 1) if passage.daily else gap


def preferred_gap(season, passage, k):
    return max(least_gap(season, passage, k), season.preferred[k])
