"""Says when calendars are busy, by programs that share no code with ours.

A request of JSON comes on standard input, the answer goes to standard output:

  {"zone": name, "folders": {name: folder below a package, ...}, "texts": [text, ...]}

Folders are looked up in the installed packages: "icalendar/tests" is where icalendar
lies, and tests in it. Each calendar, by text or by file, is asked for two years from its
first event on; the zone is where times without one, and whole days, are read. For each:

  {"name", "text" (base64), "from", "to", "recurring": [[start, end], ...] or null,
   "vobject": the same, or null where there are changed instances, which it does not know}
"""

import base64
import datetime
import importlib
import json
import pathlib
import sys
import warnings
import zoneinfo

import dateutil.rrule
import icalendar
import recurring_ical_events
import vobject

UTC = datetime.timezone.utc
FORM = "%Y-%m-%dT%H:%M:%SZ"


def instant(value, zone):
    """Fold 0 (PEP 495) is the rule of RFC 5545, 3.3.5."""
    if not isinstance(value, datetime.datetime):
        value = datetime.datetime(value.year, value.month, value.day)
    if value.tzinfo is None:
        value = value.replace(tzinfo=zone)
    return value.astimezone(UTC)


def spans(pairs, zone, first, last):
    out = set()
    for start, end in pairs:
        a, b = instant(start, zone), instant(end, zone)
        if a < b and a < last and b > first:
            out.add((a.strftime(FORM), b.strftime(FORM)))
    return sorted(out)


def window(calendars, zone):
    starts = []
    for calendar in calendars:
        for event in calendar.walk("VEVENT"):
            try:
                starts.append(instant(event.decoded("DTSTART"), zone))
            except Exception:
                pass
    first = min(starts, default=datetime.datetime(2020, 1, 1, tzinfo=UTC)) - datetime.timedelta(days=2)
    first = first.replace(microsecond=0)
    return first, first + datetime.timedelta(days=730)


def taken(event):
    return str(event.get("STATUS", "")).upper() != "CANCELLED" and str(event.get("TRANSP", "")).upper() != "TRANSPARENT"


def by_recurring(calendars, zone, first, last):
    pairs = []
    for calendar in calendars:
        query = recurring_ical_events.of(calendar, skip_bad_series=False)
        day = datetime.timedelta(days=2)
        for e in query.between((first - day).date(), (last + day).date()):
            if taken(e):
                pairs.append((e.start, e.end))
    return spans(pairs, zone, first, last)


def by_vobject(text, zone, first, last):
    # It keeps the first description of a zone that it meets, for all later files.
    vars(vobject.icalendar)["__tzidMap"].clear()
    pairs = []
    for calendar in vobject.readComponents(text):
        for e in calendar.contents.get("vevent", []):
            if "recurrence-id" in e.contents:
                return None
            if not taken({k.upper(): v[0].value for k, v in e.contents.items()}):
                continue
            start = e.dtstart.value
            if hasattr(e, "dtend"):
                length = e.dtend.value - start
            elif hasattr(e, "duration"):
                length = e.duration.value
            else:
                length = datetime.timedelta(days=0 if isinstance(start, datetime.datetime) else 1)
            rules = e.getrruleset(addRDate=True)
            if rules is None:
                pairs.append((start, start + length))
                continue
            for at in rules.between(first.replace(tzinfo=None), last.replace(tzinfo=None)) if naive(start) else rules.between(first, last):
                if not isinstance(start, datetime.datetime):
                    at = at.date()
                pairs.append((at, at + length))
    return spans(pairs, zone, first, last)


def naive(value):
    return not isinstance(value, datetime.datetime) or value.tzinfo is None


def answer(name, text, zone):
    if text.startswith(b"BEGIN:") and not text.startswith(b"BEGIN:VCALENDAR"):
        text = b"BEGIN:VCALENDAR\r\n" + text.rstrip() + b"\r\nEND:VCALENDAR\r\n"  # a component alone
    out = {"name": name, "text": base64.b64encode(text).decode(), "recurring": None, "vobject": None}
    try:
        calendars = icalendar.Calendar.from_ical(text, multiple=True)
        first, last = window(calendars, zone)
    except Exception as e:
        calendars, (first, last) = [], window([], zone)
        out["error"] = str(e)
    out["from"], out["to"] = first.strftime(FORM), last.strftime(FORM)
    if "error" not in out:
        try:
            out["recurring"] = by_recurring(calendars, zone, first, last)
        except Exception as e:
            out["error"] = repr(e)
    try:
        out["vobject"] = by_vobject(text.decode("utf-8"), zone, first, last)
    except Exception:
        pass  # it reads less than the others
    return out


def main():
    warnings.simplefilter("ignore")
    request = json.load(sys.stdin)
    zone = zoneinfo.ZoneInfo(request["zone"])
    out = [answer("text", t.encode(), zone) for t in request.get("texts") or []]
    for package in request.get("folders") or []:
        head, _, rest = package.partition("/")
        folder = pathlib.Path(importlib.import_module(head).__file__).parent / rest
        for path in sorted(folder.rglob("*.ics")):
            out.append(answer(head + "/" + str(path.relative_to(folder)), path.read_bytes(), zone))
    json.dump(out, sys.stdout)


main()
