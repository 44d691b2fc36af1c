"""Invented small seasons of every kind, by chance: the text of a season file and of those it names."""

from .outside import Outside
from .values import WEEKDAYS, iso

ZONES = ["Europe/Oslo", "Europe/Berlin", "UTC", "America/New_York", "Australia/Lord_Howe"]


class Invented:
    """A season's files: texts by name."""

    def __init__(self, chance):
        self.chance, self.files = chance, {}
        c = chance
        self.first = 740041 + c.randrange(21)  # 2027-03-01
        self.last = self.first + c.choice([13, 16, 20, 24, 27, 34])
        self.lines = [f"title: Weeks at Brinemouth {c.randrange(100)}", f"time_zone: {c.choice(ZONES)}",
                      f"from: {iso(self.first)}", f"to: {iso(self.last)}", "instrument: viola"]
        self.timed = c.random() < 0.3
        self.limits()
        if self.timed:
            self.hours()
        outside = Outside(self)
        if c.random() < (0.4 if self.timed else 0.1):
            outside.busy(self.timed)
        if c.random() < 0.2:
            outside.other_playing()
        self.habits()
        self.services, self.rehearsals = [], {}  # programme and date; first rehearsals
        self.lines.append("programmes:")
        count = c.choice([1, 1, 2, 2, 3])
        for k in range(count):
            self.programme(k, count)
        if c.random() < 0.2:
            outside.orchestra()
        if c.random() < 0.15:
            outside.excused()
        self.files["season.yaml"] = "\n".join(self.lines) + "\n"

    def maybe(self, share, line):
        if self.chance.random() < share:
            self.lines.append(line)

    def day(self, first=None, last=None):
        first = self.first if first is None else first
        return self.chance.randint(first, max(first, self.last if last is None else last))

    def days(self, most=4):
        a = self.day()
        b = min(self.last, a + self.chance.randrange(most))
        return iso(a) if a == b else f"{iso(a)}..{iso(b)}"

    def limits(self):
        c = self.chance
        table = [f"every day: {c.choice([40, 60, 60, 90, 120])} min"]
        if c.random() < 0.5:
            table.append(f"{c.choice(WEEKDAYS)}: {c.choice([20, 30, 45, 80])} min")
        if c.random() < 0.5:
            table.append(f"{self.days()}: {c.choice([15, 25, 50, 100])} min")
        if c.random() < 0.3:
            table.append(f"{iso(self.day())}: {c.choice([0, 25, 70])} min")
        if c.random() < 0.1:
            one = iso(self.day())  # a range of one day is a date, and of two keys the later counts
            table += [f"{one}: 35 min", f"{one}..{one}: 1 h 10 min"]
        table = list(dict((t.rsplit(":", 1)[0], t) for t in table).values())
        c.shuffle(table)
        self.lines += ["limits:", f"  playing: {{{', '.join(table)}}}"]
        rest = [c.choice(WEEKDAYS)] * (c.random() < 0.6) + [iso(self.day())] * (c.random() < 0.2)
        self.maybe(1, f"  rest_days: [{', '.join(dict.fromkeys(rest))}]") if rest else None
        self.maybe(0.1, f"  played: [{iso(self.day())}]")
        long = self.first + c.randrange(4)
        off = f"{iso(long)}..{iso(long + c.randint(5, 9))}" if c.random() < 0.3 else self.days()
        self.maybe(0.35, f"  days_off: [{off}]")
        self.maybe(0.2, f"  tours: [{self.days(3)}]")
        self.maybe(0.4, f"  warm_up: {c.choice([0, 5, 7, 15])} min")
        self.maybe(0.4, f"  listening: {c.choice([30, 40, 60])} min")
        self.maybe(0.4, f"  passages: {c.choice([2, 3, 4, 6])}")
        self.maybe(0.2, f"  heavy: {c.choice([50, 60, 90])} %")
        self.maybe(0.2, f"  rise: {c.choice([0, 10, 50])} %")
        self.maybe(0.2, f"  rise_floor: {c.choice([0, 20])} min")
        self.maybe(0.2, f"  light: {c.choice([0, 30, 80])} %")
        self.maybe(0.2, f"  before_concert: {c.choice([40, 50, 100])} %")
        self.maybe(0.2, "  new_on_concerts: yes")
        self.maybe(0.2, f"  two_services: {c.choice([10, 20])} min")
        self.maybe(0.3, f"  light_days: {c.choice(['0', '1 day', '5 days'])}")
        back = c.choice(["", f"ill: {c.choice([0, 1, 2, 4])} days, "])
        self.maybe(0.5, f"  return: {{after: {c.choice([0, 2, 3, 5])} days, {back}first: {c.choice([30, 50])} %, "
                        f"rise: {c.choice([5, 10])} min}}")
        self.maybe(0.25, f"  warm_up_again: {c.choice([5, 8])} min")
        self.maybe(0.2, f"  long_pause: {c.choice([60, 90])} min")
        if self.timed:
            self.maybe(0.3, f"  block: {c.choice([15, 20, 30])} min")
            self.maybe(0.2, f"  block_rest: {c.choice([0, 10])} min")
            self.maybe(0.3, f"  service_gap: {c.choice([0, 45])} min")
            self.maybe(0.4, f'  latest: {{every day: "20:00", {c.choice(WEEKDAYS)}: "16:00"}}')
            if "latest" not in self.lines[-1]:
                self.maybe(0.1, f'  latest: {{every day: "20:30", {self.days()}: "24:00"}}')
            self.maybe(0.4, f"  quiet: {{every day: [{c.choice(['12:00-14:30', '09:00-10:00'])}]}}")

    def hours(self):
        c = self.chance
        day = c.choice(["[09:00-12:00, 14:00-17:00]", "[09:30-12:30]", "[01:00-05:00, 18:00-21:30]",
                        "[10:00-11:00, 11:00-12:10]"])
        other = f", {c.choice(WEEKDAYS)}: {c.choice(['[]', '[13:30-18:00]', '[08:00-09:05]'])}" if c.random() < 0.5 else ""
        self.lines.append(f"hours: {{every day: {day}{other}}}")

    def habits(self):
        c, rest = self.chance, len(self.lines)
        self.lines.append("habits:")
        step = c.choice([5, 5, 5, 1, 2, 3, 7, 10])
        self.maybe(0.4, f"  step: {step} min") if not self.timed else None
        self.maybe(0.2, f"  visits: [{c.choice(['2, 3, 4', '1, 2, 3', '3, 3, 6'])}]")
        self.maybe(0.2, f"  first: [{c.choice(['7 min, 12 min, 20 min', '5 min, 10 min, 10 min'])}]")
        self.maybe(0.2, f"  shares: [{c.choice(['100 %, 70 %', '90 %, 80 %, 33 %'])}]")
        least, preferred = c.choice([("", "")] * 4 + [("1", ""), ("1", "2"), ("1, 1, 2", "1, 3"), ("2, 3", "3, 3, 5"),
                                                      ("", "1, 3, 5, 6"), ("2", "2")])
        self.maybe(1, f"  least_gaps: [{least}]") if least else None
        self.maybe(1, f"  preferred_gaps: [{preferred}]") if preferred else None
        self.maybe(0.3, "  short_gaps: no")
        ready = c.choice([5] * 3 + [0, 2, 3])
        self.maybe(1, f"  ready_days: {ready} days") if ready != 5 else None
        self.maybe(0.3, f"  fresh_days: {c.choice([max(ready, 4), 7])} days")
        self.maybe(0.3, f"  last_days: {c.choice([2, 4])} days")
        self.maybe(0.3, f"  listening: {c.choice([0, 12, 20])} min")
        self.maybe(0.3, f"  read_through: {c.choice([12, 20])} min")
        self.maybe(0.3, f"  recordings: {c.choice([0, 15])} min")
        self.maybe(0.2, f"  part_changes: {c.choice(['mixed', 'few', 'one work at a time'])}")
        self.maybe(0.3 if self.timed else 0, "  listening_hours: {every day: [09:00-10:00, 20:00-21:00]}")
        self.maybe(0.1, f"  tempo_steps: {c.choice([1, 5])}")
        self.maybe(0.1, f"  service_playing: {c.choice([30, 90])} %")
        self.maybe(0.1, f"  service_travel: {c.choice([15, 50])} min")
        self.maybe(0.1, f"  {c.choice(['listen_value: 7', 'read_value: 90', 'record_value: 0', 'record_value: 20'])}")
        self.maybe(0.1, f"  exposed_weight: {c.choice([0, 5])}")
        self.maybe(0.1, f"  visit_values: [{c.choice(['40, 12, 1', '10'])}]")
        self.maybe(0.3, "  whole_parts: yes")
        if len(self.lines) == rest + 1:
            self.lines.pop()

    def programme(self, k, count):
        c, name = self.chance, ["tide", "thaw", "lantern"][k]
        span = (self.last - self.first) // count
        rehearsal = min(self.last - 1, self.first + span * (k + 1) - c.randrange(1, 4))
        self.rehearsals[name] = rehearsal
        tries, plays = c.choice(["rehearsal"] * 4 + ["lesson", "concert"]), c.choice(["concert"] * 4 + ["recital", "audition"])
        self.lines += [f"  - id: {name}", "    services:",
                       f"      - {{{tries}: {iso(rehearsal)} 10:00, lasts: 150 min, playing: {c.choice([20, 40, 60])} %"
                       f"{self.level()}}}"]
        if c.random() < 0.4:
            self.lines.append(f"      - {{rehearsal: {iso(rehearsal)} 15:00, lasts: 95 min, travel: 20 min}}")
        concert = min(self.last, rehearsal + c.randrange(3))
        self.lines.append(f"      - {{{plays}: {iso(concert)} 19:30, lasts: 90 min, playing: 50 %{self.level()}}}")
        if c.random() < 0.4:
            works = ", works: [slate]" if c.random() < 0.4 else ""
            self.lines.append(f"      - {{{plays}: {iso(self.day(concert))} 18:00, lasts: 60 min{works}}}")
        if c.random() < 0.12:
            Outside(self).own(name)
        self.services += [(name, rehearsal), (name, concert)]
        self.maybe(0.2, f"    level: {c.choice(['88 dB', '79.5 dB(A)', '93'])}")
        self.lines.append("    parts:")
        for j in range(c.choice([1, 1, 2])):
            self.part(["slate", "ferry"][j], self.day(self.first, max(self.first, rehearsal - c.choice([8, 8, 2]))), rehearsal)
        if c.random() < 0.15:
            rows = [["programme", "id", "work", "arrives", "listening", "estimate"],
                    [name, "gale", "Gale", iso(self.day(self.first, rehearsal - 2)), "", c.choice(["20", "44 min", "1 h"])],
                    ["tide", "reef", "Reef", iso(self.first), "", "10"]]
            mark, order = c.choice([";", ",", "\t"]), c.sample(range(6), 6)
            self.files[f"{name}.csv"] = "\n".join(mark.join(row[k] for k in order) for row in rows) + "\n"
            self.lines.append(f"    parts_from: {name}.csv")

    def level(self):
        return self.chance.choice([""] * 8 + [", level: 90 dB", ", level: 82.7"])

    def part(self, name, arrives, rehearsal):
        c, out = self.chance, self.lines
        out += [f"      - id: {name}", f"        arrives: {iso(arrives)}"]
        heard = c.choice([0, 13, 20, 30, 55, 75])
        self.maybe(0.5, f"        listening: {heard} min")
        if heard > 30 and "listening" in out[-1]:
            self.maybe(0.3, f"        break: {heard - 30} min")
        self.maybe(0.5, f"        read_through: {c.choice([13, 20, 30, 41])} min")
        self.maybe(0.3, f"        recordings: {c.choice([0, 10, 18])} min")
        self.maybe(0.15, f"        {c.choice(['duration: 9 min', 'duration: 22 min', 'bars: 412'])}")
        self.maybe(0.15, f"        known: {c.choice(['2025', '2026-06-01', 'in the fingers'])}")
        self.maybe(0.15, "        comes_back: yes")
        self.maybe(0.15, f"        ready_days: {c.choice([0, 1, 2, 4])}")
        if c.random() < 0.15:
            out.append(f"        known_from: {Outside(self).earlier()}")
        estimated = c.random() < 0.35
        if estimated:
            out.append(f"        estimate: {c.choice([1, 20, 44, 60, 90])} min")
        count = c.choice([0, 1, 2]) if estimated else c.choice([1, 2, 3, 4])
        if count:
            out.append("        passages:")
        for k in range(count):
            out.append(f"          - {{{', '.join(self.passage(k, arrives, rehearsal))}}}")

    def passage(self, k, arrives, rehearsal):
        c = self.chance
        fields = [f"bars: {10 * k + 1}-{10 * k + 8}"]
        if c.random() < 0.5:
            fields.append(f"hard: {c.choice([1, 2, 3])}")
        if c.random() < 0.3:
            fields.append("exposed: yes")
        if c.random() < 0.25:
            fields.append(f"minutes: {c.choice([3, 8, 13, 22])} min")
        elif c.random() < 0.25:
            own = ["15 min, 10 min, 10 min", "20 min, 5 min", "7 min, 7 min, 7 min, 4 min", "10 min"]
            fields.append(f"visits: [{c.choice(own)}]")
        if c.random() < 0.15:
            fields.append(f"due: {iso(self.day(max(arrives + 1, rehearsal - 3), min(self.last, rehearsal + 3)))}")
        elif c.random() < 0.1:
            fields.append(f"found: {iso(self.day(arrives, rehearsal - 1))}")
        if c.random() < 0.15:
            fields.append("daily: yes")
        if c.random() < 0.2:
            fields.append(f"strains: {c.choice(['left hand', 'bow arm'])}")
        if c.random() < 0.1:
            fields[0] = f"bars: letter {'ABC'[k % 2]}" + c.choice(["", ", id: solo", f", id: q.{k}"])
        if c.random() < 0.2:
            fields.append(f"tempo: {{{c.choice(['', 'now: 50, ', 'now: 60, '])}goal: {c.choice([72, 84, 97, 132])}}}")
        return fields
