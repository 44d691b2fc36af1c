"""Judges a plan by docs/meaning.md: a line for each disagreement, exit code 1 if there is one.

    python3 -m audit season.yaml [--today DATE] [--before PLAN] [--plan PLAN] ...

Without --before the plan is judged as a first one; "--before earlier" takes SEASON.plan.earlier.json.
"""

import argparse
import os
import sys

from .case import Case, load
from .values import day


def main():
    ask = argparse.ArgumentParser(prog="audit", description=__doc__.splitlines()[0])
    ask.add_argument("season")
    ask.add_argument("--plan", help="the plan (SEASON.plan.json)")
    ask.add_argument("--before", help="the plan that stood before, or: earlier")
    ask.add_argument("--record", help="the record (SEASON.record.jsonl)")
    ask.add_argument("--today", type=day, help="date taken for today (the season's first)")
    ask.add_argument("--unrecorded", choices=["done", "not-done"], default="done")
    ask.add_argument("--learn", choices=["yes", "no"], default="no")
    ask.add_argument("--from-today", action="store_true")
    ask.add_argument("--anew", action="store_true")
    ask.add_argument("--tolerance", default="body 2")
    ask.add_argument("--seed", type=int, default=1)
    given = ask.parse_args()
    stem = os.path.splitext(given.season)[0]
    before = stem + ".plan.earlier.json" if given.before == "earlier" else given.before
    case = Case(given.season, load(before), given.record or stem + ".record.jsonl", given.today, given.unrecorded,
                given.learn == "yes", given.from_today, given.anew, given.tolerance, given.seed)
    breaches = case.judge(load(given.plan or stem + ".plan.json"))
    for rule, text in breaches:
        print(f"{rule}: {text}")
    sys.exit(1 if breaches else 0)


main()
