"""Records spells by chance: pain, lost days, what is open, and that it is better."""

from .values import iso


class Illness:
    """Chooses what is recorded of days on which nothing can be played."""

    def __init__(self, chance):
        self.c, self.open = chance, False

    def step(self, today):
        """The arguments of `record` for a spell told on a day."""
        c, tail = self.c, ["--today", iso(today)]
        if self.open and c.random() < 0.6:
            self.open = c.random() < 0.2
            return ["--better"] + tail + self.on(today + c.choice([-2, -1, -1, 1, 3]), 0.3)
        out = [c.choice(["--pain", "--day-lost"])]
        out += c.choice([[], [], [], ["--services-played"], ["--services-missed"]])
        first = today + c.choice([0] * 6 + [-3, -1, 2])
        long = c.random()
        if long < 0.3:
            out += ["--until", iso(first + c.choice([1, 1, 2, 3, 6]))]
        elif long < 0.45:
            out, self.open = out + ["--open"], True
        elif long < 0.5:
            return out + tail + ["--on", f"{iso(first - 1)}..{iso(first)}"]
        return out + tail + (self.on(first, 1) if first != today else [])

    def on(self, d, share):
        return ["--on", iso(d)] if self.c.random() < share else []

    def services(self, today):
        """What becomes of the services of days already recorded, said by a second entry."""
        c = self.c
        return [c.choice(["--pain", "--day-lost"]), c.choice(["--services-played", "--services-missed"]),
                "--today", iso(today), "--on", iso(today - c.randrange(3))]
