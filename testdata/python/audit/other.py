"""Other playing: what is played beside the services of programmes (section 2.2)."""

from .values import Days, listed, minutes, number, span


class Other:
    """Minutes played by day, and the time that they take of the hours, added to what is taken."""

    def __init__(self, season, nodes, taken):
        self.season, self.minutes = season, {}
        for node in listed(nodes):
            on, share = Days(node["on"], weekdays=True), number(node["playing"])
            at = span(node["at"]) if "at" in node else None
            lasts = at[1] - at[0] if at else minutes(node["lasts"])
            for d in range(season.first, season.last + 1):
                if d in on:
                    self.play(d, lasts, share)
                    if at:
                        taken.setdefault(d, []).append(at)

    def play(self, d, lasts, share):
        self.minutes[d] = self.minutes.get(d, 0) + (lasts * share + 50) // 100

    def on(self, d, record):
        """Minutes of a day; none where its services were missed."""
        return 0 if d in record.missed else self.minutes.get(d, 0)
