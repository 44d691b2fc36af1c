"""The season file with the tables that it names (section 2)."""

import csv
import math
import os
import re

import yaml

from . import calendars
from .earlier import known_from
from .other import Other
from .values import ByDay, Days, Last, clock, dates, day, flag, iso, listed, minutes, moment, number, spans


class Service:
    """A rehearsal or a concert: its day, start and minutes."""

    def __init__(self, kind, when, lasts, share, travel, level=None, works=()):
        self.kind, self.lasts, self.travel, self.level, self.works = kind, lasts, travel, level, works
        self.day, self.start = when
        self.excused = False
        self.playing = lasts * share  # hundredths of a minute


class Passage:
    """A passage of a part; found ones of the record come to be in the record's reader."""

    def __init__(self, part, name, **fields):
        self.part, self.id, self.key = part, name, f"{part.key}/{name}"
        self.hard, self.exposed, self.daily = 2, False, False
        self.minutes = self.visits = self.due = self.found = None
        self.kept = 0
        self.tempo, self.unnamed, self.upkeep = None, False, False
        self.__dict__.update(fields)


class Part:
    def __init__(self, programme, node, habits):
        self.programme, self.id = programme, node["id"]
        self.key = f"{programme.id}/{self.id}"
        self.arrives = day(node["arrives"])
        self.work = node.get("work", self.id)
        node, played = known_from(programme.season, node, self.id)
        heard, read = minutes(habits.get("listening", "30")), minutes(habits.get("read_through", "30"))
        again = minutes(habits.get("recordings", "20"))
        lasts = minutes(node.get("duration") or "0") or -(-int(node.get("bars") or 0) // 30)
        if lasts:
            step = programme.season.step
            heard, read, again = lasts, -(-min(90, 3 * lasts // 2) // step) * step, min(lasts, again)
        self.stages = {
            "listening": minutes(node["listening"]) if node.get("listening") else heard,
            "read-through": minutes(node["read_through"]) if node.get("read_through") else read,
            "recordings": minutes(node["recordings"]) if node.get("recordings") else again,
        }
        self.stages = sittings(self.stages, minutes(node.get("break") or "0"), programme.season.listening)
        self.estimate = minutes(node.get("estimate", "0"))
        self.kept, self.comes_back = kept(node.get("known"), self.arrives, played), flag(node.get("comes_back") or "no")
        self.ready_days = number(node["ready_days"]) if node.get("ready_days") not in (None, "") else programme.season.ready_days
        self.passages, taken = [], set()
        for p in node.get("passages") or []:
            name = free_id(p.get("id") or slug(p["bars"]), taken)
            taken.add(name)
            self.passages.append(Passage(
                self, name, hard=int(p.get("hard", 2)), exposed=flag(p.get("exposed", "no")),
                daily=flag(p.get("daily", "no")), kept=self.kept,
                minutes=minutes(p["minutes"]) if "minutes" in p else None,
                visits=[minutes(v) for v in p["visits"]] if "visits" in p else None,
                tempo=tempo(p["tempo"]) if "tempo" in p else None,
                due=day(p["due"]) if "due" in p else None,
                found=day(p["found"]) if "found" in p else None))


def from_cells(row):
    """A row of a table of passages, as the season file would have it."""
    out = {k: v for k, v in row.items() if k not in ("programme", "part")}
    words = {"easy": "1", "ordinary": "2", "hard": "3"}
    ticks = {"x": "yes", "1": "yes", "-": "no", "0": "no"}
    if "hard" in out:
        out["hard"] = words.get(out["hard"].lower(), out["hard"])
    for key in ("exposed", "daily"):
        if key in out:
            out[key] = ticks.get(out[key].lower(), out[key])
    if "tempo" in out:
        now, _, goal = out["tempo"].rpartition("-")
        out["tempo"] = {"now": now, "goal": goal} if now else {"goal": goal}
    return out


def kept(known, arrives, played):
    """How much of a part that was played before is kept, in percent (section 3.7)."""
    if not known and played is None:
        return 0
    if known == "in the fingers":
        return 100
    if known:
        played = day(f"{known}-12-31" if re.fullmatch(r"\d{4}", known) else known)
    return math.floor(100 * 2 ** (-max(0, arrives - played) / 335) + 0.5)


def sittings(stages, pause, most):
    """The stages with the listening in as many sittings as a day's limit asks for (section 3.6)."""
    whole = stages["listening"]
    if whole <= most or not most:
        return stages
    count = -(-whole // most)
    lengths = [whole // count + (k < whole % count) for k in range(count)]
    if 0 < pause < whole:
        lengths = [pause, whole - pause]
    heard = {f"listening-{k + 1}": m for k, m in enumerate(lengths)}
    return heard | {k: m for k, m in stages.items() if k != "listening"}


class Programme:
    def __init__(self, season, node):
        self.id, self.title, self.season = node["id"], node.get("title", node["id"]), season
        own = [season.service(s) for s in node.get("services") or []]
        self.services = calendars.services_of(season, self, own, node.get("services_from"))
        for s in self.services:
            s.excused = any(name == self.id and a <= s.day <= b for name, a, b in season.excused)
            s.level = node.get("level") if s.level is None else s.level
        nodes = list(node.get("parts") or [])
        for name in listed(node.get("parts_from")):
            nodes += self.rows(name, "id")
        for name in listed(node.get("passages_from")):
            for row in self.rows(name, "part"):
                of = next(n for n in nodes if n["id"] == row["part"])
                of["passages"] = (of.get("passages") or []) + [from_cells(row)]
        self.parts = [Part(self, p, season.habits_node) for p in nodes]

    def rows(self, name, needed):
        """The rows of a CSV file that are this programme's."""
        self.season.sides.add(name)
        with open(os.path.join(self.season.folder, name), encoding="utf-8-sig", newline="") as f:
            text = f.read()
        head = text.splitlines()[0]
        mark = next(m for m in ";\t," if m in head)
        for row in csv.DictReader(text.splitlines(), delimiter=mark):
            row = {k.strip().lower(): v.strip() for k, v in row.items() if k and v and v.strip()}
            if row.get(needed) and row.get("programme", self.id) == self.id:
                yield row

    @property
    def first_rehearsal(self):
        return min((s.day for s in self.services if s.kind == "rehearsal"), default=None)


class Season:
    def __init__(self, path, earlier=False):
        self.earlier = earlier  # of one that knows something of a part: what it takes over itself is left aside
        with open(path, encoding="utf-8") as f:
            node = yaml.load(f, Loader=yaml.BaseLoader)
        self.folder, self.path, self.sides = os.path.dirname(os.path.abspath(path)), path, set()
        self.title, self.zone = node["title"], node["time_zone"]
        self.instrument = node.get("instrument", "")
        self.first, self.last = day(node["from"]), day(node["to"])
        self.read_limits(node.get("limits") or {})
        self.read_habits(node.get("habits") or {})
        self.timed = bool(node.get("hours"))
        self.hours = ByDay(node.get("hours") or None, spans, [])
        self.excused = [(e["programme"], *dates(e["date"])) for e in listed(node.get("excused"))]
        self.taken = {}
        self.other = Other(self, node.get("other_playing"), self.taken)
        calendars.busy(self, node.get("busy"))
        self.shared = calendars.shared(self, node.get("services_from"))
        self.programmes = [Programme(self, p) for p in node["programmes"]]
        self.pins = {p["session"]: day(p["date"]) for p in node.get("pins") or []}
        self.learnt = {}
        for e in node.get("learnt") or []:
            kind = {"easy passages": 1, "ordinary passages": 2, "hard passages": 3}.get(e["work"], e["work"])
            count, planned, took = self.learnt.get(kind, (0, 0, 0))
            self.learnt[kind] = count + int(e["sessions"]), planned + minutes(e["estimated"]), took + minutes(e["took"])

    def read_limits(self, node):
        def plain(key, default, read=minutes):
            return read(node.get(key, default))

        self.playing = ByDay(node.get("playing"), minutes, 180)
        self.rest_days = Days(node.get("rest_days"), weekdays=True)
        self.played, self.days_off = Days(node.get("played")), Days(node.get("days_off"))
        self.tours = Days(node.get("tours"))
        self.warm_up, self.listening = plain("warm_up", "10"), plain("listening", "90")
        self.warm_again, self.long_pause = plain("warm_up_again", "0"), plain("long_pause", "180")
        self.passages = plain("passages", "12", int)
        self.block, self.block_rest = plain("block", "25"), plain("block_rest", "5")
        self.heavy, self.rise = plain("heavy", "75", number), plain("rise", "30", number)
        self.rise_floor = plain("rise_floor", "70")
        self.light_days = plain("light_days", "3", number)
        self.light, self.before_concert = plain("light", "50", number), plain("before_concert", "75", number)
        self.new_on_concerts = plain("new_on_concerts", "no", flag)
        self.two_services = plain("two_services", "0")
        back = node.get("return") or {}
        self.back_ill = number(back.get("ill", "3"))
        self.back_after, self.back_first = number(back.get("after", "14")), number(back.get("first", "50"))
        self.back_rise = minutes(back.get("rise", "10"))
        self.gap = plain("service_gap", "30")
        self.latest = ByDay(node.get("latest"), clock, 1440)
        self.quiet = ByDay(node.get("quiet"), spans, [])

    def read_habits(self, node):
        def many(key, default, read):
            return [read(v) for v in listed(node.get(key, default))]

        self.habits_node = node
        self.step = minutes(node.get("step", "5"))
        self.visits = many("visits", ["3", "4", "5"], int)
        self.first_visits = many("first", ["10", "10", "15"], minutes)
        self.shares = Last(many("shares", ["100", "80", "60", "50"], number))
        self.least = Last(many("least_gaps", ["1", "2", "4", "5"], number))
        self.preferred = Last(many("preferred_gaps", ["2", "4", "7", "9"], number))
        self.upkeep, self.upkeep_after = minutes(node.get("upkeep", "5")), number(node.get("upkeep_after", "4"))
        self.short_gaps = flag(node.get("short_gaps", "yes"))
        self.ready_days, self.fresh_days = number(node.get("ready_days", "5")), number(node.get("fresh_days", "14"))
        self.last_days = number(node.get("last_days", "10"))
        self.service_playing, self.service_travel = node.get("service_playing", "65"), node.get("service_travel", "0")
        self.tempo_steps = int(node.get("tempo_steps", 3))
        self.exposed_weight = int(node.get("exposed_weight", 2))
        self.visit_values = Last(many("visit_values", ["40", "12", "3", "2", "1"], int))
        self.whole_parts = flag(node.get("whole_parts", "no"))
        self.stage_values = {
            "listening": int(node.get("listen_value", 40)),
            "read-through": int(node.get("read_value", 250)),
            "recordings": int(node.get("record_value", 3)),
        }

    def service(self, node):
        kind = next(k for k in ("rehearsal", "concert", "recital", "audition", "lesson") if k in node)
        return Service(kind, moment(node[kind]), minutes(node["lasts"]),
                       number(node.get("playing", self.service_playing)),
                       minutes(node.get("travel", self.service_travel)), node.get("level"), listed(node.get("works")))

    @property
    def services(self):
        return [s for p in self.programmes for s in p.services]

    @property
    def parts(self):
        return [part for p in self.programmes for part in p.parts]


def tempo(node):
    """What a passage works at now (or None), and its goal."""
    return int(node["now"]) if "now" in node else None, int(node["goal"])


def slug(bars):
    return re.sub(r"[^A-Za-z0-9.\-]+", "-", bars).strip("-.")[:44]


def free_id(name, taken):
    k, wanted = 2, name
    while name in taken:
        name, k = f"{wanted}-{k}", k + 1
    return name
