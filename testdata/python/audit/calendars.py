"""Services and busy times of other files (sections 2.2 and 2.5)."""

import csv
import datetime
import os
import zoneinfo

import icalendar
import recurring_ical_events

from .values import clock, dates, day, iso, listed, minutes, number


class Entry:
    """Something of a calendar or a table: words, kind, when and how long; programme of a table."""

    def __init__(self, title, words, categories, when, lasts, **extra):
        self.words, self.when, self.lasts = words.lower(), when, lasts
        self.first = self.last = when[0]
        self.playing = self.programme = self.level = None
        self.kind = named(categories) or named(title)
        self.__dict__.update(extra)


def named(text):
    low = text.lower()
    if "rehearsal" in low:
        return "rehearsal"
    return "concert" if "concert" in low or "performance" in low else None


def events(season, node, cancelled=False):
    """The events of an iCalendar file in the season, a day before and after included."""
    name, zone = node["file"], zoneinfo.ZoneInfo(node.get("time_zone", season.zone))
    season.sides.add(name)
    with open(os.path.join(season.folder, name), "rb") as f:
        calendar = icalendar.Calendar.from_ical(f.read())
    first, last = (datetime.date.fromordinal(d) for d in (season.first - 2, season.last + 3))
    for e in recurring_ical_events.of(calendar).between(first, last):
        if cancelled or str(e.get("STATUS", "")).upper() != "CANCELLED":
            yield e, zone


def local(value, zone, season):
    """An instant on the season's wall clock."""
    if value.tzinfo is None:
        value = value.replace(tzinfo=zone)
    return value.astimezone(zoneinfo.ZoneInfo(season.zone))


def busy(season, nodes):
    """Takes the time of calendars of busy from the hours; their playing is other playing."""
    for node in listed(nodes):
        node = node if isinstance(node, dict) else {"file": node}
        before, after = minutes(node.get("before", "0")), minutes(node.get("after", "0"))
        for e, zone in events(season, node):
            if str(e.get("TRANSP", "")).upper() == "TRANSPARENT":
                continue
            own = {}
            if isinstance(e.start, datetime.datetime):
                start, end = local(e.start, zone, season), local(e.end, zone, season)
                if start < end:
                    take(season.taken, start - datetime.timedelta(minutes=before), end + datetime.timedelta(minutes=after))
                    take(own, start, end)
            elif node.get("whole_days") != "free":
                for d in range(e.start.toordinal(), e.end.toordinal()):
                    season.taken.setdefault(d, []).append((0, 1440))
            for d, spans in own.items():
                if "playing" in node:
                    season.other.play(d, sum(b - a for a, b in spans), number(node["playing"]))


def take(taken, start, end):
    first, last = start.date().toordinal(), end.date().toordinal()
    for d in range(first, last + 1):
        a = start.hour * 60 + start.minute if d == first else 0
        b = end.hour * 60 + end.minute + (end.second > 0) if d == last else 1440
        if a < b:
            taken.setdefault(d, []).append((a, b))


