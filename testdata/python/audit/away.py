"""Entries made away from the record, as they come in later (section 7.5): written by chance."""

import json
import re

from .values import iso


class Away:
    """Appends entries of one line with an id, some twice, some by those who did not know of others."""

    def __init__(self, chance, life):
        self.c, self.life, self.made = chance, life, []

    def last(self):
        """The highest number of an entry, of lines left by a power cut too."""
        with open(self.life.record, encoding="utf-8") as f:
            return max([int(n) for n in re.findall(r'^{"entry":(\d+)', f.read(), re.M)], default=0)

    def come_in(self, today, sessions):
        """The lines that come in; sessions: those of the plan on some day."""
        c, number, out = self.c, self.last(), []
        for s in c.sample(sessions, min(len(sessions), c.randint(1, 3))):
            kinds = ["done", "done", "not-done"] + (["did-not-hold"] if s["passage"] else [])
            for _ in range(c.choice([1, 1, 2])):  # from one place, or from two
                number += 1
                name = f"away{c.choice('abcdef')}-{c.randrange(10**6):06d}"
                line = {"entry": number, "at": "2027-03-01T08:00:00Z", "id": name, "kind": c.choice(kinds),
                        "date": s["date"], "session": s["id"], "planned": s["minutes"]}
                if line["kind"] != "not-done" and c.random() < 0.4:
                    line["minutes"] = c.choice([4, 9, 26])
                if c.random() < 0.6:
                    line["unseen"] = c.randint(1, number)
                out.append(line)
        if c.random() < 0.15 and sessions:
            number += 1
            out.append({"entry": number, "at": "2027-03-01T08:00:00Z", "id": f"found-{c.randrange(10**6):06d}",
                        "kind": "found", "date": iso(today), "part": sessions[0]["part"], "bars": "70-79", "hard": 2,
                        "heard": c.random() < 0.7})
        if self.made and c.random() < 0.2:  # once more, where an answer was lost
            out.append(dict(c.choice(self.made), entry=number + 1))
        self.made += out
        return "".join(json.dumps(line, separators=(",", ":")) + "\n" for line in out)
