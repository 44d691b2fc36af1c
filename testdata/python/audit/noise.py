"""Noise in services: exposure of days and weeks (section 10)."""

import math
import re

NOMINAL_DAY, NOMINAL_WEEK = 480, 5


def decibels(text):
    """A level, however its unit is written."""
    return float(re.match(r"\s*(\d+(?:\.\d+)?)", text)[1])


def energy(services):
    return sum(s.lasts * 10 ** (decibels(s.level) / 10) for s in services) / NOMINAL_DAY


def week(season, record, monday):
    """What is said of a week: daily levels by day, the weekly level, services without a level; None
    where no service has one."""
    held = [s for s in season.services if monday <= s.day < monday + 7 and not s.excused
            and s.day not in record.missed]
    loud = [s for s in held if s.level is not None]
    if not loud:
        return None
    days = {d: energy(s for s in loud if s.day == d) for d in sorted({s.day for s in loud})}
    return ({d: 10 * math.log10(e) for d, e in days.items()}, 10 * math.log10(sum(days.values()) / NOMINAL_WEEK),
            len(held) - len(loud))
