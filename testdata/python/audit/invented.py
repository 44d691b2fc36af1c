"""Invented small seasons of every kind, by chance: the text of a season file and of those it names."""

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
        self.habits()
        self.lines.append("programmes:")
        count = c.choice([1, 1, 2, 2, 3])
        for k in range(count):
            self.programme(k, count)
        if c.random() < 0.15:
            self.shared()
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
        self.maybe(0.5, f"  return: {{after: {c.choice([2, 3, 5])} days, first: {c.choice([30, 50])} %, "
                        f"rise: {c.choice([5, 10])} min}}")
        self.maybe(0.25, f"  warm_up_again: {c.choice([5, 8])} min")
        self.maybe(0.2, f"  long_pause: {c.choice([60, 90])} min")
        if self.timed:
            self.maybe(0.3, f"  block: {c.choice([15, 20, 30])} min")
            self.maybe(0.2, f"  block_rest: {c.choice([0, 10])} min")
            self.maybe(0.3, f"  service_gap: {c.choice([0, 45])} min")
            self.maybe(0.4, f'  latest: {{every day: "20:00", {c.choice(WEEKDAYS)}: "16:00"}}')
            self.maybe(0.4, f"  quiet: {{every day: [{c.choice(['12:00-14:30', '09:00-10:00'])}]}}")

    def hours(self):
        c = self.chance
        day = c.choice(["[09:00-12:00, 14:00-17:00]", "[09:30-12:30]", "[01:00-05:00, 18:00-21:30]", "[10:00-11:00, 11:00-12:10]"])
        other = f", {c.choice(WEEKDAYS)}: {c.choice(['[]', '[13:30-18:00]', '[08:00-09:05]'])}" if c.random() < 0.5 else ""
        self.lines.append(f"hours: {{every day: {day}{other}}}")
        if c.random() < 0.25:
            self.lines.append(f"busy: [{{file: lessons.ics, before: {c.choice([0, 20])} min, after: 10 min}}]")
            self.files["lessons.ics"] = self.calendar([self.event("Lesson", 10, 60) for _ in range(4)])

    def event(self, title, hour, lasts):
        date = iso(self.day()).replace("-", "")
        end = hour * 60 + lasts
        return (f"BEGIN:VEVENT\r\nUID:{title}-{date}-{self.chance.randrange(10**6)}@brinemouth.example\r\nDTSTAMP:20270101T000000Z\r\n"
                f"DTSTART:{date}T{hour:02d}0000\r\nDTEND:{date}T{end // 60:02d}{end % 60:02d}00\r\nSUMMARY:{title}\r\n"
                "END:VEVENT\r\n")

    def calendar(self, events):
        return ("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Brinemouth//Weeks//EN\r\n" + "".join(events)
                + "END:VCALENDAR\r\n")

    def habits(self):
        c, rest = self.chance, len(self.lines)
        self.lines.append("habits:")
        step = c.choice([5, 5, 5, 1, 2, 3, 7, 10])
        self.maybe(0.4, f"  step: {step} min") if not self.timed else None
        self.maybe(0.2, f"  visits: [{c.choice(['2, 3, 4', '1, 2, 3', '3, 3, 6'])}]")
        self.maybe(0.2, f"  first: [{c.choice(['7 min, 12 min, 20 min', '5 min, 10 min, 10 min'])}]")
        self.maybe(0.2, f"  shares: [{c.choice(['100 %, 70 %', '90 %, 80 %, 33 %'])}]")
        self.maybe(0.3, f"  least_gaps: [{c.choice(['1', '1, 1, 2', '2, 3'])}]")
        self.maybe(0.2, f"  preferred_gaps: [{c.choice(['2', '1, 3', '3, 3, 5'])}]")
        self.maybe(0.4, f"  ready_days: {c.choice([0, 2, 3])} days")
        self.maybe(0.3, f"  fresh_days: {c.choice([4, 7])} days")
        self.maybe(0.3, f"  last_days: {c.choice([2, 4])} days")
        self.maybe(0.3, f"  listening: {c.choice([0, 12, 20])} min")
        self.maybe(0.3, f"  read_through: {c.choice([12, 20])} min")
        self.maybe(0.3, f"  recordings: {c.choice([0, 15])} min")
        self.maybe(0.1, f"  exposed_weight: {c.choice([0, 5])}")
        self.maybe(0.1, f"  visit_values: [{c.choice(['40, 12, 0', '10'])}]")
        if len(self.lines) == rest + 1:
            self.lines.pop()

    def programme(self, k, count):
        c, name = self.chance, ["tide", "thaw", "lantern"][k]
        span = (self.last - self.first) // count
        rehearsal = min(self.last - 1, self.first + span * (k + 1) - c.randrange(1, 4))
        self.lines += [f"  - id: {name}", "    services:",
                       f"      - {{rehearsal: {iso(rehearsal)} 10:00, lasts: 150 min, playing: {c.choice([20, 40, 60])} %}}"]
        if c.random() < 0.4:
            self.lines.append(f"      - {{rehearsal: {iso(rehearsal)} 15:00, lasts: 95 min, travel: 20 min}}")
        concert = min(self.last, rehearsal + c.randrange(3))
        self.lines.append(f"      - {{concert: {iso(concert)} 19:30, lasts: 90 min, playing: 50 %}}")
        self.lines.append("    parts:")
        for j in range(c.choice([1, 1, 2])):
            self.part(["slate", "ferry"][j], self.day(self.first, max(self.first, rehearsal - 8)), rehearsal)
        if c.random() < 0.15:
            rows = ["programme;id;work;arrives;listening;estimate"]
            rows.append(f"{name};gale;Gale;{iso(self.day(self.first, rehearsal - 2))};;{c.choice([20, 44, 60])}")
            rows.append(f"other;none;None;{iso(self.first)};;10")
            self.files[f"{name}.csv"] = "\n".join(rows) + "\n"
            self.lines.append(f"    parts_from: {name}.csv")

    def part(self, name, arrives, rehearsal):
        c, out = self.chance, self.lines
        out += [f"      - id: {name}", f"        arrives: {iso(arrives)}"]
        self.maybe(0.5, f"        listening: {c.choice([0, 13, 20, 30])} min")
        self.maybe(0.5, f"        read_through: {c.choice([13, 20, 30, 41])} min")
        self.maybe(0.3, f"        recordings: {c.choice([0, 10, 18])} min")
        estimated = c.random() < 0.35
        if estimated:
            out.append(f"        estimate: {c.choice([1, 20, 44, 60, 90])} min")
        count = c.choice([0, 1, 2]) if estimated else c.choice([1, 2, 3, 4])
        if count:
            out.append("        passages:")
        for k in range(count):
            out.append(f"          - {{{', '.join(self.passage(k, rehearsal))}}}")

    def passage(self, k, rehearsal):
        c = self.chance
        fields = [f"bars: {10 * k + 1}-{10 * k + 8}"]
        if c.random() < 0.5:
            fields.append(f"hard: {c.choice([1, 2, 3])}")
        if c.random() < 0.3:
            fields.append("exposed: yes")
        if c.random() < 0.25:
            fields.append(f"minutes: {c.choice([3, 8, 13, 22])} min")
        elif c.random() < 0.25:
            fields.append(f"visits: [{c.choice(['15 min, 10 min, 10 min', '20 min, 5 min', '7 min, 7 min, 7 min, 4 min', '10 min'])}]")
        if c.random() < 0.15:
            fields.append(f"due: {iso(self.day(rehearsal - 3, rehearsal + 3))}")
        if c.random() < 0.1:
            fields.append(f"found: {iso(self.day(self.first + 3, rehearsal - 1))}")
        if c.random() < 0.15:
            fields.append("daily: yes")
        return fields

    def shared(self):
        """Services of the orchestra's own calendar, beside those of the programmes."""
        date = self.day(self.first + 8)
        self.files["orchestra.csv"] = (
            f"date,start,lasts,title\n{iso(date)},10:00,120,Tide rehearsal\n{iso(self.day())},,,Tour to the islands\n"
            f"{iso(self.day())},11:00,60,Staff meeting\n")
        self.lines += ["services_from:", "  - file: orchestra.csv", "    rules:",
                       "      - {words: tide, programme: tide}", "      - {words: tour, is: tour}",
                       "      - {words: staff, is: busy}"]
