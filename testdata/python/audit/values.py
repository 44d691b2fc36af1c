"""The single values of a season file, which come as text (section 1)."""

import datetime
import re

WEEKDAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]


def day(text):
    """A date as an ordinal."""
    return datetime.date.fromisoformat(text.strip()).toordinal()


def iso(ordinal):
    return datetime.date.fromordinal(ordinal).isoformat()


def weekday(ordinal):
    """Monday is 0."""
    return (ordinal - 1) % 7


def dates(text):
    """First and last day of a date or a range, as ordinals."""
    first, _, last = text.partition("..")
    return day(first), day(last or first)


def minutes(text):
    tenths = re.fullmatch(r"\s*(\d+)[.,](\d+)\s*h\s*", text)
    if tenths:
        return round(60 * float(f"{tenths[1]}.{tenths[2]}"))
    found = re.fullmatch(r"\s*(?:(\d+)\s*h)?\s*(?:(\d+)\s*(?:min)?)?\s*", text)
    if not found or not (found[1] or found[2]):
        raise ValueError(f"no minutes: {text!r}")
    return 60 * int(found[1] or 0) + int(found[2] or 0)


def number(text):
    """A whole number with whatever unit follows it: a share, days, a count."""
    return int(re.fullmatch(r"\s*(\d+)\s*(?:%|days?|min)?\s*", text)[1])


def flag(text):
    return {"yes": True, "true": True, "no": False, "false": False}[text.strip().lower()]


def clock(text):
    """A time of day in minutes; 24:00 is 1440."""
    hours, _, rest = text.strip().partition(":")
    return 60 * int(hours) + int(rest)


def at(start):
    return f"{start // 60:02d}:{start % 60:02d}"


def span(text):
    start, _, end = text.partition("-")
    return clock(start), clock(end)


def spans(node):
    return [span(text) for text in listed(node)]


def moment(text):
    """Day and minutes of a moment."""
    first, time = text.split()
    return day(first), clock(time)


def listed(node):
    """A list of what may be written alone."""
    if node is None:
        return []
    return node if isinstance(node, list) else [node]


class Days:
    """A set of days, by weekday, date and range."""

    def __init__(self, node, weekdays=False):
        self.weekdays, self.ranges = set(), []
        for text in listed(node):
            if weekdays and text.lower() in WEEKDAYS:
                self.weekdays.add(WEEKDAYS.index(text.lower()))
            else:
                self.ranges.append(dates(text))

    def __contains__(self, ordinal):
        return weekday(ordinal) in self.weekdays or any(a <= ordinal <= b for a, b in self.ranges)


class ByDay:
    """A value by day: a date beats a range, a range a weekday, a weekday every day."""

    def __init__(self, node, read, default):
        self.default, self.weekdays, self.ranges, self.dates = default, {}, [], {}
        if node is None:
            return
        if not isinstance(node, dict):
            self.default = read(node)
            return
        for key, value in node.items():
            name = key.strip().lower()
            if name == "every day":
                self.default = read(value)
            elif name in WEEKDAYS:
                self.weekdays[WEEKDAYS.index(name)] = read(value)
            else:
                first, last = dates(key)
                if first == last:
                    self.dates[first] = read(value)
                else:
                    self.ranges.append((first, last, read(value)))

    def __getitem__(self, ordinal):
        if ordinal in self.dates:
            return self.dates[ordinal]
        for first, last, value in reversed(self.ranges):
            if first <= ordinal <= last:
                return value
        return self.weekdays.get(weekday(ordinal), self.default)


class Last:
    """A list whose last entry repeats; counted from 1."""

    def __init__(self, values):
        self.values = list(values)

    def __getitem__(self, k):
        return self.values[min(k, len(self.values)) - 1]
