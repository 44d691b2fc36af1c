"""Tempos of visits on the scale of a metronome (section 9)."""

import math

SCALE = [*range(40, 60, 2), *range(60, 72, 3), *range(72, 120, 4), *range(120, 144, 6), *range(144, 209, 8)]


class Tempo:
    """The way of a passage from where work began to its goal, visit by visit."""

    def __init__(self, now, goal, steps):
        self.goal, self.most = goal, steps
        self.marks = sorted(set(SCALE) | {goal})
        # Work begins at now, or at most at 60 % of the goal.
        self.start = now or max([40] + [m for m in SCALE if 100 * m <= 60 * goal])
        self.reached = self.start

    def above(self):
        """Marks between what was reached and the goal, the goal included."""
        return [m for m in self.marks if self.reached < m <= self.goal]

    def visit(self, k, n):
        """Where visit k of n begins, and what it goes for."""
        ahead = self.above()
        up = min(self.most, math.ceil(len(ahead) / max(1, n - k)))
        to = ahead[up - 1] if up else self.reached
        if k >= n > 1:
            return to, to
        below = [m for m in self.marks if m < self.reached]
        return max(self.start, below[-2] if len(below) > 1 else self.start), to

    def done(self, k, n, said, held):
        """Goes on after a visit; said: the tempo that the record has of it."""
        begun, to = self.visit(k, n)
        self.reached = said or (to if held else begun)
