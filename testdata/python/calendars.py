"""Reads iCalendar files with programs that share no code with ours.

A request of JSON comes on standard input, the answer goes to standard output:

  {"parse": [text, ...]}            each file's events as icalendar, vobject and
                                    recurring-ical-events understand them
  {"apply": [[text, ...], ...]}     what a calendar shows that took in the files in
                                    order, by UID and SEQUENCE (RFC 5546, 2.1.4)
  {"instants": [[zone, year, month, day, minute], ...]}
                                    local times as instants, by Python's zoneinfo: its
                                    fold=0 (PEP 495) is the rule of RFC 5545, 3.3.5
"""

import datetime
import json
import sys
import uuid
import zoneinfo

import icalendar
import recurring_ical_events
import vobject


def told(value):
    """A date as it is, a time as its instant."""
    if not isinstance(value, datetime.datetime):
        return value.isoformat()
    if value.tzinfo is None:
        return "floating " + value.isoformat()
    return value.astimezone(datetime.timezone.utc).strftime("%Y-%m-%dT%H:%M:%SZ")


def alarms(start, triggers):
    """When a calendar calls: the start's instant, or its day's midnight, and the trigger."""
    if isinstance(start, datetime.datetime):
        start = start.astimezone(datetime.timezone.utc)  # durations are of time that passes
    else:
        return sorted((datetime.datetime(start.year, start.month, start.day) + t).isoformat() for t in triggers)
    return sorted(told(start + t) for t in triggers)


def by_icalendar(text):
    calendar = icalendar.Calendar.from_ical(text)
    for component in calendar.walk():
        if component.errors:
            raise ValueError("%s: %s" % (component.name, component.errors))
    return [
        {
            "id": str(e["X-PRIMAPROVA-ID"]),
            "uid": str(e["UID"]),
            "sequence": int(e["SEQUENCE"]),
            "status": str(e["STATUS"]),
            "stamp": told(e.decoded("DTSTAMP")),
            "start": told(e.decoded("DTSTART")),
            "end": told(e.decoded("DTEND")),
            "summary": str(e["SUMMARY"]),
            "description": str(e.get("DESCRIPTION", "")),
            "categories": sorted(str(c) for c in e.categories),
            "color": str(e.get("COLOR", "")),
            "alarms": alarms(e.decoded("DTSTART"), [a.decoded("TRIGGER") for a in e.walk("VALARM")]),
        }
        for e in calendar.walk("VEVENT")
    ]


def by_vobject(text):
    # It keeps the first description of a zone that it meets, for all later files.
    vars(vobject.icalendar)["__tzidMap"].clear()
    calendar = vobject.readOne(text)
    calendar.validate(raiseException=True)
    return [
        {
            "id": e.x_primaprova_id.value,
            "uid": e.uid.value,
            "sequence": int(e.sequence.value),
            "status": e.status.value,
            "stamp": told(e.dtstamp.value),
            "start": told(e.dtstart.value),
            "end": told(e.dtend.value),
            "summary": e.summary.value,
            "description": e.description.value if hasattr(e, "description") else "",
            "categories": sorted(c for line in e.contents.get("categories", []) for c in line.value),
            "color": e.color.value if hasattr(e, "color") else "",
            "alarms": alarms(e.dtstart.value, [a.trigger.value for a in e.contents.get("valarm", [])]),
        }
        for e in calendar.contents.get("vevent", [])
    ]


def by_recurrences(text):
    """All that happens, found day by day in a query over the years."""
    query = recurring_ical_events.of(icalendar.Calendar.from_ical(text), skip_bad_series=False)
    return sorted(
        [str(e["UID"]), told(e.start), told(e.end)]
        for e in query.between(datetime.date(1990, 1, 1), datetime.date(2040, 1, 1))
    )


def zones(text):
    """The file's own time zones, each asked for its offset around its changes."""
    out = []
    for zone in icalendar.Calendar.from_ical(text).walk("VTIMEZONE"):
        own = zone.to_tz(lookup_tzid=False)
        for part in zone.subcomponents:
            change = part.decoded("DTSTART") - part.decoded("TZOFFSETFROM")
            out.append([change.strftime("%Y-%m-%dT%H:%M:%SZ"), int(part.decoded("TZOFFSETTO").total_seconds())])
        datetime.datetime(2026, 7, 1, tzinfo=own).utcoffset()  # it works as a zone at all
    return out


def apply(texts):
    held = {}
    for text in texts:
        for e in icalendar.Calendar.from_ical(text).walk("VEVENT"):
            known = held.get(str(e["UID"]))
            if known is None or int(e["SEQUENCE"]) > int(known["SEQUENCE"]):
                held[str(e["UID"])] = e
    return sorted(
        [str(u), told(e.decoded("DTSTART")), told(e.decoded("DTEND")), str(e["SUMMARY"]), str(e.get("DESCRIPTION", ""))]
        for u, e in held.items()
        if str(e["STATUS"]) != "CANCELLED"
    )


def instant(zone, year, month, day, minute):
    midnight = datetime.datetime(year, month, day, tzinfo=zoneinfo.ZoneInfo(zone))
    return told(midnight + datetime.timedelta(minutes=minute))  # on the clock, not in elapsed time


def main():
    request = json.load(sys.stdin)
    json.dump(
        {
            "parse": [
                {
                    "icalendar": by_icalendar(t),
                    "vobject": by_vobject(t),
                    "recurrences": by_recurrences(t),
                    "zones": zones(t),
                }
                for t in request.get("parse") or []
            ],
            "apply": [apply(ts) for ts in request.get("apply") or []],
            "instants": [instant(*i) for i in request.get("instants") or []],
            "uids": [
                str(uuid.uuid5(uuid.uuid5(uuid.NAMESPACE_DNS, key + ".primaprova.invalid"), name))
                for key, name in request.get("uids") or []
            ],
        },
        sys.stdout,
    )


main()
