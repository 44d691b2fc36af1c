"""Invented things from outside a season: calendars, other playing, the orchestra's own services."""

import json

from .values import WEEKDAYS, iso


class Outside:
    """Writes keys and files of an invented season that say what others want of the player."""

    def __init__(self, invented):
        self.season, self.chance = invented, invented.chance

    def busy(self, timed):
        """A calendar of lessons; their time may count as playing, and does where there are no hours."""
        c, season = self.chance, self.season
        fields = ["file: lessons.ics"]
        if c.random() < 0.6:
            fields += [f"before: {c.choice([0, 20])} min", "after: 10 min"]
        if not timed or c.random() < 0.5:
            fields.append(f"playing: {c.choice(['30 %', '45', '100 %'])}")
        if c.random() < 0.3:
            fields.append("whole_days: free")
        if c.random() < 0.3:
            fields.append(f"time_zone: {c.choice(['Europe/London', 'Asia/Tokyo', 'UTC'])}")
        season.lines.append(f"busy: [{{{', '.join(fields)}}}]")
        events = [self.event("Lesson", c.choice([0, 8, 10, 16, 23]), c.choice([45, 60, 95]), self.odd()) for _ in range(4)]
        if c.random() < 0.3:
            events.append(self.whole("Away", c.randrange(1, 3)))
        if c.random() < 0.3:
            events.append(self.event("Pupil", 15, 50, "RRULE:FREQ=WEEKLY;COUNT=3\r\n"))
        season.files["lessons.ics"] = self.calendar(events)

    def odd(self):
        return self.chance.choice([""] * 6 + ["STATUS:CANCELLED\r\n", "TRANSP:TRANSPARENT\r\n"])

    def event(self, title, hour, lasts, more="", date=None):
        date = iso(self.season.day() if date is None else date).replace("-", "")
        zone = self.chance.choice(["", "", "", "Z"])
        number = self.chance.randrange(10**6)
        return (f"BEGIN:VEVENT\r\nUID:{title}-{date}-{number}@brinemouth.example\r\nDTSTAMP:20270101T000000Z\r\n"
                f"DTSTART:{date}T{hour:02d}0000{zone}\r\nDURATION:PT{lasts}M\r\nSUMMARY:{title}\r\n{more}END:VEVENT\r\n")

    def whole(self, title, days):
        first = self.season.day()
        start, end = (iso(d).replace("-", "") for d in (first, first + days))
        return (f"BEGIN:VEVENT\r\nUID:{title}-{start}@brinemouth.example\r\nDTSTAMP:20270101T000000Z\r\n"
                f"DTSTART;VALUE=DATE:{start}\r\nDTEND;VALUE=DATE:{end}\r\nSUMMARY:{title}\r\nEND:VEVENT\r\n")

    def calendar(self, events):
        return ("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Brinemouth//Weeks//EN\r\n" + "".join(events)
                + "END:VCALENDAR\r\n")

    def other_playing(self):
        c, season = self.chance, self.season
        season.lines.append("other_playing:")
        for title in ["Lessons", "Trio", "Chapel"][:c.choice([1, 1, 2, 3])]:
            on = c.choice([c.choice(WEEKDAYS), f"{c.choice(WEEKDAYS)}, {iso(season.day())}", iso(season.day()),
                           season.days()])
            when = c.choice(["at: 15:00-18:00", "at: 09:30-10:15", "lasts: 90 min", "lasts: 1 h 5 min", "lasts: 25"])
            season.lines.append(f"  - {{title: {title}, on: [{on}], {when}, playing: {c.choice([10, 30, 70])} %}}")

    def excused(self):
        c, season = self.chance, self.season
        chosen = c.sample(season.services, min(len(season.services), c.choice([1, 1, 2])))
        until = c.choice(["", "", f"..{iso(season.last)}"])
        rows = ", ".join(f"{{programme: {name}, date: {iso(d)}{until}}}" for name, d in dict.fromkeys(chosen))
        season.lines.append(f"excused: [{rows}]")

    def own(self, name):
        """Services of a programme's own file."""
        c, season = self.chance, self.season
        season.files[f"{name}.ics"] = self.calendar([
            self.event(f"Rehearsal of {name}", 11, 90, self.odd(), season.day(season.rehearsals[name])),
            self.event(f"{name.upper()} performance", 19, 75),
            self.event("Concert of others", 20, 100), self.event(f"Party of {name}", 21, 60)])
        fields = [f"file: {name}.ics", f"containing: {name}"]
        fields += c.choice([[], [f"from: {iso(season.first + 6)}"], [f"to: {iso(season.last - 3)}", "playing: 40 %"],
                            ["travel: 15 min"]])
        season.lines.append(f"    services_from: {{{', '.join(fields)}}}")

    def orchestra(self):
        """Services of the orchestra's own table or calendar, beside those of the programmes."""
        c, season = self.chance, self.season
        name = c.choice([self.table, self.entries])()
        level = c.choice(["", "", ", level: 91.5 dB(A)", ", level: 84"])
        season.lines += ["services_from:", f"  - {name}", "    rules:",
                         f"      - {{words: tide, programme: tide{level}}}", "      - {words: tour, is: tour}",
                         f"      - {{words: [STAFF, meeting], is: busy}}",
                         f"      - {{words: sectional, is: {c.choice(['rehearsal', 'nothing'])}, programme: tide, "
                         f"from: {iso(season.rehearsals['tide'])}, to: {iso(season.last)}}}"]

    def table(self):
        c, season = self.chance, self.season
        mark, way = c.choice([",", ";", "\t"]), c.choice(["iso", "dots", "strokes"])
        first = season.rehearsals["tide"]
        days = [season.day(first - 1)] + [season.day() for _ in range(2)] + [season.day(first)]

        def written(d):
            y, m, day = iso(d).split("-")
            return {"iso": f"{y}-{m}-{day}", "dots": f"{int(day)}.{int(m)}.{y}", "strokes": f"{int(day)}/{int(m)}/{y}"}[way]
        rows = [["Datum", "start", "end", "title", "playing"],
                [written(days[0]), "10:00", "12:00", "Tide rehearsal", c.choice(["", "50 %"])],
                [written(days[1]), "", "", "Tour to the islands", ""],
                [written(days[2]), "11:00", "12:00", "Staff meeting", ""],
                [written(days[3]), "22:30", "00:15", "Sectional", "30"]]
        season.files["orchestra.csv"] = "\n".join(mark.join(row) for row in rows) + "\n"
        more = "\n    dates: day/month/year" if way == "strokes" else ""
        more += c.choice(["", "\n    travel: 25 min", "\n    playing: 80 %"])
        return f"file: orchestra.csv\n    columns: {{date: Datum}}{more}"

    def entries(self):
        c, season = self.chance, self.season
        season.files["orchestra.ics"] = self.calendar([
            self.event("Tide", 10, 150, "CATEGORIES:Rehearsal\r\n", season.day(season.rehearsals["tide"] - 1)),
            self.event("Tide rehearsal", 14, 60, self.odd(), season.day(season.rehearsals["tide"])),
            self.event("Evening concert", 20, 100, "DESCRIPTION:with the Tide tables\r\n", season.last - c.randrange(3)),
            self.event("Staff meeting", 11, 60), self.event("Sectional", 16, 70), self.whole("Tour", 2)])
        return "file: orchestra.ics" + c.choice(["", "\n    time_zone: Europe/Lisbon", "\n    travel: 25 min"])

    def earlier(self):
        """A season that lies behind, with its record; what known_from may say of it."""
        c, first = self.season.chance, self.season.first - self.season.chance.choice([60, 200, 400])
        parts, said, entry = [], [], 0
        for name in ("slate", "ferry", "gale"):
            passages = [f"{{bars: {10 * k + 1}-{10 * k + 8}, hard: {c.randint(1, 3)}{c.choice(['', ', exposed: yes', ', minutes: 13'])}}}"
                        for k in range(c.randrange(4))]
            more = "" if passages and c.random() < 0.7 else f", estimate: {c.choice([20, 44])} min"
            parts.append(f"      - {{id: {name}, arrives: {iso(first)}{more}, passages: [{', '.join(passages)}]}}"
                         if passages else f"      - {{id: {name}, arrives: {iso(first)}{more}}}")
            for k in range(len(passages)):
                key = f"tide/{name}/{10 * k + 1}-{10 * k + 8}"
                for n in range(c.randrange(4)):
                    said.append({"kind": c.choice(["done"] * 5 + ["did-not-hold", "not-done"]), "date": iso(first + 2 + 2 * n),
                                 "session": f"{key}/visit-{n + 1}", "planned": 10, "minutes": c.choice([0, 4, 12, 18])})
                if c.random() < 0.15:
                    said.append({"kind": "not-needed", "date": iso(first + 9), "passage": key})
            if c.random() < 0.3:
                said.append({"kind": "found", "date": iso(first + 4), "part": f"tide/{name}", "bars": "C-D", "hard": c.randint(1, 3)})
            if c.random() < 0.2:
                said.append({"kind": "done", "date": iso(first + 1), "session": f"tide/{name}/read-through", "planned": 30})
        if c.random() < 0.3:
            said.append({"kind": "day-lost", "date": iso(first + c.choice([14, 16]))})
        self.season.files["autumn.yaml"] = "\n".join([
            "title: Autumn", "time_zone: UTC", f"from: {iso(first)}", f"to: {iso(first + 20)}", "instrument: viola",
            f"habits: {{step: {c.choice([5, 5, 3])} min}}", "programmes:", "  - id: tide", "    services:",
            f"      - {{rehearsal: {iso(first + 14)} 10:00, lasts: 150 min}}",
            f"      - {{concert: {iso(first + 16)} 19:30, lasts: 90 min{c.choice(['', ', works: [slate]'])}}}", "    parts:", *parts]) + "\n"
        if c.random() < 0.8:
            lines = [{"format": "primaprova/record/1"}]
            for l in said:
                entry += 1
                lines.append({"entry": entry, "at": "2026-01-01T10:00:00Z", **{k: v for k, v in l.items() if v}})
            self.season.files["autumn.record.jsonl"] = "".join(json.dumps(l) + "\n" for l in lines)
        return c.choice(["autumn.yaml", "{file: autumn.yaml, part: tide/gale}", "{file: autumn.yaml, part: slate}"])
