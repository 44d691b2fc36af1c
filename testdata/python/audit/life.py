"""A season lived by chance: commands over days, each plan judged, each step written down."""

import json
import os
import random
import re
import shutil
import subprocess

from . import faults, lines, shown
from .case import Case, load
from .spoiled import spoil, spoil_shown
from .values import day, iso

PLANNING = ("plan", "late", "why")


class Life:
    """Steps in a folder: commands of the program, and edits of the season file."""

    def __init__(self, program, folder, files):
        self.program, self.folder, self.steps = program, folder, []
        self.plans, self.counts, self.breaches, self.said = 0, {}, [], ""
        for name, text in files.items():
            with open(os.path.join(folder, name), "w", encoding="utf-8", newline="") as f:
                f.write(text)
        self.season = os.path.join(folder, "season.yaml")
        self.plan_path, self.record = (os.path.join(folder, "season." + n) for n in ("plan.json", "record.jsonl"))

    def text(self):
        with open(self.season, encoding="utf-8") as f:
            return f.read()

    def plan(self):
        return load(self.plan_path)

    def do(self, step):
        """A step: a list of arguments, or a pair of texts to replace in the season file."""
        self.steps.append(step)
        if isinstance(step, tuple):
            text = self.text()
            with open(self.season, "w", encoding="utf-8") as f:
                f.write(text.replace(step[0], step[1], 1))
            return 0
        command = step[0]
        if command == "truncate":
            with open(self.record, "r+b") as f:
                f.truncate(int(step[2]))
            return 0
        if command == "append":
            return self.append(step[1])
        before, old = self.plan(), self.snapshot()
        # A season file that its plan stands for may be changed by the command itself.
        done = subprocess.run([self.program] + step, cwd=self.folder, stdin=subprocess.DEVNULL, capture_output=True,
                              text=True, check=False)
        kind = kind_of(step)
        self.counts[kind] = self.counts.get(kind, 0) + 1
        said = self.said = done.stdout + done.stderr
        if done.returncode not in (0, 2, 3, 4) or re.search(r"\b(panic|internal|audit)\b", said):
            self.found(kind, [("crash", f"exit code {done.returncode}: {said[-600:]}")])
        if done.returncode == 2:
            self.counts["refused " + kind] = self.counts.get("refused " + kind, 0) + 1
        now = self.snapshot()
        if "--try" in step and old != now:
            self.found(kind, [("try", "something was written")])
        wrote = "Wrote season.plan.json" in said or old["season.plan.json"] != now["season.plan.json"]
        if command == "record":
            told = lines.judge(old["season.record.jsonl"], now["season.record.jsonl"], before)
            self.found(kind, [("record", text) for text in told]) if told else None
        if done.returncode == 2 and command != "why" and old != now:
            self.found(kind, [("refused", "something was written")])
        if command in PLANNING and done.returncode in (0, 3) and wrote:
            self.judge(kind, step, before)
        return done.returncode

    def tear(self, chance):
        """A power cut takes the last bytes of the record."""
        if os.path.exists(self.record):
            with open(self.record, "rb") as f:
                content = lines.torn(f.read(), chance)
            with open(self.record, "wb") as f:
                f.write(content)
            self.steps.append(["truncate", "-s", str(len(content)), "season.record.jsonl"])

    def append(self, text):
        """Entries made away come into the record."""
        with open(self.record, "a", encoding="utf-8") as f:
            f.write(text)

    def refuse(self, chance):
        """A season file with a fault is refused, and nothing is written."""
        text = self.text()
        wrong, way = faults.faulty(text, chance)
        if wrong is None:
            return
        with open(self.season, "w", encoding="utf-8") as f:
            f.write(wrong)
        old = self.snapshot()
        done = subprocess.run([self.program, "plan", "season.yaml"], cwd=self.folder, stdin=subprocess.DEVNULL,
                              capture_output=True, text=True, check=False)
        self.counts["refused fault"] = self.counts.get("refused fault", 0) + 1
        if done.returncode != 2 or self.snapshot() != old:
            self.found("fault", [("fault", f"{way}: exit code {done.returncode}: {done.stderr[:300]}")])
        with open(self.season, "w", encoding="utf-8") as f:
            f.write(text)

    def snapshot(self):
        out = {}
        for name in ("season.yaml", "season.plan.json", "season.record.jsonl"):
            path = os.path.join(self.folder, name)
            if os.path.exists(path):
                with open(path, "rb") as f:
                    out[name] = f.read()
            else:
                out[name] = None
        return out

    def judge(self, kind, step, before):
        def given(flag, default):
            return step[step.index(flag) + 1] if flag in step else default

        self.plans += 1
        case = Case(self.season, before, self.record, day(given("--today", "")), given("--unrecorded", "done"),
                    given("--learn", "no") == "yes", "--from-today" in step, "--anew" in step,
                    given("--tolerance", "body 2"), int(given("--seed", "1")))
        breaches = case.judge(self.plan())
        # An auditor that notices nothing would agree with everything.
        spoilt, way = spoil(self.plan(), random.Random(len(self.steps)))
        if spoilt and not case.judge(spoilt):
            breaches = breaches + [("unnoticed", f"a plan spoiled: {way}")]
        if breaches:
            self.found(kind, breaches)
            self.keep(before)
        elif len(self.steps) % 3 == 0:
            self.look(case, random.Random(len(self.steps)))

    def look(self, case, chance):
        """What is shown beside the plan."""
        plan, now = self.plan(), dict(os.environ, PRIMAPROVA_TODAY=iso(case.today))
        on = iso(min(case.season.last, max(case.season.first, case.today + chance.randrange(9))))
        for view, judge in (["week", lambda s: shown.judge(case, plan, s)], ["load", lambda s: shown.load(case, s)]):
            step = ["show", view, "season.yaml", "--json"] + (["--on", on] if view == "week" else [])
            done = subprocess.run([self.program] + step, cwd=self.folder, stdin=subprocess.DEVNULL, capture_output=True,
                                  text=True, check=False, env=now)
            self.counts["show " + view] = self.counts.get("show " + view, 0) + 1
            told = json.loads(done.stdout) if done.returncode == 0 else None
            breaches = judge(told) if told else [("crash", done.stderr[-600:])]
            spoilt = spoil_shown(told, case.first) if told else None
            if spoilt and not judge(spoilt):
                breaches = breaches + [("unnoticed", "a tempo or a level of noise that is wrong")]
            if breaches:
                self.found("show " + view, breaches)

    def keep(self, before):
        with open(os.path.join(self.folder, "before.json"), "w", encoding="utf-8") as f:
            json.dump(before, f)
        shutil.copytree(self.folder, self.folder + f".{len(self.steps)}", dirs_exist_ok=True)

    def found(self, kind, breaches):
        self.breaches.append((len(self.steps), kind, breaches))


def kind_of(step):
    for flag in ("--better", "--found", "--no-longer-needed", "--day-lost", "--pain", "--undo", "--lines", "--not-done",
                 "--did-not-hold", "--new", "--off", "--take", "--anew", "--from-today", "--limit"):
        if any(a.split("=")[0] == flag for a in step):
            return f"{step[0]} {flag}"
    return step[0]
