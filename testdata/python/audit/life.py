"""A season lived by chance: commands over days, each plan judged, each step written down."""

import json
import os
import random
import shutil
import subprocess

from .case import Case, load
from .spoiled import spoil
from .values import day

PLANNING = ("plan", "late", "why")


class Life:
    """Steps in a folder: commands of the program, and edits of the season file."""

    def __init__(self, program, folder, files):
        self.program, self.folder, self.steps = program, folder, []
        self.plans, self.counts, self.breaches = 0, {}, []
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
        before, old = self.plan(), self.snapshot()
        # A season file that its plan stands for may be changed by the command itself.
        done = subprocess.run([self.program] + step, cwd=self.folder, stdin=subprocess.DEVNULL, capture_output=True,
                              text=True, check=False)
        kind = kind_of(step)
        self.counts[kind] = self.counts.get(kind, 0) + 1
        said = done.stdout + done.stderr
        if done.returncode not in (0, 2, 3, 4) or "panic" in said or "internal" in said or "audit" in said:
            self.found(kind, [("crash", f"exit code {done.returncode}: {said[-600:]}")])
        if done.returncode == 2:
            self.counts["refused " + kind] = self.counts.get("refused " + kind, 0) + 1
        now = self.snapshot()
        if "--try" in step and old != now:
            self.found(kind, [("try", "something was written")])
        wrote = "Wrote season.plan.json" in said or old["season.plan.json"] != now["season.plan.json"]
        if command in PLANNING and done.returncode in (0, 3) and wrote:
            self.judge(kind, step, before)
        return done.returncode

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
                    given("--tolerance", "body 2"))
        breaches = case.judge(self.plan())
        # An auditor that notices nothing would agree with everything.
        spoilt, way = spoil(self.plan(), random.Random(len(self.steps)))
        if spoilt and not case.judge(spoilt):
            breaches = breaches + [("unnoticed", f"a plan spoiled: {way}")]
        if breaches:
            self.found(kind, breaches)
            self.keep(before)

    def keep(self, before):
        with open(os.path.join(self.folder, "before.json"), "w", encoding="utf-8") as f:
            json.dump(before, f)
        shutil.copytree(self.folder, self.folder + f".{len(self.steps)}", dirs_exist_ok=True)

    def found(self, kind, breaches):
        self.breaches.append((len(self.steps), kind, breaches))


def kind_of(step):
    for flag in ("--found", "--no-longer-needed", "--day-lost", "--pain", "--undo", "--lines", "--not-done",
                 "--did-not-hold", "--new", "--off", "--take", "--anew", "--from-today", "--limit"):
        if any(a.split("=")[0] == flag for a in step):
            return f"{step[0]} {flag}"
    return step[0]
