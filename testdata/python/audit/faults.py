"""Season files with one fault, which a program has to refuse (sections 1 and 2)."""

import re

# What is there, and what stands there in its place; the page calls each a fault.
WAYS = [
    (r"(?m)^limits:\n", "limits:\n  playng: 60 min\n"), (r"(?m)^title: .*\n", ""), (r"(?m)^from: .*\n", ""),
    (r"(?m)^to: .*\n", ""), (r"(?m)^time_zone: .*\n", ""), (r"(?m)^time_zone: .*", "time_zone: Brinemouth/Pier"),
    (r"(?m)^title: .*", "title:"), (r"(?m)^(instrument: .*)", r"\1\n\1"), (r"lasts: 150 min, ", ""),
    (r"arrives: 2027-", "arrives: 2026-13-"), (r"bars: (\d+)-(\d+)", "bars:"), (r"every day: \d+ min", "every day: soon"),
    (r"hard: \d", "hard: 4"), (r"(?m)^programmes:\n", "colour: red\nprogrammes:\n"),
    (r"(?m)^        arrives: .*\n", ""), (r"  - id: tide\n", "  - id: ti/de\n"),
    (r"      - \{(?:rehearsal|concert|recital|audition|lesson): .*\n", ""), (r"(\d\d):00, lasts", r"25:00, lasts"), (r"level: [\d.]+", "level: 139"),
    (r"(?m)^    parts:\n",
     "    parts:\n      - {id: slate, arrives: 2027-03-05}\n      - {id: slate, arrives: 2027-03-05}\n"),
]


def faulty(text, chance):
    """A season file with a fault, and what was done; None where the way chosen finds nothing."""
    pattern, new = chance.choice(WAYS)
    found = list(re.finditer(pattern, text))
    if not found:
        return None, ""
    # All services, or a programme still has one.
    some = found if "rehearsal" in pattern else [chance.choice(found)]
    for match in reversed(some):
        text = text[:match.start()] + match.expand(new) + text[match.end():]
    return text, f"{pattern} becomes {new!r}"