def entries(season, node):
    if node["file"].lower().endswith(".csv"):
        yield from rows(season, node)
        return
    for e, zone in events(season, node):
        title = str(e.get("SUMMARY", ""))
        categories = e.get("CATEGORIES")
        labels = " ".join(str(c) for group in listed(categories) for c in group.cats) if categories else ""
        words = " ".join([title, labels, str(e.get("DESCRIPTION", ""))])
        if isinstance(e.start, datetime.datetime):
            start, end = local(e.start, zone, season), local(e.end, zone, season)
            lasts = int((end - start).total_seconds() // 60)
            when = start.date().toordinal(), start.hour * 60 + start.minute
            yield Entry(title, words, labels, when, lasts, last=(end - datetime.timedelta(seconds=1)).date().toordinal())
        else:
            yield Entry(title, words, labels, (e.start.toordinal(), None), 0, last=e.end.toordinal() - 1)


def rows(season, node):
    season.sides.add(node["file"])
    names = {k: node.get("columns", {}).get(k, k).lower()
             for k in ("date", "start", "end", "lasts", "title", "kind", "programme", "playing")}
    if "level" in node.get("columns", {}):
        names["level"] = node["columns"]["level"].lower()
    with open(os.path.join(season.folder, node["file"]), encoding="utf-8-sig") as f:
        text = f.read()
    mark = next(m for m in ";\t," if m in text.splitlines()[0])
    for raw in csv.DictReader(text.splitlines(), delimiter=mark):
        low = {k.strip().lower(): (v or "").strip() for k, v in raw.items()}
        row = {k: low.get(name, "") for k, name in names.items()}
        when = written(row["date"], node.get("dates")), clock(row["start"]) if row["start"] else None
        lasts = minutes(row["lasts"]) if row["lasts"] else 0
        if row["end"]:
            lasts = (clock(row["end"]) - when[1] - 1) % 1440 + 1
        e = Entry(row["title"], " ".join(low.values()), row["kind"], when, lasts,
                  playing=row["playing"] or None, programme=row["programme"] or None, level=row.get("level") or None)
        yield e


def written(text, order):
    """A date of a table: ISO, with dots, or with strokes in the order given."""
    if "." in text:
        order, text = "day/month/year", text.replace(".", "/")
    if "/" not in text:
        return day(text)
    fields = dict(zip(order.split("/"), map(int, text.split("/"))))
    return datetime.date(fields["year"], fields["month"], fields["day"]).toordinal()


def made(season, kind, e, *nodes):
    """A service of an entry, whose share and travel come from the first node that has them."""
    from .season import Service
    share = e.playing or next((n["playing"] for n in nodes if "playing" in n), season.service_playing)
    travel = next((n["travel"] for n in nodes if "travel" in n), season.service_travel)
    level = e.level or next((n["level"] for n in nodes if "level" in n), None)
    return Service(kind, e.when, e.lasts, number(share), minutes(travel), level)


def add(services, service):
    same = (service.kind, service.day, service.start, service.lasts)
    if all((s.kind, s.day, s.start, s.lasts) != same for s in services):
        services.append(service)


def services_of(season, programme, own, nodes):
    """Services of a programme: its own, those of its files, and those of the season's files."""
    out = []
    for service in own:
        add(out, service)
    for node in listed(nodes):
        node = node if isinstance(node, dict) else {"file": node}
        first, last = day(node.get("from", iso(season.first))), day(node.get("to", iso(season.last)))
        for e in entries(season, node):
            if e.kind and first <= e.when[0] <= last and node.get("containing", "").lower() in e.words:
                add(out, made(season, e.kind, e, node))
    for service in season.shared.get(programme.id, []):
        add(out, service)
    return out


def shared(season, nodes):
    """Services by programme of the season's own files; tours and busy times go to the season."""
    out = {}
    for node in listed(nodes):
        for e in entries(season, node):
            rule = next((r for r in node.get("rules") or [] if meets(r, e)), None)
            kind = (rule or {}).get("is", e.kind)
            owner = (rule or {}).get("programme", e.programme)
            if rule is None and e.programme is None:
                continue
            if kind == "tour":
                season.tours.ranges.append((e.first, e.last))
            elif kind == "busy":
                start = datetime.datetime.combine(datetime.date.fromordinal(e.when[0]), datetime.time())
                start += datetime.timedelta(minutes=e.when[1] or 0)
                take(season.taken, start, start + datetime.timedelta(minutes=e.lasts))
            elif kind in ("rehearsal", "concert") and owner and season.first <= e.when[0] <= season.last:
                out.setdefault(owner, []).append(made(season, kind, e, rule or {}, node))
    return out


def meets(rule, e):
    first = day(rule["from"]) if "from" in rule else e.first
    last = day(rule["to"]) if "to" in rule else e.last
    return all(w.lower() in e.words for w in listed(rule.get("words"))) and first <= e.last and e.first <= last
