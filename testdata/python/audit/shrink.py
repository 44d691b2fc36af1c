"""Makes the life of a seed as short as a disagreement lets it be, and writes it to a folder.

    python3 -m audit.shrink --program bin/primaprova --seed 12 --rule today [--text WORDS] [--steps N] FOLDER

First steps are left out, then lines of the season file, as long as there is a disagreement of that
rule with those words.
"""

import argparse
import os
import random
import shutil
import tempfile

from .campaign import lived, script
from .invented import Invented
from .life import Life


def tried(program, files, steps, rule, words):
    """The texts of the disagreements looked for, after these steps."""
    with tempfile.TemporaryDirectory() as folder:
        home = os.path.join(folder, "season")
        os.mkdir(home)
        life = Life(program, home, files)
        try:
            for step in steps:
                life.do(step)
        except (ValueError, KeyError, TypeError, AttributeError):
            return []
        return [f"{r}: {t}" for _, _, all_of in life.breaches for r, t in all_of if r == rule and words in t]


def fewer(things, holds):
    """As few of them as keep holds true: halves first, then smaller pieces, then one by one."""
    size = max(1, len(things) // 2)
    while True:
        k = 0
        while k < len(things):
            rest = things[:k] + things[k + size:]
            if holds(rest):
                things = rest
            else:
                k += size
        if size == 1:
            return things
        size = max(1, size // 2)


def main():
    ask = argparse.ArgumentParser(prog="shrink", description=__doc__.splitlines()[0])
    ask.add_argument("--program", required=True)
    ask.add_argument("--seed", type=int, required=True)
    ask.add_argument("--rule", required=True)
    ask.add_argument("--text", default="")
    ask.add_argument("--steps", type=int, default=12)
    ask.add_argument("folder")
    given = ask.parse_args()
    program = os.path.abspath(shutil.which(given.program) or given.program)
    with tempfile.TemporaryDirectory() as folder:
        os.mkdir(os.path.join(folder, "season"))
        life = lived(given.seed, program, os.path.join(folder, "season"), given.steps)
        last = next(k for k, _, all_of in life.breaches if any(r == given.rule and given.text in t for r, t in all_of))
    files, steps = Invented(random.Random(given.seed)).files, life.steps[:last]
    steps = fewer(steps, lambda s: tried(program, files, s, given.rule, given.text))

    def holds(lines):
        return tried(program, dict(files, **{"season.yaml": "\n".join(lines) + "\n"}), steps, given.rule, given.text)

    lines = fewer(files["season.yaml"].splitlines(), holds)
    steps = fewer(steps, lambda s: tried(program, dict(files, **{"season.yaml": "\n".join(lines) + "\n"}), s,
                                         given.rule, given.text))
    files["season.yaml"] = "\n".join(lines) + "\n"
    said = tried(program, files, steps, given.rule, given.text)
    os.makedirs(given.folder, exist_ok=True)
    for name, text in files.items():
        with open(os.path.join(given.folder, name), "w", encoding="utf-8", newline="") as f:
            f.write(text)
    life.steps = steps
    with open(os.path.join(given.folder, "commands.sh"), "w", encoding="utf-8") as f:
        f.write(script(life))
    with open(os.path.join(given.folder, "said.txt"), "w", encoding="utf-8") as f:
        f.write("\n".join(said) + "\n")
    print("\n".join(said), files["season.yaml"], script(life), sep="\n")


main()
